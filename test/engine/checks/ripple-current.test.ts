// Ripple in the converter-side choke.
import { describe, expect, it } from 'vitest';
import { rippleCurrentCheck as check } from '../../../engine/checks/ripple-current.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, told, worst } from '../../kit/plants.ts';

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'ripple_current')).toEqual({
    message:
      'The ripple in F1’s converter-side choke reaches 245.5 A peak to peak, 20.42 % of K1’s rated peak current, more than the customary 15 %: it heats the choke and takes current from the semiconductors.',
    at: 'converter_inductance = 100 µH',
    related: [['switching_frequency = 4 kHz', 'The switching frequency.']],
    limit: '180.3 A',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('is bounded by U_dc/(6·f·L)', () => {
    // Reznik et al., IEEE TIA 50(2), 2014 (from memory).
    const highest = worst(sound(), 'K1.dc_voltage_max').value;
    expect(worst(sound(), 'F1.ripple_bound').value).toBeCloseTo(highest / (6 * 4000 * 100e-6), 6);
  });

  it('counts the point of operation that swings most', () => {
    // By hand, for an index above seven tenths: largest where the phase crosses zero. There it sees U_dc/3 for √3/4·M of
    // half a switching period and −U_dc/3 for as long, a swing of U_dc·(√3/2·M)/(6·f·L) = √2·U_c/(6·f·L).
    const idle = worst(sound(), 'K1.idle_voltage').value;
    const loaded = worst(sound(), 'K1.terminal_voltage').value;
    const byHand = (Math.SQRT2 * Math.max(idle, loaded)) / (6 * 4000 * 100e-6);
    expect(worst(sound(), 'F1.ripple_current').value / byHand).toBeCloseTo(1, 3);
    expect(worst(sound(), 'F1.ripple_current').value).toBeLessThan(worst(sound(), 'F1.ripple_bound').value);
  });

  it('is the practice’s share of the rated peak, and the bound alone complains of nothing', () => {
    const rule = (share: number): Edit => [
      'transformer_spare = 5 %',
      `transformer_spare = 5 %\n  ripple = ${100 * share} %`,
    ];
    const rated = 850 * Math.SQRT2;
    const share = worst(sound(), 'F1.ripple_current').value / rated;
    const bound = worst(sound(), 'F1.ripple_bound').value / rated;
    expectLimit(check.code, [rule(share * 1.001)], [rule(share * 0.999)], 'warning');
    expect(findingsOf(sound(rule((share + bound) / 2)), check.code)).toEqual([]);
  });

  it('is the bound itself at the end of the linear range', () => {
    const far = worst(sound(['secondary_voltage = 360 V', 'secondary_voltage = 700 V']), 'F1.ripple_current').value;
    const bound = worst(sound(['secondary_voltage = 360 V', 'secondary_voltage = 700 V']), 'F1.ripple_bound').value;
    expect(far / bound).toBeCloseTo(1, 6);
  });
});
