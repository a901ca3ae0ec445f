// The transformer’s current against its rating and the house rules, and the rating that would do.
import { describe, expect, it } from 'vitest';
import { transformerLoading as check } from '../../../engine/checks/transformer-loading.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { lineAt, textAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const free = ['require T1.loading <= 95 %\n', ''] as const;
const rating = (kva: number) => ['rated_power = 500 kVA', `rated_power = ${kva} kVA`] as const;

showsItself(check, { severity: 'error' });

describe('the loading', () => {
  it('is an error above the rating', () => {
    // The rating moves the impedance, and with it the current, a little: step by step to the rating that is just met.
    let kva = 470;
    for (let step = 0; step < 20; step++) kva = worst(sound(free, rating(kva)), 'T1.required_rating').value / 1000;
    expectLimit(code, [free, rating(kva + 0.05)], [free, rating(kva - 0.05)], 'error');
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

  it('names the case', () => {
    const plant = sound(rating(400), ['require T1.loading <= 95 %', 'case weak { MAIN.voltage = 400 V ± 15 % }']);
    expect(theFinding(plant, code).message).toContain('in case weak');
  });
});
