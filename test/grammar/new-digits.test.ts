// What is known of an edit in the digits of a number without reading it, and what is not.
import { describe, expect, it } from 'vitest';
import { parse } from '../../grammar/parse.ts';

describe('declarations of which the digits of one number are edited', () => {
  /** The declaration of a text, after an edit of another, and whether what stands before the number was read again. */
  function edit(text: string, from: string, to: string) {
    const before = parse(text);
    const after = parse(text.replace(from, to), before);
    expect(after).toEqual(parse(text.replace(from, to)));
    const [old, now] = [before, after].map(tree => tree.chunks[0]!.chunk.declaration!);
    expect(firstName(old)).toBeDefined();
    return firstName(old) === firstName(now) ? 'known' : 'read again';
  }

  /** The first name in a declaration, in an object of its own. */
  function firstName(node: unknown): unknown {
    if (typeof node !== 'object' || node === null) return undefined;
    if ('text' in node) return node;
    for (const part of Object.values(node)) {
      const found = firstName(part);
      if (found !== undefined) return found;
    }
    return undefined;
  }

  it.each([
    ['let peak = 400 kW\n', '400', '401'],
    ['let peak = 400 kW\n', '400', '4000'],
    ['let peak = 400 kW\n', '400', '4'],
    ['let peak = 42_500 W\n', '42_500', '42_600'],
    ['let peak = 4.5 kW\n', '4.5', '4.25'],
    ['let peak = 4 kW\n', '4', '4.5'],
    ['let peak = 400kW\n', '400', '410'],
    ['let peak = (400 kW + 20 kW) * 2\n', '20', '25'],
    ['let span = 9 MVA .. 14 MVA\n', '9', '10'],
    ['let span = 400 V ± 10 %\n', '10', '5'],
    ['let span = 400 V ±10 %\n', '10', '5'],
    ['let span = 400 V +10 % -5 %\n', '10', '12'],
    ['let span = 9..14\n', '9', '10'],
    ['let span = 9..14\n', '14', '15'],
    ['let power = 2^3\n', '3', '4'],
    ['let peak = 4.25_5 kW\n', '25', '24'],
    ['let strings = 4', '4', '5'],
    ['let span = 400 V ± 10 %\n', '400', '4000'],
    ['require T1.loading <= 95 % during start\n', '95', '100'],
    ['accept voltage_reserve on K1 up to 12 % until 2026-12-01 because "tried"\n', '12', '9'],
    ['catalogue converter Row {\n  a { ac_current = 500 A, price = 3 EUR }\n}\n', '500', '50'],
    ['grid G { voltage = 400 V, frequency = 50 Hz }\n', '400', '4100'],
  ])('are known without being read: %j, %s → %s', (text, from, to) => {
    expect(edit(text, from, to)).toBe('known');
  });

  it.each([
    ['let peak = 400 kW\n', '400', '40x'],
    ['let peak = 400 kW\n', '400', ''],
    ['let peak = 400 kW\n', '400', '4 00'],
    ['let peak = 400 kW\n', '400', '400.'],
    ['let peak = 400 kW\n', '400', '4,5'],
    ['let peak = 400 kW\n', '400 k', '40 M'],
    ['let peak = 4e3 kW\n', '4', '5'],
    ['let peak = 4E3 kW\n', '4', '5'],
    ['let peak = 4,5 kW\n', '5', '6'],
    ['let span = 400 V ± -10 %\n', '10', '0'],
    ['let span = 400 V ± -0 %\n', '-0', '-10'],
    ['let day = 202-01-01\n', '202', '2026'],
    ['let day = 2026-1-01\n', '-1', '-12'],
    ['let day = 2026-12-1\n', '12-1', '12-15'],
    ['let area = 5 m^2 * 3\n', '^2', '^3'],
    ['use "parts.plant" as p2\n', '2', '3'],
    ['let much = 1 kW\n', '1', '1'.repeat(400)],
    ['let peak = 400 kW # 5 s\n', '5', '6'],
  ])('are read where they may mean something else: %j, %s → %s', (text, from, to) => {
    expect(edit(text, from, to)).toBe('read again');
  });

  it('are known again, and in both deviations of a tolerance', () => {
    const texts = ['400 V ± 10 %', '4000 V ± 10 %', '4000 V ± 5 %', '4000 V ± 15 %'].map(
      span => `let span = ${span}\n`,
    );
    let tree = parse(texts[0]!);
    const name = firstName(tree.chunks[0]!.chunk.declaration);
    for (const text of texts) {
      tree = parse(text, tree);
      expect(tree).toEqual(parse(text));
    }
    expect(name).toMatchObject({ text: 'span' });
    expect(firstName(tree.chunks[0]!.chunk.declaration)).toBe(name);
  });

  it('stay what they are where nothing is touched, in a block and in a curve', () => {
    const text = 'battery B1 {\n  voltage = curve soc { 0 % 2.6 V, 50 % 3.2 V, 99 % 3.5 V }\n  strings = 4\n}\n';
    const before = parse(text);
    const [same, longer] = ['3.3', '3.25'].map(volts => parse(text.replace('3.2', volts), before));
    const partsOf = ({ chunks }: typeof before) => {
      const declaration = chunks[0]!.chunk.declaration;
      const [voltage, strings] = declaration?.type === 'entity' ? declaration.properties : [];
      return voltage?.value?.type === 'curve' ? [...voltage.value.rows, strings, voltage.value.axes] : [];
    };
    const kept = (after: typeof before) => partsOf(after).map((part, index) => part === partsOf(before)[index]);
    expect(kept(same!)).toEqual([true, false, true, true, true]);
    expect(kept(longer!)).toEqual([true, false, false, false, true]);
  });
});
