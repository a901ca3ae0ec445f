// `use`: what a file brings in, what goes wrong with it, and where a mistake in it shows.
import { describe, expect, it } from 'vitest';
import type { FileState } from '../../../engine/analysis.ts';
import { analyze } from '../../../engine/analyze.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { parse } from '../../../grammar/parse.ts';
import { mistakesIn, notesIn } from '../../kit/mistakes.ts';
import { analysed, complaints, type Edit, edited } from '../../kit/plants.ts';

const library = `#### parts/library.plant
part filter Choke { converter_inductance = 100 µH, capacitance = 300 µF, damping_resistance = 60 mΩ }
let size = 500 kVA
catalogue converter Range { k550 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz } }
practice OurRules { transformer_spare = 4 % }
`;

const filterIs = (path: string): Edit => [
  'filter F1 {\n  converter_inductance = 100 µH\n  capacitance = 300 µF\n  damping_resistance = 60 mΩ\n}',
  `filter F1 is ${path}`,
];
const converterIs = (path: string): Edit => [
  'converter K1 {\n  ac_current = 850 A\n  dc_voltage = 550 V .. 850 V\n  switching_frequency = 4 kHz\n}',
  `converter K1 is ${path}`,
];
const sized = (path: string): Edit => ['rated_power = 500 kVA', `rated_power = ${path}`];
const follows = (path: string): Edit => ['follows = HouseRules', `follows = ${path}`];

const plant = (use: string, edits: readonly Edit[] = [], others = library) =>
  `${use}\n${edited(soundExample, ...edits)}\n${others}`;
const mistakes = (use: string, edits: readonly Edit[] = [], others = library) => mistakesIn(plant(use, edits, others));
const messages = (use: string, edits: readonly Edit[] = [], others = library) =>
  complaints(analysed(plant(use, edits, others))).map(finding => finding.message);

describe('what it brings in', () => {
  it('is bare', () => {
    const edits = [filterIs('Choke'), converterIs('Range.k550'), sized('size'), follows('OurRules')];
    expect(mistakes('use "parts/library.plant"', edits)).toEqual([]);
  });

  it('stands behind its alias', () => {
    const edits = [filterIs('lib.Choke'), converterIs('lib.Range.k550'), sized('lib.size'), follows('lib.OurRules')];
    expect(mistakes('use "parts/library.plant" as lib', edits)).toEqual([]);
  });

  it('is nothing further', () => {
    const between = `#### between.plant\nuse "parts/library.plant"\npart filter Small is Choke { capacitance = 200 µF }\n${library}`;
    expect(mistakes('use "between.plant"', [filterIs('Small')], between)).toEqual([]);
    expect(mistakes('use "between.plant"', [filterIs('Choke')], between)).toEqual(['unknown_name at "Choke"']);
  });

  it('is found wherever the use stands', () => {
    expect(mistakesIn(`${edited(soundExample, sized('size'))}\nuse "parts/library.plant"\n${library}`)).toEqual([]);
  });

  it.each<[string, string, Edit, string]>([
    ['without its alias', 'use "parts/library.plant" as lib', filterIs('Choke'), 'did you mean `lib.Choke`?'],
    ['with an alias that it has not', 'use "parts/library.plant"', filterIs('lib.Choke'), 'did you mean `Choke`?'],
    ['behind a misspelt alias', 'use "parts/library.plant" as lib', sized('lub.size'), 'did you mean `lib.size`?'],
    ['misspelt behind its alias', 'use "parts/library.plant" as lib', sized('lib.siez'), 'did you mean `lib.size`?'],
    [
      'misspelt as practice',
      'use "parts/library.plant" as lib',
      follows('lib.OurRule'),
      'did you mean `lib.OurRules`?',
    ],
  ])('%s gets the right path', (_, use, edit, hint) => {
    expect(mistakes(use, [edit])).toHaveLength(1);
    expect(messages(use, [edit])[0]).toContain(hint);
  });
});

describe('a collision', () => {
  const other = `#### other.plant\nlet size = 1 V\npart filter Choke { capacitance = 5 µF }\n${library}`;

  it.each([
    ['of two files', 'use "other.plant"\nuse "parts/library.plant"', other],
    ['of two aliases', 'use "other.plant" as lib\nuse "parts/library.plant" as lib', other],
    ['with a name of this file', 'let size = 1 V\nuse "parts/library.plant"', library],
    ['of an alias with a tag', 'use "parts/library.plant" as T1', library],
    ['of a file with itself', 'use "parts/library.plant"\nuse "parts/library.plant"', library],
  ])('%s is an error at the second use', (_, use, others) => {
    expect(mistakes(use, [], others)).toEqual(['duplicate at ""parts/library.plant""']);
  });

  it('is avoided by an alias', () => {
    expect(mistakes('use "other.plant"\nuse "parts/library.plant" as lib', [], other)).toEqual([]);
  });
});

describe('a file that cannot be used', () => {
  const all = [filterIs('Choke'), sized('size'), follows('OurRules')];
  const behind = [filterIs('lib.Choke'), sized('lib.size'), follows('lib.OurRules')];

  it.each([
    ['nope.plant', 'missing_file'],
    ['parts', 'missing_file'],
    ['', 'missing_file'],
    ['../nope.plant', 'outside_workspace'],
    ['parts/../../nope.plant', 'outside_workspace'],
    ['/nope.plant', 'outside_workspace'],
    ['https://example.org/nope.plant', 'outside_workspace'],
  ])('%s is one mistake, whatever was wanted from it', (path, code) => {
    expect(mistakes(`use "${path}"`, all)).toEqual([`${code} at ""${path}""`]);
    expect(mistakes(`use "${path}" as lib`, behind)).toEqual([`${code} at ""${path}""`]);
  });

  it.each<[FileState, string]>([
    [{ state: 'outside' }, 'outside_workspace'],
    [{ state: 'unreadable', reason: 'it is locked' }, 'missing_file'],
  ])('%j is one mistake too', (state, code) => {
    const files = new Map<string, FileState>([
      ['plant.plant', { state: 'text', tree: parse(`use "x.plant"\n${edited(soundExample, ...all)}`) }],
      ['x.plant', state],
    ]);
    const { findings } = analyze('plant.plant', { files }, { today: undefined });
    expect(findings.filter(({ severity }) => severity === 'error').map(finding => finding.code)).toEqual([code]);
  });

  it('holds a plant', () => {
    const other = '#### other.plant\nplant Other { altitude = 5 m }\npart filter Choke { capacitance = 5 µF }\n';
    expect(mistakes('use "other.plant"', [filterIs('Choke')], other)).toEqual(['wrong_value at ""other.plant""']);
  });

  it('holds components, which stay out', () => {
    const other = '#### other.plant\ngrid OTHER { voltage = 400 V ± 10 %, frequency = 50 Hz }\n';
    expect(mistakes('use "other.plant"', [], other)).toEqual(['wrong_value at ""other.plant""']);
  });

  it('is named by a text that is not finished', () => {
    expect(mistakes('use', all)).toEqual(['syntax at "use"']);
    expect(mistakes('use "parts/library.plant', all)).toEqual(['syntax at ""parts/library.plant"']);
  });

  it('comes from a package: a note, and silence', () => {
    const found = analysed(plant('use "@team/parts/library.plant"', all));
    expect(complaints(found)).toEqual([]);
    expect(notesIn(found, 'not_evaluated')).toContain('not_evaluated at ""@team/parts/library.plant""');
  });
});

describe('files that use each other', () => {
  it('in a circle are told once, where the circle closes', () => {
    const circle = '#### a.plant\nuse "b.plant"\nlet a = 5 V\n#### b.plant\nuse "a.plant"\nlet b = 5 V\n';
    expect(mistakes('use "a.plant"', [], circle)).toEqual(['b.plant: cycle at ""a.plant""']);
  });

  it('are told when it is one and the same', () => {
    expect(mistakes('use "plant.plant"')).toEqual(['cycle at ""plant.plant""']);
  });
});

describe('a mistake in a used file', () => {
  const flawed = library.replace('300 µF', '300 µH');

  it('is shown there, once, and noted at the use', () => {
    const found = analysed(plant('use "parts/library.plant"', [filterIs('Choke')], flawed));
    expect(complaints(found)).toHaveLength(1);
    expect(mistakes('use "parts/library.plant"', [filterIs('Choke')], flawed)).toEqual([
      'parts/library.plant: wrong_dimension at "300 µH"',
    ]);
    expect(notesIn(found, 'syntax')).toEqual(['syntax at ""parts/library.plant""']);
  });

  it('is shown where nobody uses the part', () => {
    expect(mistakes('use "parts/library.plant"', [], flawed)).toEqual([
      'parts/library.plant: wrong_dimension at "300 µH"',
    ]);
  });

  it('is noted at every use on the way', () => {
    const found = analysed(
      plant('use "between.plant"', [], `#### between.plant\nuse "parts/library.plant"\n${flawed}`),
    );
    expect(notesIn(found, 'syntax')).toEqual([
      'syntax at ""between.plant""',
      'between.plant: syntax at ""parts/library.plant""',
    ]);
  });

  it.each([
    ['a part without `part`', 'part filter', 'filter', 'wrong_value at ""parts/library.plant""'],
    ['a part without kind', 'part filter Choke', 'part Choke', 'parts/library.plant: syntax at "Choke"'],
    ['a part without name', 'part filter Choke', 'part filter', 'parts/library.plant: syntax at "filter"'],
    ['a catalogue without name', 'converter Range', 'converter', 'parts/library.plant: syntax at "converter"'],
    ['a row without name', '{ k550 {', '{ {', 'parts/library.plant: syntax at "{"'],
    ['a let without name', 'let size', 'let', 'parts/library.plant: syntax at "let"'],
    ['a practice without name', 'practice OurRules', 'practice', 'parts/library.plant: syntax at "practice"'],
  ])('%s is one mistake', (_, from, to, expected) => {
    const edits = [filterIs('Choke'), converterIs('Range.k550'), sized('size'), follows('OurRules')];
    expect(mistakes('use "parts/library.plant"', edits, edited(library, [from, to]))).toEqual([expected]);
  });
});
