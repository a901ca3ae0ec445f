// The transformer’s current against its rating and the house rules, and the rating that would do.
import { describe, expect, it } from 'vitest';
import { transformerLoading as check } from '../../../engine/checks/transformer-loading.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, textAt, theFinding, worst } from '../../kit/plants.ts';

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
    const share = 100 * worst(sound(), 'T1.loading').value;
    expectLimit(code, [rule(share + 0.01)], [rule(share - 0.01)], 'warning');
  });

  it('shows what is needed, the rating and the corner, on the rating', () => {
    const plant = bad(check);
    const { message, place, related, point } = theFinding(plant, code);
    expect(message).toContain(worst(plant, 'T1.required_rating').display);
    expect(message).toContain('400 kVA');
    expect(point).toMatchObject({ duty: 'start_peak', voltage: 'low', direction: 'delivering' });
    expect(lineAt(plant, place)).toBe('rated_power = 400 kVA');
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['discharge = 400 kW for 45 min']);
  });

  it('offers the preferred rating that keeps the spare of the house rules too', () => {
    expect(theFinding(bad(check), code).fixes.map(({ title }) => title)).toEqual(['Take the preferred rating 500 kVA']);
    const strict = bad(check, ['transformer_spare = 5 %', 'transformer_spare = 10 %']);
    expect(theFinding(strict, code).fixes.map(({ title }) => title)).toEqual(['Take the preferred rating 630 kVA']);
    expect(expectFixesToHold(strict, code)).toBe(1);
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

  it('does not cover one that lasts too long, or takes too much', () => {
    expect(theFinding(sound(free, small('130 %')), code).message).toMatch(/warm up to 107\.\d % of the permitted rise/);
    expect(theFinding(sound(free, small('110 %'), short(20)), code).message).toContain('more than the 110 %');
  });

  it('counts the stated time constant', () => {
    const slow = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  time_constant = 60 min'] as const;
    expect(findingsOf(sound(free, small('130 %'), slow), code)).toEqual([]);
  });
});
