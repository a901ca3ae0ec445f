// References and highlights: every place that speaks of the thing at the mark, in the file and in others.
import { describe, expect, test } from 'vitest';
import { definition } from '../../../server/features/definition.ts';
import { highlights } from '../../../server/features/highlights.ts';
import { namesOf } from '../../../server/features/occurrences.ts';
import { references } from '../../../server/features/references.ts';
import { at, snapshotOf } from '../../kit/feature.ts';

/** Each place as `file line: text of the line`, the lines counted from 1. */
async function found(marked: string, withDeclaration = true): Promise<readonly string[]> {
  const { names, files, offset } = await at(marked);
  return references(names, 'plant.plant', offset, withDeclaration).map(({ path, start }) => {
    const before = (files.get(path) ?? '').slice(0, start).split('\n');
    const line = (files.get(path) ?? '').split('\n')[before.length - 1];
    return `${path === 'plant.plant' ? '' : `${path} `}${before.length}:${before.at(-1)!.length} ${line}`;
  });
}

const plant = `plant P { altitude = 5 m }
use "parts.plant" as range
let peak = 40 kW
battery B1 is range.String { strings = 2 }
converter K1 is range.List.big
connect K1 -> B1
duty d { discharge = peak for 5 min, at = B1 }
case cold { B1.temperature = 5 °C, K1.ac_current = 2 * K1.ac_current }
case worse is cold { B1.temperature = 0 °C }
require B1.current during d <= 40 A
accept battery_current on B1 because "so"
--- parts.plant
part battery String { strings = 1 }
part battery Other is String { strings = 3 }
catalogue converter List {
  big { ac_current = 40 A }
}
--- other.plant
use "parts.plant"
battery X is String
converter Y is List.big
`;
const marked = (word: string, nth = 1): string => {
  let from = -1;
  for (let count = 0; count < nth; count += 1) from = plant.indexOf(word, from + 1);
  return `${plant.slice(0, from + 1)}‸${plant.slice(from + 1)}`;
};

describe('references', () => {
  test('of a tag: chain, properties, cases, requirements, acceptances', async () => {
    expect(await found(marked('B1'))).toEqual([
      '4:8 battery B1 is range.String { strings = 2 }',
      '6:14 connect K1 -> B1',
      '7:42 duty d { discharge = peak for 5 min, at = B1 }',
      '8:12 case cold { B1.temperature = 5 °C, K1.ac_current = 2 * K1.ac_current }',
      '9:21 case worse is cold { B1.temperature = 0 °C }',
      '10:8 require B1.current during d <= 40 A',
      '11:26 accept battery_current on B1 because "so"',
    ]);
  });

  test('without the declaration', async () => {
    expect(await found(marked('peak'), false)).toEqual(['7:21 duty d { discharge = peak for 5 min, at = B1 }']);
  });

  test('of a part: in its file and in every file that uses it, with and without alias', async () => {
    expect(await found(marked('String'))).toEqual([
      '4:20 battery B1 is range.String { strings = 2 }',
      'other.plant 2:13 battery X is String',
      'parts.plant 1:13 part battery String { strings = 1 }',
      'parts.plant 2:22 part battery Other is String { strings = 3 }',
    ]);
  });

  test('of a row of a catalogue, of the catalogue, of an alias', async () => {
    expect(await found(marked('big'))).toEqual([
      '5:27 converter K1 is range.List.big',
      'other.plant 3:20 converter Y is List.big',
      'parts.plant 4:2   big { ac_current = 40 A }',
    ]);
    expect(await found(marked('List'))).toHaveLength(3);
    expect(await found(marked('range'))).toEqual([
      '2:21 use "parts.plant" as range',
      '4:14 battery B1 is range.String { strings = 2 }',
      '5:16 converter K1 is range.List.big',
    ]);
  });

  test('of duties and cases', async () => {
    expect(await found(marked('duty d').replace('d‸uty d', 'duty d‸'))).toEqual([
      '7:5 duty d { discharge = peak for 5 min, at = B1 }',
      '10:26 require B1.current during d <= 40 A',
    ]);
    expect(await found(marked('cold'))).toEqual([
      '8:5 case cold { B1.temperature = 5 °C, K1.ac_current = 2 * K1.ac_current }',
      '9:14 case worse is cold { B1.temperature = 0 °C }',
    ]);
  });

  test('of a fact: where cases restate it and expressions read it', async () => {
    expect(await found(marked('ac_current'))).toEqual([
      '8:38 case cold { B1.temperature = 5 °C, K1.ac_current = 2 * K1.ac_current }',
      '8:58 case cold { B1.temperature = 5 °C, K1.ac_current = 2 * K1.ac_current }',
    ]);
  });

  test('of a file: all that use it', async () => {
    expect(await found(marked('parts.plant'))).toEqual([
      '2:4 use "parts.plant" as range',
      'other.plant 1:4 use "parts.plant"',
    ]);
  });

  test('a choice is no name, even where a let has the same', async () => {
    expect(await found('let cop‸per = 3 V\ncable W { conductor = copper }\n')).toEqual(['1:4 let copper = 3 V']);
  });

  test('of nothing there are none', async () => {
    expect(await found('‸\n')).toEqual([]);
    expect(await found('let a = no‸thing\n')).toEqual([]);
  });
});

test('highlights: where a case restates a fact it is written, elsewhere read', async () => {
  const { context, offset, text } = await at(marked('ac_current'));
  expect(highlights(context, offset).map(({ access, place }) => [access, text.slice(place.start, place.end)])).toEqual([
    ['write', 'ac_current'],
    ['read', 'ac_current'],
  ]);
});

test('a text that stays as it is speaks of something else once a file behind it does', () => {
  const files = snapshotOf(
    new Map([
      ['plant.plant', 'use "middle.plant"\nuse "near.plant"\nbattery B1 is S\n'],
      ['middle.plant', 'use "far.plant"\nlet peak = 40 kW\n'],
      ['near.plant', 'part battery S { strings = 2 }\n'],
      ['far.plant', 'let further = 3 V\n'],
    ]),
  ).files;
  const template = (changed: Record<string, string>) => {
    const now = { files: new Map([...files, ...snapshotOf(new Map(Object.entries(changed))).files]) };
    const found = namesOf(now)
      .occurrencesIn('plant.plant')
      .filter(({ named }) => named.name === 'S');
    return found.map(({ named }) => `${named.sort} of ${named.path}`);
  };
  expect(template({})).toEqual(['part of near.plant']);
  expect(template({ 'near.plant': 'part battery T { strings = 2 }\n' })).toEqual([]);
  expect(template({ 'middle.plant': 'part battery S { strings = 3 }\n' })).toEqual(['part of middle.plant']);
  expect(template({ 'near.plant': 'catalogue battery S { }\n' })).toEqual(['catalogue of near.plant']);
  expect(template({})).toEqual(['part of near.plant']);
});

describe('definition', () => {
  const target = async (source: string) => {
    const { context, offset, files } = await at(source);
    const place = definition(context, offset)?.target;
    return place && [place.path, files.get(place.path)?.slice(0, place.start).split('\n').length];
  };

  test('of a row, of a case, of a practice', async () => {
    expect(await target(marked('big'))).toEqual(['parts.plant', 4]);
    expect(await target(marked('cold', 2))).toEqual(['plant.plant', 8]);
    expect(await target('practice H { ripple = 5 % }\nplant P { follows = ‸H }\n')).toEqual(['plant.plant', 1]);
  });

  test('of a fact: the property, also where a part or a row states it', async () => {
    const own = 'battery B1 { strings = 2 }\ncase c {\n  B1.str‸ings = 3\n}\n';
    expect(await target(own)).toEqual(['plant.plant', 1]);
    expect(await target(marked('ac_current'))).toEqual(['parts.plant', 4]);
    const inherited =
      'use "p.plant"\nbattery B1 is S\nrequire B1.stri‸ngs > 1\n--- p.plant\n\npart battery S { strings = 2 }\n';
    expect(await target(inherited)).toEqual(['p.plant', 2]);
  });
});
