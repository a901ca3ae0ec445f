// Where a cursor stands, on text that is being written. The cursor is ¦.

import { describe, expect, it } from 'vitest';
import { contextAt } from '../../grammar/context.ts';
import { parse } from '../../grammar/parse.ts';
import { samples } from './samples.ts';

function at(marked: string) {
  const offset = marked.indexOf('¦');
  const text = marked.slice(0, offset) + marked.slice(offset + 1);
  const { place, prefix, replace } = contextAt(parse(text), offset);
  return { place, prefix, replaced: text.slice(replace.start, replace.end) };
}

const cases: Record<string, [text: string, place: Record<string, unknown>, prefix?: string]> = {
  'in an empty file': ['¦', { where: 'top' }],
  'in the first word of a line': ['bus A\ngri¦', { where: 'top' }, 'gri'],
  'on a blank line between declarations': ['bus A {}\n\n¦\n\nbus B {}\n', { where: 'top' }],
  'behind a block': ['bus A { }\n  ¦', { where: 'top' }],
  'behind part': ['part ¦', { where: 'kind', after: 'part' }],
  'behind catalogue': ['catalogue con¦', { where: 'kind', after: 'catalogue' }, 'con'],
  'behind a kind': ['grid ¦', { where: 'name', head: 'grid' }],
  'behind the kind of a part': ['part battery L¦', { where: 'name', head: 'battery' }, 'L'],
  'behind a name': ['battery B1 ¦', { where: 'head', head: 'battery' }],
  'behind is': ['battery B1 is ¦', { where: 'base', kind: 'battery', pick: false, path: [] }],
  'behind is, in a path': ['part fuse F is a.b¦', { where: 'base', kind: 'fuse', pick: false, path: ['a'] }, 'b'],
  'behind pick': ['converter K1 is pick range.¦', { where: 'base', kind: 'converter', pick: true, path: ['range'] }],
  'in an empty block': ['grid MAIN {¦', { where: 'property', kind: 'grid', path: [], present: [] }],
  'on a new line of a block': [
    'grid MAIN {\n  voltage = 400 V\n  fre¦\n  x_over_r = 5\n}',
    { where: 'property', kind: 'grid', path: [], present: ['voltage', 'x_over_r'] },
    'fre',
  ],
  'behind a comma in a block': [
    'cable W1 { length = 3 m, ¦ }',
    { where: 'property', kind: 'cable', path: [], present: ['length'] },
  ],
  'in the name of a property that is there': [
    'cable W1 { len¦gth = 3 m, parallel = 2 }',
    { where: 'property', kind: 'cable', path: [], present: ['parallel'] },
    'len',
  ],
  'in the block of a part': ['part battery L {\n  ¦\n}', { where: 'property', kind: 'battery', path: [], present: [] }],
  'behind =': ['cable W1 { conductor = ¦ }', { where: 'value', kind: 'cable', property: 'conductor', empty: true }],
  'in a value': [
    'cable W1 { conductor = co¦',
    { where: 'value', kind: 'cable', property: 'conductor', empty: true },
    'co',
  ],
  'behind a value': [
    'cable W1 { length = 3 m ¦ }',
    { where: 'value', property: 'length', empty: false, complete: true },
  ],
  'behind an operator': ['cable W1 { length = 3 m + ¦ }', { where: 'value', empty: false, complete: false }],
  'in a path of a value': ['grid M {\n  x = range.Air¦\n}', { where: 'value', property: 'x', path: ['range'] }, 'Air'],
  'in the arguments of a function': ['grid M { x = max(1 V, ¦ }', { where: 'value', property: 'x', complete: false }],
  'behind a number': ['grid M { voltage = 400 ¦', { where: 'unit', kind: 'grid', property: 'voltage', number: '400' }],
  'in a unit': ['grid M { voltage = 400 k¦', { where: 'unit', property: 'voltage', number: '400' }, 'k'],
  'behind per': ['grid M { x = 4 V per ¦', { where: 'value', property: 'x', complete: false }],
  'behind from': ['grid M { x = 4 V from ¦', { where: 'text' }],
  'in a text': ['grid M { x = 4 V from "le¦tter" }', { where: 'text' }, 'le'],
  'in a comment': ['grid M { # wh¦y', { where: 'comment' }, ''],
  'in the axes of a curve': ['fuse F { melting = curve cu¦', { where: 'value', property: 'melting' }, 'cu'],
  'in the points of a curve': ['fuse F { melting = curve current { 1 A ¦', { where: 'points', property: 'melting' }],
  'behind a number of a curve': [
    'fuse F {\n  melting = curve current log {\n    1 ¦\n',
    { where: 'unit', kind: 'fuse', property: 'melting', number: '1' },
  ],
  'behind a curve': [
    'fuse F { melting = curve current { 1 A 2 s } ¦',
    { where: 'value', property: 'melting', complete: true },
  ],
  'below a curve': [
    'fuse F {\n  melting = curve current {\n    1 A 2 s\n  }\n  ¦\n}',
    { where: 'property', kind: 'fuse', present: ['melting'] },
  ],
  'in a catalogue': ['catalogue fuse X {\n  ¦\n}', { where: 'row', kind: 'fuse' }],
  'in a row of a catalogue': [
    'catalogue fuse X {\n  a { rated_current = 1 A, ¦ }\n  b { class = gG }\n}',
    { where: 'property', kind: 'fuse', present: ['rated_current'] },
  ],
  'in a unit of a row': ['catalogue fuse X {\n  a { rated_current = 1 ¦', { where: 'unit', kind: 'fuse', number: '1' }],
  'in the quotes of use': ['use "parts/¦"', { where: 'path', quoted: true }, 'parts/'],
  'in quotes of use without end': ['use "¦', { where: 'path', quoted: true }],
  'behind use': ['use ¦', { where: 'path', quoted: false }],
  'behind the path of use': ['use "a" ¦', { where: 'head', head: 'use' }],
  'behind as': ['use "a" as ¦', { where: 'name', head: 'as' }],
  'behind let': ['let ¦', { where: 'name', head: 'let' }],
  'in the value of a let': ['let a = ¦', { where: 'value', kind: 'let', property: undefined, empty: true }],
  'in the unit of a let': ['let a = 5 k¦', { where: 'unit', kind: 'let', number: '5' }, 'k'],
  'behind connect': ['connect ¦', { where: 'connect', chain: [], afterArrow: true }],
  'behind an arrow': ['connect MAIN -> W1 ->\n  ¦', { where: 'connect', chain: ['MAIN', 'W1'], afterArrow: true }],
  'behind a tag of a chain': ['connect MAIN ¦', { where: 'connect', chain: ['MAIN'], afterArrow: false }],
  'in a case': ['case c { ¦', { where: 'property', kind: 'case', path: [], present: [] }],
  'behind a tag in a case': [
    'case c {\n  T1.rated_power = 1 VA\n  B1.¦\n}',
    { where: 'property', kind: 'case', path: ['B1'], present: ['T1.rated_power'] },
  ],
  'in a value of a case': ['case c { B1.soc = ¦ }', { where: 'value', kind: 'case', property: 'B1.soc', empty: true }],
  'behind the is of a case': ['case c is a, ¦', { where: 'cases', taken: ['a'] }],
  'behind require': ['require ¦', { where: 'require', path: [], empty: true }],
  'behind the name of a requirement': ['require spare: ¦', { where: 'require', path: [], empty: true }],
  'behind a tag in a requirement': ['require T1.¦', { where: 'require', path: ['T1'], complete: false }],
  'behind a result': ['require T1.loading ¦', { where: 'require', path: [], complete: true }],
  'behind a number of a requirement': ['require T1.loading <= 95 ¦', { where: 'unit', kind: 'require', number: '95' }],
  'behind during': ['require T1.loading during ¦', { where: 'duty' }],
  'behind accept': ['accept tr¦', { where: 'code' }, 'tr'],
  'behind the code': ['accept spare ¦', { where: 'accept', written: [] }],
  'behind on': ['accept spare on ¦', { where: 'tag', code: 'spare' }],
  'behind the tag': ['accept spare on T1 ¦', { where: 'accept', written: ['on'] }],
  'behind until': ['accept spare on T1 until ¦', { where: 'date' }],
};

describe('the cursor', () => {
  for (const [what, [text, place, prefix]] of Object.entries(cases)) {
    it(`${what}: ${JSON.stringify(text)}`, () => {
      const found = at(text);
      expect(found.place).toMatchObject(place);
      expect(found.prefix).toBe(prefix ?? '');
    });
  }

  it('replaces the whole word that it is in', () => {
    expect(at('cable W1 { len¦gth = 3 m }').replaced).toBe('length');
    expect(at('grid M { voltage = 400 k¦V }').replaced).toBe('kV');
    expect(at('use "par¦ts/a.plant" as b').replaced).toBe('parts/a.plant');
    expect(at('grid M { ¦voltage = 4 V }').replaced).toBe('voltage');
  });

  it('has a place at every offset of every sample, and of every half of it', () => {
    for (const text of Object.values(samples)) {
      const tree = parse(text);
      for (let offset = 0; offset <= text.length; offset += 3) {
        for (const { replace } of [contextAt(tree, offset), contextAt(parse(text.slice(0, offset)), offset)]) {
          expect(replace.start <= offset && offset <= replace.end && replace.start >= 0).toBe(true);
        }
      }
    }
  });
});
