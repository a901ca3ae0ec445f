// Rename: the new name everywhere, and nothing else changes; what would change more is refused.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Analysis } from '../../../engine/analysis.ts';
import { analyze } from '../../../engine/analyze.ts';
import { namesOf, type Occurrence } from '../../../server/features/occurrences.ts';
import { prepareRename, rename } from '../../../server/features/rename.ts';
import { at, snapshotOf, withEdits } from '../../kit/feature.ts';
import { starter } from '../../kit/starter.ts';

async function renamedTo(name: string, marked: string): Promise<string> {
  const { names, files, offset } = await at(marked);
  const renaming = rename(names, 'plant.plant', offset, name);
  if (!renaming.ok) return renaming.why;
  const after = withEdits(files, renaming.edits);
  return [...after].map(([path, text]) => (path === 'plant.plant' ? text : `--- ${path}\n${text}`)).join('');
}

describe('renames', () => {
  test('a tag in all its places', async () => {
    const text = 'grid MAIN { voltage = 400 V }\nbus X {}\nconnect MA‸IN -> X\ncase c { MAIN.voltage = 380 V }\n';
    expect(await renamedTo('NET', text)).toBe(
      'grid NET { voltage = 400 V }\nbus X {}\nconnect NET -> X\ncase c { NET.voltage = 380 V }\n',
    );
  });

  test('a part and a row from one of the files that use them', async () => {
    const parts = '--- p.plant\npart battery S { strings = 2 }\ncatalogue converter L {\n  a { ac_current = 4 A }\n}\n';
    expect(await renamedTo('T', `use "p.plant" as x\nbattery B is x.‸S\n${parts}`)).toBe(
      `use "p.plant" as x\nbattery B is x.T\n${parts.replace('S {', 'T {')}`,
    );
    expect(await renamedTo('b', `use "p.plant"\nconverter K is L.‸a\n${parts}`)).toBe(
      `use "p.plant"\nconverter K is L.b\n${parts.replace('a { ac', 'b { ac')}`,
    );
  });

  test('an alias, with all that is read through it', async () => {
    const parts = '--- p.plant\nlet v = 3 V\n';
    expect(await renamedTo('y', `use "p.plant" as ‸x\nlet w = x.v\n${parts}`)).toBe(
      `use "p.plant" as y\nlet w = y.v\n${parts}`,
    );
  });

  test('to the name that it has: nothing happens', async () => {
    expect(await renamedTo('a', 'let ‸a = 3 V\n')).toBe('let a = 3 V\n');
  });

  test('letters of any script, in one normal form', async () => {
    expect(await renamedTo('Spannung_mit_U\u0308berhöhung', 'let ‸a = 3 V\n')).toBe(
      'let Spannung_mit_Überhöhung = 3 V\n',
    );
  });
});

describe('refuses', () => {
  test.each([
    ['a keyword', 'grid', 'let ‸a = 3 V\n', 'word of the language'],
    ['what is no name', '2x', 'let ‸a = 3 V\n', 'letters, digits and _'],
    ['nothing at all', ' ', 'let ‸a = 3 V\n', 'letters, digits and _'],
    ['a name that the file has', 'b', 'let ‸a = 3 V\nlet b = 4 V\n', 'taken already: a let'],
    ['a row that the catalogue has', 'b', 'catalogue converter L {\n  ‸a {}\n  b {}\n}\n', 'taken already: a row'],
  ])('%s', async (_, name, text, why) => {
    expect(await renamedTo(name, text)).toContain(why);
  });

  test('a name that a file which uses it has for something else', async () => {
    const text = 'let ‸a = 3 V\n--- user.plant\nuse "plant.plant"\nlet b = 4 V\nlet c = a\n';
    expect(await renamedTo('b', text)).toContain('`b` is taken already: a let in `user.plant`');
  });

  test('a name that two used files would bring in', async () => {
    const text =
      'let ‸a = 3 V\n--- q.plant\nlet b = 4 V\n--- user.plant\nuse "plant.plant"\nuse "q.plant"\nlet c = b\n';
    expect(await renamedTo('b', text)).toMatch(/something else|collide/);
  });

  test('a name under which something unknown would be found', async () => {
    expect(await renamedTo('b', 'let ‸a = 3 V\nlet c = b\n')).toContain('something else');
  });

  test('properties, results, kinds and files', async () => {
    const prepared = async (text: string) => {
      const { names, offset } = await at(text);
      return prepareRename(names, 'plant.plant', offset);
    };
    expect(await prepared('grid MAIN { volt‸age = 400 V }\n')).toMatchObject({ ok: false });
    expect(await prepared('gr‸id MAIN { voltage = 400 V }\n')).toMatchObject({ ok: false });
    expect(await prepared('use "p.pl‸ant"\n--- p.plant\nlet a = 3 V\n')).toMatchObject({ ok: false });
    expect(await prepared('grid MA‸IN { voltage = 400 V }\n')).toMatchObject({ ok: true, name: 'MAIN' });
  });
});

const plants = ['valley-station.plant', 'first-draft.plant'];
const files = starter(plants[0]!);
const names = namesOf(snapshotOf(files));
const own: readonly Occurrence[] = [...files.keys()]
  .flatMap(path => names.occurrencesIn(path))
  .filter(({ named, place }) => prepareRename(names, place.path, place.start).ok && named.sort !== 'file');

describe('after a rename everything is as it was, but for the name', () => {
  const before = plants.map(path => told(files, path));
  const things = [...new Map(own.map(one => [one.named.key, one])).values()];

  test('the starter has names of every sort', () => {
    const sorts = new Set(things.map(({ named }) => named.sort));
    expect([...sorts].sort()).toEqual(
      ['alias', 'case', 'catalogue', 'component', 'duty', 'let', 'part', 'plant', 'practice', 'row'].sort(),
    );
  });

  test.each(things.map(one => [one.named.sort, one.named.name, one] as const))('%s %s', (_, name, { place }) => {
    const fresh = 'Zq7x';
    const renaming = rename(names, place.path, place.start, fresh);
    if (!renaming.ok) throw new Error(renaming.why);
    const after = withEdits(files, renaming.edits);
    expect([...after].some(([path, text]) => text !== files.get(path))).toBe(true);
    // Named back, so that only a change of meaning is left to see.
    expect(plants.map(path => told(after, path).replaceAll(fresh, name))).toEqual(before);
  });
});

test('a name that stands elsewhere in the text is refused, or harmless', () => {
  const words = [...new Set([...files.values()].join(' ').match(/[\p{L}_][\p{L}\d_]*/gu))];
  const shape = (texts: ReadonlyMap<string, string>) => numbers(analysis(texts, plants[0]!));
  const before = shape(files);
  let done = 0;
  fc.assert(
    fc.property(fc.constantFrom(...own), fc.constantFrom(...words), ({ place }, word) => {
      const renaming = rename(names, place.path, place.start, word);
      if (!renaming.ok) return;
      done += 1;
      expect(shape(withEdits(files, renaming.edits))).toEqual(before);
    }),
    { numRuns: 50, seed: 20 },
  );
  expect(done).toBeGreaterThan(10);
});

function analysis(texts: ReadonlyMap<string, string>, path: string): Analysis {
  return analyze(path, snapshotOf(texts), { today: '2026-11-25' });
}

/** All that an analysis says, with the text instead of the offsets. */
function told(texts: ReadonlyMap<string, string>, path: string): string {
  const { findings, values, plant, picks } = analysis(texts, path);
  const lines = findings.map(({ code, severity, message, subject, place }) => {
    return [code, severity, message, subject, place.path, texts.get(place.path)?.slice(place.start, place.end)];
  });
  const rows = values.names.map(name => [name, values.worst(name)?.value, values.worst(name)?.point]);
  return JSON.stringify([plant, lines, rows, picks], null, 1);
}

function numbers({ findings, values }: Analysis) {
  return [findings.map(({ code, severity }) => [code, severity]), values.names.map(name => values.worst(name)?.value)];
}
