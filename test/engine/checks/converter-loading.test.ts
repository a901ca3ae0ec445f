// The converter’s current against its rating where it stands, and against the house rules.
import { describe, expect, it } from 'vitest';
import { converterLoading as check } from '../../../engine/checks/converter-loading.ts';
import { bad, expectLimit, showsItself, sound, without } from '../../kit/checks.ts';
import { findingsOf, lineAt, textAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const rating = (amperes: number) => ['ac_current = 850 A', `ac_current = ${amperes} A`] as const;

showsItself(check, { severity: 'error' });

describe('the loading', () => {
  const { value: needed } = worst(sound(), 'K1.current');

  it('is an error above the rating', () => {
    expectLimit(code, [rating(needed + 0.1)], [rating(needed - 0.1)], 'error');
  });

  it('is a warning above the house rules', () => {
    const rule = (share: number) =>
      ['transformer_spare = 5 %', `transformer_spare = 5 %, converter_loading = ${share} %`] as const;
    const share = 100 * worst(sound(), 'K1.loading').value;
    expectLimit(code, [rule(share + 0.01)], [rule(share - 0.01)], 'warning');
    expect(theFinding(sound(rule(80)), code).message).toContain('above the 80 % of the house rules');
  });

  it('shows current, rating and corner, on the rating', () => {
    const plant = bad(check);
    const { message, place, related, point } = theFinding(plant, code);
    const [amperes, loading] = ['K1.current', 'K1.loading'].map(name => worst(plant, name).display);
    expect(message).toBe(
      `K1 is overloaded: ${amperes} where 750 A is its rating, ${loading} during start_peak, at the lowest network voltage, absorbing reactive power.`,
    );
    expect(point).toMatchObject({ duty: 'start_peak', voltage: 'low', direction: 'absorbing', case: undefined });
    expect(lineAt(plant, place)).toBe('ac_current = 750 A');
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['discharge = 400 kW for 45 min']);
  });

  it('is not judged without a duty', () => {
    expect(findingsOf(sound(...without('start_peak', 'braking')), code)).toEqual([]);
  });

  it('counts what altitude and heat leave of the rating, and says so', () => {
    const plant = sound(['altitude = 900 m', 'altitude = 1900 m'], rating(800));
    // Common practice, no source: 1 % for each 100 m above 1000 m. 800 A · 91 %.
    expect(theFinding(plant, code).message).toContain(
      '728 A is its rating at this altitude and ambient (800 A stated)',
    );
    const hot = sound(
      ['ambient = 5 °C .. 40 °C', 'ambient = 5 °C .. 50 °C'],
      ['ac_current = 850 A', 'ac_current = 850 A\n  ambient_derating = curve temperature { 40 °C 100 %, 50 °C 85 % }'],
    );
    expect(theFinding(hot, code).message).toContain('722.5 A');
  });

  describe('beside an overload that the maker states for a time', () => {
    const quiet = ['transformer_spare = 5 %', 'transformer_spare = 5 %\n  ripple = 50 %'] as const;
    const stated = (amperes: number) =>
      ['ac_current = 850 A', `ac_current = ${amperes} A\n  overload = 150 % for 60 s every 600 s`] as const;
    const brief = ['for 45 min', 'for 50 s every 15 min'] as const;

    it('hides no duty that lasts and asks for less', () => {
      const lasting = ['duty braking', 'duty feed { discharge = 350 kW, power_factor = 0.95 }\nduty braking'] as const;
      const plant = sound(quiet, brief, stated(600), lasting);
      expect(worst(plant, 'K1.loading').point.duty).toBe('start_peak');
      expect(theFinding(plant, code)).toMatchObject({ severity: 'error', point: { duty: 'feed' } });
    });

    it('has nothing to say of the only duty, which passes', () => {
      expect(findingsOf(sound(quiet, brief, stated(600), ...without('braking')), code)).toEqual([]);
    });

    it('hides no duty that lasts and is above the house rules alone', () => {
      const rule = ['ripple = 50 %', 'ripple = 50 %, converter_loading = 80 %'] as const;
      const lasting = ['duty braking', 'duty feed { discharge = 280 kW, power_factor = 0.95 }\nduty braking'] as const;
      const plant = sound(quiet, rule, brief, stated(600), lasting);
      expect(worst(plant, 'K1.loading').value).toBeGreaterThan(1);
      expect(theFinding(plant, code)).toMatchObject({ severity: 'warning', point: { duty: 'feed' } });
    });

    it('is judged by the house rules like any other', () => {
      const rule = ['ripple = 50 %', 'ripple = 50 %, converter_loading = 80 %'] as const;
      expect(theFinding(sound(quiet, rule, brief, stated(850)), code)).toMatchObject({
        severity: 'warning',
        point: { duty: 'start_peak' },
      });
    });
  });

  it('names the case', () => {
    const plant = bad(check, ['require T1.loading <= 95 %', 'case weak { MAIN.voltage = 400 V ± 15 % }']);
    expect(theFinding(plant, code).message).toContain('in case weak');
  });
});
