// What a bus states against what is connected to it.
import { describe, expect, it } from 'vitest';
import { busVoltage as check } from '../../../engine/checks/bus-voltage.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, lineAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

const between = (stated: string): Edit => [
  'connect MAIN -> T1 -> F1',
  `bus N1 { ${stated} }\nconnect MAIN -> T1 -> N1 -> F1`,
];
const before = (stated: string): Edit => ['connect MAIN -> T1', `bus N1 { ${stated} }\nconnect MAIN -> N1 -> T1`];
const direct = (stated: string): Edit => ['K1 -> B1', `K1 -> N1 -> B1\nbus N1 { ${stated} }`];

describe('the voltage that follows', () => {
  it('is the network’s through the ratio, behind the transformer and before it', () => {
    expect(worst(sound(between('')), 'N1.nominal_voltage').value).toBeCloseTo(360, 9);
    expect(worst(sound(before('')), 'N1.nominal_voltage').value).toBe(400);
    expect(worst(sound(before('')), 'N1.voltage_low').value).toBe(360);
    expect(worst(sound(before('')), 'N1.voltage_high').value).toBeCloseTo(440, 9);
  });

  it('under load rises behind the transformer while power is delivered', () => {
    // 400 kW with 131 kvar through 3.0 mΩ and 15.3 mΩ at 360 V: (R·P + X·Q)/U ≈ 8.9 V, above the highest idle 396 V.
    const high = worst(sound(between('')), 'N1.voltage_high').value;
    expect(high).toBeGreaterThan(396 + 6);
    expect(high).toBeLessThan(396 + 12);
  });

  it('on the DC side is what the converter has there', () => {
    const plant = sound(direct(''));
    expect(worst(plant, 'N1.voltage_low').value).toBe(worst(plant, 'K1.dc_voltage_min').value);
    expect(worst(plant, 'N1.voltage_high').value).toBe(worst(plant, 'K1.dc_voltage_max').value);
    expect(plant.analysis.values.worst('N1.nominal_voltage')?.value).toBeUndefined();
  });
});

describe('a bus on either side of a chopper', () => {
  const chopped: Edit = [
    'K1 -> B1',
    `K1 -> N1 -> U1 -> N2 -> B1
bus N1 {}
bus N2 {}
chopper U1 { low_side_voltage = 500 V .. 800 V, high_side_voltage = 760 V .. 850 V, current = 900 A, efficiency = 98 % }`,
  ];
  it('has the link’s voltage on the converter’s side, and the battery’s behind it', () => {
    const plant = sound(chopped);
    expect(worst(plant, 'N1.voltage_low').value).toBe(worst(plant, 'K1.dc_voltage_min').value);
    expect(worst(plant, 'N2.voltage_low').value).toBe(worst(plant, 'B1.voltage_min').value);
    expect(worst(plant, 'N2.voltage_high').value).toBe(worst(plant, 'B1.voltage_max').value);
  });
});

describe('the judgement', () => {
  it('leaves a nominal voltage as far from a no-load voltage as is usual', () => {
    expectLimit(code, [between('voltage = 325 V')], [between('voltage = 323 V')], 'warning');
    expectLimit(code, [between('voltage = 395 V')], [between('voltage = 397 V')], 'warning');
    expect(theFinding(bad(check), code).message).toBe(
      'N1 is stated as a bus of 440 V, but what is connected to it makes 360 V.',
    );
  });

  it('offers what follows', () => {
    expect(expectFixesToHold(bad(check), code)).toBe(1);
  });

  it('holds a stated span at both ends, idle and loaded', () => {
    const low = worst(sound(between('')), 'N1.voltage_low').value;
    const high = worst(sound(between('')), 'N1.voltage_high').value;
    const span = (from: number, to: number) => between(`voltage = ${from} V .. ${to} V`);
    expectLimit(code, [span(low - 0.1, high + 0.1)], [span(low + 0.1, high + 0.1)], 'warning');
    expectLimit(code, [span(low - 0.1, high + 0.1)], [span(low - 0.1, high - 0.1)], 'warning');
  });

  it('wants the nominal of a DC bus between its extremes', () => {
    expectLimit(code, [direct('voltage = 740 V')], [direct('voltage = 800 V')], 'warning');
    expect(theFinding(sound(direct('voltage = 600 V')), code).message).toMatch(
      /^N1 is stated as a bus of 600 V, but what is connected to it keeps it between \d.* V and \d.* V\.$/,
    );
  });

  it('of a span names the end that is left, and the limit there', () => {
    const low = worst(sound(between('')), 'N1.voltage_low');
    const high = worst(sound(between('')), 'N1.voltage_high');
    const falls = theFinding(sound(between('voltage = 350 V .. 600 V')), code);
    expect(falls.message).toBe(
      `The voltage of N1 falls to ${low.display}, outside the 350 V .. 600 V that it is stated to keep.`,
    );
    expect(falls.limit).toEqual({ name: undefined, number: 350, display: '350 V' });
    const rises = theFinding(sound(between('voltage = 300 V .. 380 V')), code);
    expect(rises.message).toMatch(
      new RegExp(
        `^The voltage of N1 rises to ${high.display}, outside the 300 V \\.\\. 380 V that it is stated to keep\\.$`,
      ),
    );
    expect(rises.limit).toEqual({ name: undefined, number: 380, display: '380 V' });
    expect(rises.fixes).toEqual([]);
  });

  it('leaves a span that just holds both ends, and a DC nominal at either end', () => {
    expect(findingsOf(sound(before('voltage = 360 V .. 500 V')), code)).toEqual([]);
    const [low, high] = ['min', 'max'].map(end => worst(sound(direct('')), `K1.dc_voltage_${end}`));
    expect(findingsOf(sound(direct(`voltage = ${low!.value} V`)), code)).toEqual([]);
    expect(findingsOf(sound(direct(`voltage = ${high!.value} V`)), code)).toEqual([]);
    const found = (volts: number) => theFinding(sound(direct(`voltage = ${volts} V`)), code).value?.display;
    expect(found(low!.value - 1)).toBe(low!.display);
    expect(found(high!.value + 1)).toBe(high!.display);
  });

  it('is silent where what follows is not known', () => {
    const unknown: Edit = ['secondary_voltage = 360 V', 'secondary_voltage = 360 A'];
    expect(findingsOf(sound(between('voltage = 440 V'), unknown), code)).toEqual([]);
    expect(findingsOf(sound(between('voltage = 440 V .. 450 V'), unknown), code)).toEqual([]);
    const cells: Edit = ['cells_in_series = 224', 'cells_in_series = 224 V'];
    expect(findingsOf(sound(direct('voltage = 600 V'), cells), code)).toEqual([]);
  });

  it('is made in each case by what the case states, and offers nothing that the case would undo', () => {
    const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
    const plant = sound(
      between('voltage = 360 V'),
      cases('case odd { N1.voltage = 440 V }\ncase odder { N1.voltage = 460 V }'),
    );
    const { message, place, fixes, point } = theFinding(plant, code);
    expect(message).toBe('N1 is stated as a bus of 440 V, but what is connected to it makes 360 V in case odd.');
    expect(point?.case).toBe('odd');
    expect(lineAt(plant, place)).toBe('case odd { N1.voltage = 440 V }');
    expect(fixes).toEqual([]);
    const both = sound(between('voltage = 440 V'), cases('case odd { N1.voltage = 360 V }'));
    expect(theFinding(both, code).fixes).toEqual([]);
    const wound = sound(between('voltage = 360 V'), cases('case odd { T1.secondary_voltage = 450 V }'));
    expect(theFinding(wound, code).message).toMatch(/ of 360 V, .* makes 450 V in case odd\.$/);
  });

  it('offers the voltage that follows in place of the stated one', () => {
    const plant = sound(before('voltage = 500 V'));
    expect(theFinding(plant, code).fixes).toMatchObject([
      { title: 'State 400 V', safe: false, edits: [{ text: '400 V' }] },
    ]);
  });
});
