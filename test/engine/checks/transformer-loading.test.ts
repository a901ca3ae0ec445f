// The transformer’s current against its rating and the house rules, and the rating that would do.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { transformerLoading as check } from '../../../engine/checks/transformer-loading.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound, throughParts, without } from '../../kit/checks.ts';
import { analysed, edited, findingsOf, lineAt, textAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const free = ['require T1.loading <= 95 %\n', ''] as const;
/** Without eddy loss harmonics cost nothing, and the current alone decides. */
const noEddy = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  eddy_loss = 0 %'] as const;
const rating = (kva: number) => ['rated_power = 500 kVA', `rated_power = ${kva} kVA`] as const;

showsItself(check, { severity: 'error' });

describe('the loading', () => {
  it('is an error above the rating', () => {
    // The rating moves the impedance, and with it the current, a little: step by step to the rating that is just met.
    let kva = 470;
    for (let step = 0; step < 20; step++)
      kva = worst(sound(free, noEddy, rating(kva)), 'T1.required_rating').value / 1000;
    expectLimit(code, [free, noEddy, rating(kva + 0.05)], [free, noEddy, rating(kva - 0.05)], 'error');
  });

  it('is a warning above the house rules', () => {
    const rule = (share: number) =>
      ['transformer_spare = 5 %', `transformer_spare = 5 %, transformer_loading = ${share} %`] as const;
    const { value, display } = worst(sound(), 'T1.loading');
    expectLimit(code, [rule(100 * value + 0.01)], [rule(100 * value - 0.01)], 'warning');
    expect(theFinding(sound(rule(80)), code).message).toBe(
      `T1 is loaded to ${display} of its rating, above the 80 % of the house rules during start_peak, at the lowest network voltage, delivering reactive power.`,
    );
    // An overload that its maker allows for a time is no answer to the rules for lasting load.
    const allowed = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  overload = 130 %'] as const;
    expect(theFinding(sound(rule(80), allowed), code).severity).toBe('warning');
  });

  it('is not judged without a duty', () => {
    const plant = sound(free, ...without('start_peak', 'braking'));
    expect(findingsOf(plant, code)).toEqual([]);
  });

  it('shows what is needed, the rating and the corner, on the rating', () => {
    const plant = bad(check);
    const { message, place, related, point } = theFinding(plant, code);
    const [needed, loading] = ['T1.required_rating', 'T1.derated_loading'].map(name => worst(plant, name).display);
    expect(message).toMatch(
      new RegExp(
        `^T1 is overloaded: the duty needs ${needed} where 400 kVA is its rating, ${loading} during start_peak, at the lowest network voltage, delivering reactive power\\. Active power alone`,
      ),
    );
    expect(point).toMatchObject({ duty: 'start_peak', voltage: 'low', direction: 'delivering' });
    expect(lineAt(plant, place)).toBe('rated_power = 400 kVA');
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['discharge = 400 kW for 45 min']);
  });

  it('offers the preferred rating that keeps the spare of the house rules too', () => {
    expect(theFinding(bad(check), code).fixes.map(({ title }) => title)).toEqual(['Take the preferred rating 500 kVA']);
    const strict = bad(check, ['transformer_spare = 5 %', 'transformer_spare = 10 %']);
    expect(theFinding(strict, code).fixes.map(({ title }) => title)).toEqual(['Take the preferred rating 630 kVA']);
    expect(expectFixesToHold(strict, code)).toBe(1);
    // 470 kVA at 80 %.
    const careful = bad(check, ['transformer_spare = 5 %', 'transformer_spare = 5 %, transformer_loading = 80 %']);
    expect(theFinding(careful, code).fixes.map(({ title }) => title)).toEqual(['Take the preferred rating 630 kVA']);
    expect(expectFixesToHold(careful, code)).toBe(1);
  });

  it('offers no rating in a part, which others may use too', () => {
    expect(theFinding(analysed(throughParts(edited(soundExample, ...check.bad))), code).fixes).toEqual([]);
  });

  it('offers no rating where some duty, if only in a case, does not get through at all', () => {
    const duty = (power: string) =>
      ['duty braking', `duty storm { discharge = ${power} for 1 min, at = K1 }\nduty braking`] as const;
    expect(theFinding(bad(check, duty('60 MW')), code)).toMatchObject({ point: { duty: 'start_peak' }, fixes: [] });
    expect(theFinding(bad(check, duty('40 kW')), code).fixes).toHaveLength(1);
    const restated = sound(rating(400), duty('40 kW'), [
      'require T1.loading <= 95 %',
      'case gust { storm.discharge = 60 MW }',
    ]);
    expect(theFinding(restated, code)).toMatchObject({ point: { duty: 'start_peak' }, fixes: [] });
  });

  it('offers no rating that the harmonics would still overload: without a filter, all the ripple of the switching', () => {
    const plant = sound(free, rating(400), ['MAIN -> T1 -> F1 -> K1', 'MAIN -> T1 -> K1']);
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', fixes: [] });
    const larger = sound(free, rating(500), ['MAIN -> T1 -> F1 -> K1', 'MAIN -> T1 -> K1']);
    expect(findingsOf(larger, code)).toEqual([]);
    expect(theFinding(larger, 'harmonic_loading').severity).toBe('warning');
  });

  it('names the case', () => {
    const plant = sound(rating(400), ['require T1.loading <= 95 %', 'case weak { MAIN.voltage = 400 V ± 15 % }']);
    expect(theFinding(plant, code).message).toContain('in case weak');
  });
});

describe('what is left of the rating', () => {
  const altitude = (metres: number) => ['altitude = 900 m', `altitude = ${metres} m`] as const;
  const construction = (word: string) =>
    ['no_load_loss = 800 W', `no_load_loss = 800 W\n  construction = ${word}`] as const;

  it('is less in thin air, for a dry type more so than for a liquid-filled one', () => {
    // By hand, from memory of the standards: dry 2.5 % of the rise per 500 m, liquid 1 K of 65 K per 400 m; rise ~ I^1.6.
    const left = (word: string) => worst(sound(altitude(3000), construction(word)), 'T1.site_factor').value;
    expect(left('dry')).toBeCloseTo(0.9 ** (1 / 1.6), 9);
    expect(left('liquid')).toBeCloseTo((60 / 65) ** (1 / 1.6), 9);
    expect(worst(sound(altitude(1000)), 'T1.site_factor').value).toBe(1);
  });

  it('is a finding when the reserve is gone', () => {
    // A larger converter, so that only the transformer feels the height.
    const converter = ['ac_current = 850 A', 'ac_current = 1000 A'] as const;
    expect(findingsOf(sound(altitude(2000), converter, noEddy), code)).toEqual([]);
    const { message } = theFinding(sound(altitude(2950), converter, noEddy), code);
    expect(message).toContain('altitude and ambient leave');
    expect(message).toContain('100.2 %');
  });
});

describe('an overload that the maker allows', () => {
  const small = (overload: string) =>
    ['rated_power = 500 kVA', `rated_power = 400 kVA\n  overload = ${overload}`] as const;
  const short = (minutes: number) => ['for 45 min, power', `for ${minutes} min, power`] as const;

  it('covers a duty that is over before the winding is warm', () => {
    expect(findingsOf(sound(free, small('130 %'), short(20)), code)).toEqual([]);
    expect(theFinding(sound(free, short(20), rating(400)), code).severity).toBe('error');
  });

  it('leaves nothing to say where no other duty is there', () => {
    expect(findingsOf(sound(free, small('130 %'), short(20), ...without('braking')), code)).toEqual([]);
  });

  it('hides no duty that lasts and asks for less', () => {
    const lasting = ['duty braking', 'duty feed { discharge = 360 kW, power_factor = 0.95 }\nduty braking'] as const;
    const plant = sound(free, small('130 %'), short(20), lasting);
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', point: { duty: 'feed' } });
    expect(worst(plant, 'T1.loading').point.duty).toBe('start_peak');
  });

  it('does not cover one that lasts too long, or takes too much', () => {
    expect(theFinding(sound(free, small('130 %')), code).message).toMatch(/warm up to 107\.\d % of the permitted rise/);
    expect(theFinding(sound(free, small('110 %'), short(20)), code).message).toContain('more than the 110 %');
  });

  it('is no matter of a duty that lasts: nothing is said of it', () => {
    const lasting = theFinding(sound(free, small('110 %'), ['400 kW for 45 min', '400 kW']), code);
    expect(lasting.message).toContain('T1 is overloaded');
    expect(lasting.message).not.toMatch(/warm up|overload allows/);
  });

  it('counts the stated time constant', () => {
    const slow = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  time_constant = 60 min'] as const;
    expect(findingsOf(sound(free, small('130 %'), slow), code)).toEqual([]);
  });
});
