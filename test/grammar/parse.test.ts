// What the language means, construct by construct: text in, tree out.

import { describe, expect, it } from 'vitest';
import type { Expression } from '../../grammar/ast.ts';
import { parse } from '../../grammar/parse.ts';
import { declarationOf, meaning, problemsOf, samples, valueIn } from './samples.ts';

/** An expression as fully bracketed text. */
function show(node: Expression | undefined): string {
  switch (node?.type) {
    case undefined:
      return '?';
    case 'number':
      return node.unit === undefined ? `${node.value}` : `${node.value} ${node.unit.text}`;
    case 'range':
      return `[${show(node.low)} .. ${show(node.high)}]`;
    case 'tolerance':
      return `[${show(node.nominal)} +${show(node.plus)} -${show(node.minus)}]`;
    case 'string':
      return JSON.stringify(node.value);
    case 'reference':
      return node.path.map(({ text }) => text).join('.');
    case 'call':
      return `${node.name.text}(${node.arguments.map(show).join(', ')})`;
    case 'binary':
      return `(${show(node.left)} ${node.operator} ${show(node.right)})`;
    case 'negate':
      return `-(${show(node.operand)})`;
    case 'group':
      return `<${show(node.inner)}>`;
    case 'compare':
      return `${show(node.left)} ${node.operator} ${show(node.right)}`;
    case 'pick':
      return node.from === undefined ? 'pick' : `pick(${node.from.map(show).join(', ')})`;
    case 'curve': {
      const rows = node.rows.map(({ x, y }) => `${show(x)}: ${y.map(show).join(', ')}`).join('; ');
      const axes = node.axes.map(({ text }) => text).join(',');
      const columns = node.columns === undefined ? '' : `${node.columns.map(show).join(', ')} | `;
      return `${node.shape} ${axes} ${node.per?.text ?? ''} {${columns}${rows}}`;
    }
  }
}

describe('samples', () => {
  for (const [name, text] of Object.entries(samples)) {
    it(`${name} has no problem, and its chunks are the file`, () => {
      const tree = parse(text);
      expect(problemsOf(text)).toEqual([]);
      expect(tree.chunks.map(({ chunk }) => chunk.text).join('')).toBe(text);
      expect(tree.chunks.every(({ start, chunk }) => text.startsWith(chunk.text, start))).toBe(true);
    });
  }

  it('the plant reads as its declarations, in order', () => {
    const found = parse(samples.plant).chunks.map(({ chunk }) => {
      const { declaration } = chunk;
      return declaration?.type === 'entity' ? `${declaration.kind.text} ${declaration.name?.text}` : declaration?.type;
    });
    expect(found).toEqual([
      ...['plant ValleyStation', 'use', 'use', 'use', 'let', 'grid MAIN', 'cable W1', 'transformer T1', 'filter F1'],
      ...['converter K1', 'cable W2', 'battery B1', 'connect', 'duty start_peak', 'duty braking'],
      ...['case', 'case', 'case', 'require', 'require', 'accept'],
    ]);
  });
});

describe('values', () => {
  const cases: Record<string, string> = {
    '400 V': '400 V',
    '400V': '400 V',
    '-20 °C': '-20 °C',
    '− 20 °C': '-20 °C',
    '31_000 EUR': '31000 EUR',
    '1e3 A': '1000 A',
    '1.5E-3 H': '0.0015 H',
    '0.95': '0.95',
    '10 %': '10 %',
    '5 A²*s': '5 A²*s',
    '0.1 ohm/km': '0.1 ohm/km',
    '4 kW/x': '4 kW/x',
    '4 kW / x': '(4 kW / x)',
    '4 kW/2': '(4 kW / 2)',
    '4 kW/(x + 1)': '(4 kW / <(x + 1)>)',
    '35 m^2': '35 m^2',
    '35 m ^ 2': '(35 m ^ 2)',
    '2\u00a0*\u00a0x': '(2 * x)',
    '2 × x · y': '((2 * x) * y)',
    'a + b * c - d': '((a + (b * c)) - d)',
    'a - b - c': '((a - b) - c)',
    '-x^2': '-((x ^ 2))',
    '-2^2': '-((2 ^ 2))',
    '2^-1': '(2 ^ -1)',
    '- -5': '-(-5)',
    '2 * -3': '(2 * -3)',
    '5-3': '(5 - 3)',
    '5 -3': '(5 - 3)',
    'min(a, 2 kW, b.c)': 'min(a, 2 kW, b.c)',
    'max(a,\n  b,\n)': 'max(a, b)',
    'a +\n  b': '(a + b)',
    '9 MVA .. 14 MVA': '[9 MVA .. 14 MVA]',
    '1..5': '[1 .. 5]',
    '-5 °C … 40 °C': '[-5 °C .. 40 °C]',
    '400 V ± 10 %': '[400 V +10 % -10 %]',
    '400 V±10%': '[400 V +10 % -10 %]',
    '400 V +/- 20 V': '[400 V +20 V -20 V]',
    '400 V +- 20 V': '[400 V +20 V -20 V]',
    '400 V +10 % -15 %': '[400 V +10 % -15 %]',
    '-5 °C +2 K -1 K': '[-5 °C +2 K -1 K]',
    '400 V +10 V': '(400 V + 10 V)',
    '400 V + 10 V - 15 V': '((400 V + 10 V) - 15 V)',
    '400 V -15 V +10 V': '((400 V - 15 V) + 10 V)',
    'u +10 V -15 V': '((u + 10 V) - 15 V)',
    '(1 V .. 2 V) * 2': '(<[1 V .. 2 V]> * 2)',
    copper: 'copper',
    'range.AirCooled.kva350': 'range.AirCooled.kva350',
    'B1.for': 'B1.for',
    'log + to': '(log + to)',
    pick: 'pick',
    'pick from (340 V, 360 V)': 'pick(340 V, 360 V)',
    '"a \\"b\\" \\\\ c # d"': '"a \\"b\\" \\\\ c # d"',
    'curve soc { 0 % 2.6 V, 100 % 3.4 V, }': 'linear soc  {0 %: 2.6 V; 100 %: 3.4 V}',
    'curve soc per cell smooth { 0 % -2.6 V 5 % 1 V }': 'smooth soc cell {0 %: -2.6 V; 5 %: 1 V}',
    'curve current log {\n 1 A 2 s # x\n\n 3 A\u202f4 s\n}': 'log current  {1 A: 2 s; 3 A: 4 s}',
    'curve soc, temperature { columns 0 °C, 25 °C   10 % 0.2 Ω, 0.14 Ω   90 % 1 Ω, 2 Ω }':
      'linear soc,temperature  {0 °C, 25 °C | 10 %: 0.2 Ω, 0.14 Ω; 90 %: 1 Ω, 2 Ω}',
  };
  for (const [text, expected] of Object.entries(cases)) {
    it(JSON.stringify(text), () => {
      expect(problemsOf(`grid MAIN {\n  property = ${text}\n}`)).toEqual([]);
      expect(show(valueIn(text))).toBe(expected);
    });
  }
});

describe('properties', () => {
  const propertiesOf = (text: string) => {
    const declaration = declarationOf(text);
    return declaration.type === 'entity' || declaration.type === 'case' ? declaration.properties : [];
  };

  it('carry clauses, their basis and their source', () => {
    const text =
      'duty D { a = p for 45 min every 2 h, f = 0.95 delivering, v = 2 V .. 3 V per cell from "sheet", t = 5 °C assumed }';
    const found = propertiesOf(text).map(({ clauses, per, provenance }) => [
      clauses.map(({ word, value }) => (value === undefined ? word : `${word} ${show(value)}`)).join(' '),
      per?.text,
      provenance?.word,
      provenance?.text,
    ]);
    expect(found).toEqual([
      ['for 45 min every 2 h', undefined, undefined, undefined],
      ['delivering', undefined, undefined, undefined],
      ['', 'cell', 'from', 'sheet'],
      ['', undefined, 'assumed', undefined],
    ]);
  });

  it('may be named by a keyword, and by letters of any script in normal form', () => {
    const names = propertiesOf('grid M { for = 1, grid = 2, curve = 3, шина = 4, cafe\u0301 = 5 }').map(
      ({ target }) => target[0]?.text,
    );
    expect(names).toEqual(['for', 'grid', 'curve', 'шина', 'caf\u00e9']);
  });

  it('end with a line end or a comma, and carry the documentation above them', () => {
    const found = propertiesOf(
      'grid M {\n  a = 1, b = 2,\n\n  ## one\n  # between\n  ## two\n  c = 3 ## not this\n\n  ## lost\n\n  d = 4 }',
    );
    expect(found.map(({ target, doc }) => [target[0]?.text, doc])).toEqual([
      ['a', undefined],
      ['b', undefined],
      ['c', 'one\ntwo'],
      ['d', undefined],
    ]);
  });

  it('have a path as target in a case', () => {
    const [property] = propertiesOf('case c { B1.temperature = 15 °C }');
    expect(property?.target.map(({ text }) => text)).toEqual(['B1', 'temperature']);
  });
});

describe('declarations', () => {
  it('of a component that is a part, or a pick', () => {
    expect(meaning(declarationOf('## Doc\nconverter K1 is pick range.AirCooled { cooling = air }'))).toMatchObject({
      type: 'entity',
      doc: 'Doc',
      part: false,
      kind: { text: 'converter' },
      name: { text: 'K1' },
      base: { pick: true, path: [{ text: 'range' }, { text: 'AirCooled' }] },
      properties: [{ target: [{ text: 'cooling' }] }],
    });
    expect(declarationOf('part battery Long is Short')).toMatchObject({
      part: true,
      block: undefined,
      base: { pick: false },
    });
  });

  it('of use, let, connect and case', () => {
    expect(declarationOf('use "a.plant" as b')).toMatchObject({ path: { value: 'a.plant' }, alias: { text: 'b' } });
    expect(declarationOf('let p = 400 kW from "letter"')).toMatchObject({
      name: { text: 'p' },
      provenance: { text: 'letter' },
    });
    const connect = declarationOf('connect A ->\n  B → C');
    expect(connect.type === 'connect' && connect.chain.map(({ text }) => text)).toEqual(['A', 'B', 'C']);
    expect(meaning(declarationOf('case c is a,\n b'))).toMatchObject({
      bases: [{ text: 'a' }, { text: 'b' }],
      properties: [],
    });
  });

  it('of catalogues, with rows or with a file', () => {
    const rows = declarationOf(
      'catalogue fuse Links {\n  ## small\n  f1 { rated_current = 1 A }\n  f2 {\n    rated_current = 2 A\n  }\n}',
    );
    expect(
      rows.type === 'catalogue' && rows.rows.map(({ name, doc, properties }) => [name.text, doc, properties.length]),
    ).toEqual([
      ['f1', 'small', 1],
      ['f2', undefined, 1],
    ]);
    expect(declarationOf('catalogue fuse Links from "links.csv"')).toMatchObject({
      from: { value: 'links.csv' },
      rows: [],
    });
  });

  it('of requirements', () => {
    const require = declarationOf('require spare: K1.loading during braking ≤ 70 % because "room"');
    expect(require).toMatchObject({ name: { text: 'spare' }, during: { text: 'braking' }, because: { value: 'room' } });
    expect(require.type === 'require' && show(require.condition)).toBe('K1.loading <= 70 %');
    const late = declarationOf('require (T1.loading < 95 %) during braking');
    expect(late.type === 'require' && show(late.condition)).toBe('T1.loading < 95 %');
  });

  it('of acceptances', () => {
    const accept = declarationOf('accept spare on T1 down to 5 % until 2028-02-29 because "agreed"');
    expect(meaning(accept)).toMatchObject({
      code: { text: 'spare' },
      tag: { text: 'T1' },
      direction: 'down',
      bound: { value: 5 },
      until: { year: 2028, month: 2, day: 29 },
      because: { value: 'agreed' },
    });
  });
});

describe('chunks', () => {
  const chunksOf = (text: string) => parse(text).chunks.map(({ chunk }) => chunk.text);

  it('begin at heads, with the comments directly above', () => {
    expect(chunksOf('# file\n\n# a\ngrid A {\n  fuse = F1\n}\n# end\n\n## b\nbus B\n')).toEqual([
      '# file\n\n',
      '# a\ngrid A {\n  fuse = F1\n}\n# end\n\n',
      '## b\nbus B\n',
    ]);
  });

  it('end where a head stands at the margin, even in an open block', () => {
    expect(chunksOf('grid A {\n  x = 1\nbus B\n')).toEqual(['grid A {\n  x = 1\n', 'bus B\n']);
    expect(chunksOf('grid A {\n  bus B\n')).toEqual(['grid A {\n  bus B\n']);
  });

  it('begin behind blanks of any kind, and with words of any letters', () => {
    expect(chunksOf('bus A\n\ufeffbus B\n\u00a0bus C\n')).toEqual(['bus A\n', '\ufeffbus B\n', '\u00a0bus C\n']);
    expect(chunksOf('grid A {\n}\nétage = 3\n')).toEqual(['grid A {\n}\nétage = 3\n']);
    expect(chunksOf('grid A {\n}\nétage B\n')).toEqual(['grid A {\n}\n', 'étage B\n']);
    expect(chunksOf('grid A {\n}\nb . é = 3\n')).toEqual(['grid A {\n}\nb . é = 3\n']);
  });

  it('stay the same objects while their text stays the same', () => {
    const before = parse(samples.plant);
    const text = samples.plant.replace('500 kVA', '630 kVA');
    const after = parse(text, before);
    const changed = after.chunks.filter(({ chunk }) => !before.chunks.some(old => old.chunk === chunk));
    expect(changed.map(({ chunk }) => chunk.declaration?.type === 'entity' && chunk.declaration.name?.text)).toEqual([
      'T1',
    ]);
    expect(after).toEqual(parse(text));
    const moved = parse(`bus X\n${text}`, after);
    expect(moved.chunks.slice(1).map(({ chunk }) => chunk)).toEqual(after.chunks.map(({ chunk }) => chunk));
    expect(moved.chunks.slice(1).every(({ chunk }, index) => chunk === after.chunks[index]?.chunk)).toBe(true);
  });

  describe('of which one property is edited', () => {
    const text =
      'case cold {\n  B1.temperature = 5 °C, B2.temperature = 6 °C # both\n  ## Measured.\n  B1.resistance = curve soc { 0 % 10 mΩ, 1 % 9 mΩ } from "test"\n  B2.soc = 10 % .. 90 %\n}\n';
    const before = parse(text);
    const propertiesOf = (tree: typeof before) => {
      const declaration = tree.chunks[0]?.chunk.declaration;
      return declaration?.type === 'case' ? declaration.properties : [];
    };
    /** Of the properties after an edit, those that are the objects of before, by place. */
    const kept = (from: string, to: string): readonly number[] => {
      const after = parse(text.replace(from, to), before);
      expect(after).toEqual(parse(text.replace(from, to)));
      return [...propertiesOf(after).keys()].filter(
        index => propertiesOf(after)[index] === propertiesOf(before)[index],
      );
    };

    it('keep the others that stand where they stood', () => {
      expect(kept('6 °C', '7 °C')).toEqual([0, 2, 3]);
      expect(kept('9 mΩ', '8 mΩ')).toEqual([0, 1, 3]);
      expect(kept('9 mΩ', '9.5 mΩ')).toEqual([0, 1]);
      expect(kept('9 mΩ }', '9 mΩ, 2 % 8 mΩ }')).toEqual([0, 1]);
    });

    it('are read anew where the edit may reach beyond it', () => {
      expect(kept('6 °C', '6 #C')).toEqual([]);
      expect(kept('5 °C', '5 "C')).toEqual([]);
      expect(kept('0 % 10', '0 } 10')).toEqual([]);
      expect(kept('0 % 10', '0 % (10')).toEqual([]);
      expect(kept('10 % ..', 'x = 10 % ..')).toEqual([]);
      expect(kept('# both', '')).toEqual([]);
      expect(kept('B2.soc', 'B2.soc = 10 %\n  B3.soc')).toEqual([]);
    });

    it('are read anew now and then, so that the texts of before are not held', () => {
      let tree = before;
      const first = propertiesOf(tree)[0];
      for (let edit = 0; edit < 60; edit++) tree = parse(text.replace('90 %', edit % 2 === 0 ? '90 %' : '900 ‰'), tree);
      expect(propertiesOf(tree)[0]).toEqual(first);
      expect(propertiesOf(tree)[0]).not.toBe(first);
    });
  });

  it('never lend one object to two places', () => {
    const first = parse('bus A\n');
    const { chunks } = parse('bus A\nbus A\nbus A\n', first);
    expect(new Set(chunks.map(({ chunk }) => chunk)).size).toBe(3);
    expect(new Set(parse('bus A\nbus A\n', parse('bus A\nbus A\nbus A\n')).chunks.map(({ chunk }) => chunk)).size).toBe(
      2,
    );
  });
});
