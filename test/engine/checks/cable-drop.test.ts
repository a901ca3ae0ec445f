// Voltage drop in cables, AC and DC.
import { describe, expect, it } from 'vitest';
import { cableDrop as check } from '../../../engine/checks/cable-drop.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { analysed, type Edit, edited, findingsOf, textAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'cable_drop')).toEqual({
    message:
      'W1 loses 7.042 % of the voltage, more than the customary 3 % during start_peak, at the lowest network voltage, at 10 % state of charge, delivering reactive power.',
    at: 'cross_section = 95 mm²',
    related: [['length = 90 m', 'Its length.']],
    limit: '3 %',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('takes the limit of the side on which the cable stands', () => {
    const rule = (words: string) => ['transformer_spare = 5 %', `transformer_spare = 5 %\n  ${words}`] as const;
    expect(findingsOf(bad(check, rule('cable_drop_ac = 50 %')), code)).toEqual([]);
    expect(findingsOf(bad(check, rule('cable_drop_dc = 50 %')), code)).toHaveLength(1);
  });

  it('takes the limit of direct current on the way to one of several batteries as well', () => {
    const block = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
    const branch = (rule: string) =>
      sound(
        [
          'connect MAIN',
          `${block.replace('B1', 'B2')}cable W2 { length = 100 m, cross_section = 50 mm² }\nconnect MAIN`,
        ],
        ['K1 -> B1', 'K1 -> B1\nconnect K1 -> W2 -> B2'],
        ['transformer_spare = 5 %', `transformer_spare = 5 %\n  ${rule}`],
      );
    expect(findingsOf(branch('cable_drop_ac = 0.3 %'), code)).toEqual([]);
    expect(findingsOf(branch('cable_drop_dc = 0.3 %'), code)).toHaveLength(1);
  });

  it('points at the cross-section, and names the length beside it', () => {
    const plant = bad(check);
    const { place, related } = theFinding(plant, code);
    expect(textAt(plant, place)).toBe('cross_section = 95 mm²');
    expect(related.map(one => textAt(plant, one.place))).toEqual(['length = 90 m']);
  });

  it('keeps quiet where no duty makes a current', () => {
    const duties = /^duty .*\n/gm;
    const text = edited(soundExample, ...check.bad)
      .replace(duties, '')
      .replace(/^require .*\n/m, '');
    expect(findingsOf(analysed(text), code)).toEqual([]);
  });

  it('takes the resistance that the maker states, on either side', () => {
    const stated = (resistance: string): readonly Edit[] => [
      [
        'K1 -> B1',
        `K1 -> W2 -> B1\ncable W2 { length = 10 m, cross_section = 185 mm²${resistance} }\ncable W1 { length = 30 m, cross_section = 185 mm²${resistance} }`,
      ],
      ['connect MAIN', 'connect MAIN -> W1'],
    ];
    const plant = sound(...stated(', resistance = 0.5 ohm/km'));
    expect(worst(plant, 'W2.drop').value * worst(plant, 'B1.voltage_min').value).toBeCloseTo(
      worst(plant, 'W2.current').value * 2 * 0.01 * 0.5,
      1,
    );
    // With the skin effect of so thin a conductor, which is nearly none.
    expect(worst(plant, 'W1.series_resistance').value).toBeCloseTo(0.03 * 0.5, 4);
    expect(worst(sound(...stated('')), 'W1.series_resistance').value).toBeLessThan(0.01);
  });

  it('knows a DC cable by where it stands, with a limit of its own', () => {
    const cable = (metres: number) =>
      ['K1 -> B1', `K1 -> W2 -> B1\ncable W2 { length = ${metres} m, cross_section = 185 mm² }`] as const;
    // I·2·l·R′ with R′ = 0.0991 Ω/km (IEC 60228, seen in source) · 1.27505 at 90 °C: 2 % of the battery’s terminal voltage.
    const current = worst(sound(cable(10)), 'W2.current').value;
    const battery = worst(sound(cable(10)), 'B1.voltage_min').value;
    const length = (0.02 * battery) / (2 * 0.0991e-3 * 1.27505 * current);
    expectLimit(code, [cable(length * 0.98)], [cable(length * 1.02)], 'warning');
  });
});
