// The components that completion offers hold as they are, and together make a sound plant.
import { describe, expect, test } from 'vitest';
import { kinds, propertyOf } from '../../../engine/kinds/index.ts';
import type { Kind } from '../../../engine/kinds/kind.ts';
import { snippetText } from '../../../engine/kinds/reference.ts';
import { faultsOf, readLiteral } from './written-value.ts';

describe('the snippet of every kind', () => {
  test.each(kinds)('$name is one block of the kind, closed', kind => {
    const text = snippetText(kind.snippet);
    expect(text).toMatch(new RegExp(`^${kind.name} \\p{L}[\\p{L}\\d_]* \\{\\n[^]*\\}\\n$`, 'u'));
    expect(text).not.toMatch(/[$|]/u);
    expect([...text.matchAll(/\{/gu)].length).toBe([...text.matchAll(/\}/gu)].length);
  });

  test.each(kinds)('$name counts its placeholders from 1, in order', ({ snippet }) => {
    const numbers = [...snippet.matchAll(/\$\{(\d+)/gu)].map(match => Number(match[1]));
    expect(numbers.length).toBeGreaterThan(0);
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
  });

  test.each(kinds)('$name states what is required, and one of each group', kind => {
    const stated = [...writtenIn(kind).keys()];
    const required = kind.properties.filter(property => property.need === 'required').map(property => property.name);
    expect(stated).toEqual(expect.arrayContaining(required));
    for (const group of kind.oneOf ?? [])
      expect(
        group.some(name => stated.includes(name)),
        group.join(),
      ).toBe(true);
  });

  test.each(kinds)('$name states only values that hold and that count', kind => {
    for (const [name, text] of writtenIn(kind)) {
      const property = propertyOf(kind, name);
      if (property === undefined) throw new Error(`unknown property ${name}`);
      expect(faultsOf(property, text), name).toEqual([]);
      expect(property.notEvaluated, name).toBeUndefined();
    }
  });

  test.each(kinds)('$name offers each choice that the property has, the usual one first', kind => {
    for (const [, name = '', list = ''] of kind.snippet.matchAll(/(\w+) = \$\{\d+\|([^|]*)\|\}/gu)) {
      const type = propertyOf(kind, name)?.type;
      expect(type?.is === 'choice' ? [...type.choices].sort() : type).toEqual(list.split(',').sort());
    }
  });
});

describe('the snippets together', () => {
  const at = (kind: string, name: string) => statedIn(kind, name);

  test('the voltages of transformer and network are one', () => {
    expect(at('transformer', 'primary_voltage')).toBe('400 V');
    expect(at('grid', 'voltage')).toBe('400 V ± 10 %');
  });

  test('blocked converters stay blocked down to an empty battery', () => {
    // By hand: 440 V · 360/400 · 1.005 · √2 = 562.8 V; the filter capacitor adds less than 0.3 % of it.
    // An empty battery: 224 · 2.60 V = 582.4 V, 3.2 % above.
    const [ratio, cells] = [siOf('transformer', 'secondary_voltage') / 400, siOf('battery', 'cells_in_series')];
    const blocked = Math.SQRT2 * 440 * ratio * 1.005 * 1.003;
    const empty = Number(/ 0 % {2}(\S+) V/u.exec(at('battery', 'open_circuit_voltage'))?.[1]) * cells;
    expect(blocked).toBeCloseTo(564.5, 0);
    expect(empty / blocked).toBeGreaterThan(1.03);
  });

  test('the battery holds the energy of the duty', () => {
    // By hand: 400 kW · 45 min = 300 kWh; 80 % of 4 · 280 Ah · 224 · 3.29 V = 660 kWh.
    const stored =
      0.8 * siOf('battery', 'strings') * siOf('battery', 'capacity') * siOf('battery', 'cells_in_series') * 3.29;
    const [power = '', time = ''] = at('duty', 'discharge').split(' for ');
    expect(readLiteral(power).si * readLiteral(time).si).toBeCloseTo(300 * 3.6e6, 0);
    expect(stored).toBeGreaterThan(1.5 * 300 * 3.6e6);
  });

  test('the transformer carries the duty', () => {
    // By hand: 400 kW / 0.95 = 421 kVA and the transformer's own demand, against 500 kVA.
    expect(siOf('transformer', 'rated_power')).toBeGreaterThan((1.1 * 400e3) / siOf('duty', 'power_factor'));
  });
});

function writtenIn(kind: Kind): ReadonlyMap<string, string> {
  const inside = snippetText(kind.snippet)
    .replace(/^.*\{\n/u, '')
    .replace(/\}\n$/u, '');
  const entries = inside.split(/\n(?= {2}\w)/u).map(entry => entry.trim().split(' = '));
  return new Map(entries.filter(([name]) => name !== '').map(([name = '', value = '']) => [name, value]));
}

function statedIn(kindName: string, name: string): string {
  const kind = kinds.find(each => each.name === kindName);
  const text = kind === undefined ? undefined : writtenIn(kind).get(name);
  if (text === undefined) throw new Error(`${kindName}.${name} is not in the snippet`);
  return text;
}

function siOf(kind: string, name: string): number {
  return readLiteral(statedIn(kind, name)).si;
}
