// First-order heating under load cycles: its limits for short and long periods.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  approach,
  type LoadStep,
  relativeHeat,
  rmsStandsForPeak,
  steadyCycle,
} from '../../../engine/physics/thermal.ts';
import { evenly } from '../../kit/evenly.ts';
import { deviation, solved } from '../../kit/solved.ts';

const step = fc.record({ ratio: evenly(0, 2), duration: evenly(1, 1000) });
const cycle = fc.array(step, { minLength: 1, maxLength: 6 });
const stretched = (steps: readonly LoadStep[], by: number) =>
  steps.map(({ ratio, duration }) => ({ ratio, duration: duration * by }));

describe('steady cycle', () => {
  test('rated load for good is a rise of one', () => {
    const found = solved(steadyCycle([{ ratio: 1, duration: 60 }], { timeConstant: 300 }));
    expect(found.peak).toBeCloseTo(1, 12);
    expect(found.least).toBeCloseTo(1, 12);
  });

  test('two levels as by hand: 1.5 for one time constant, nothing for another', () => {
    // θ = 2.25·(1 − e⁻¹)/(1 − e⁻²) = 2.25/(1 + e⁻¹)
    const steps = [
      { ratio: 1.5, duration: 100 },
      { ratio: 0, duration: 100 },
    ];
    const found = solved(steadyCycle(steps, { timeConstant: 100 }));
    expect(found.peak).toBeCloseTo(2.25 / (1 + Math.exp(-1)), 12);
    expect(found.least).toBeCloseTo(found.peak / Math.E, 12);
    expect(found.peakStep).toBe(0);
    expect(found.rises).toEqual([expect.closeTo(found.least, 12), expect.closeTo(found.peak, 12)]);
  });

  test('is where a cold start ends up after many turns', () => {
    fc.assert(
      fc.property(cycle, evenly(20, 5000), (steps, timeConstant) => {
        const found = solved(steadyCycle(steps, { timeConstant }));
        const period = steps.reduce((sum, each) => sum + each.duration, 0);
        const turns = Math.ceil((40 * timeConstant) / period);
        let rise = 0;
        for (let turn = 0; turn < turns; turn++) {
          rise = steps.reduce((before, each) => approach(before, each.ratio ** 2, each.duration, timeConstant), rise);
        }
        expect(Math.abs(rise - found.rises[0]!)).toBeLessThan(1e-9);
      }),
      { numRuns: 60 },
    );
  });

  test('agrees with the differential equation marched in small steps', () => {
    const steps = [
      { ratio: 1.4, duration: 60 },
      { ratio: 0.3, duration: 200 },
      { ratio: 1.1, duration: 90 },
    ];
    const found = solved(steadyCycle(steps, { timeConstant: 240 }));
    let rise = 0;
    let peak = 0;
    const width = 0.02;
    for (let turn = 0; turn < 12; turn++) {
      peak = 0;
      for (const { ratio, duration } of steps) {
        for (let at = 0; at < duration; at += width) {
          // Midpoint rule.
          const middle = rise + ((ratio * ratio - rise) / 240) * (width / 2);
          rise += ((ratio * ratio - middle) / 240) * width;
        }
        peak = Math.max(peak, rise);
      }
    }
    expect(deviation(found.peak, peak)).toBeLessThan(1e-4);
  });

  test('a period far shorter than the time constant leaves only the mean of the heat', () => {
    fc.assert(
      fc.property(cycle, steps => {
        const found = solved(steadyCycle(steps, { timeConstant: 1e10 }));
        expect(Math.abs(found.peak - found.mean)).toBeLessThan(1e-5);
        expect(Math.abs(found.least - found.mean)).toBeLessThan(1e-5);
      }),
    );
  });

  test('a period far longer reaches the heat of the highest load', () => {
    fc.assert(
      fc.property(cycle, steps => {
        const found = solved(steadyCycle(stretched(steps, 1e6), { timeConstant: 1 }));
        expect(found.peak).toBeCloseTo(Math.max(...steps.map(each => each.ratio ** 2)), 9);
        expect(found.least).toBeCloseTo(Math.min(...steps.map(each => each.ratio ** 2)), 9);
      }),
    );
  });

  test('the peak lies between mean and highest heat, and grows as the cycle is stretched', () => {
    fc.assert(
      fc.property(cycle, evenly(1, 4), (steps, by) => {
        const short = solved(steadyCycle(steps, { timeConstant: 300 }));
        const long = solved(steadyCycle(stretched(steps, by), { timeConstant: 300 }));
        expect(long.peak).toBeGreaterThanOrEqual(short.peak - 1e-9);
        expect(short.peak).toBeGreaterThanOrEqual(short.mean - 1e-9);
        expect(long.peak).toBeLessThanOrEqual(Math.max(...steps.map(each => each.ratio ** 2)) + 1e-9);
      }),
    );
  });

  test('more load anywhere never cools', () => {
    fc.assert(
      fc.property(cycle, evenly(0, 1), fc.nat(5), (steps, more, which) => {
        const raised = steps.map((each, index) =>
          index === which % steps.length ? { ...each, ratio: each.ratio + more } : each,
        );
        const before = solved(steadyCycle(steps, { timeConstant: 200 }));
        const after = solved(steadyCycle(raised, { timeConstant: 200 }));
        expect(after.peak).toBeGreaterThanOrEqual(before.peak - 1e-9);
      }),
    );
  });

  test('says what is wrong with a cycle or an element', () => {
    expect(steadyCycle([], { timeConstant: 1 })).toEqual({ ok: false, problem: 'no_step' });
    expect(steadyCycle([{ ratio: 1, duration: 0 }], { timeConstant: 1 })).toEqual({ ok: false, problem: 'no_step' });
    const wrong = [
      { ratio: 1, duration: 1 },
      { ratio: -1, duration: 1 },
    ];
    expect(steadyCycle(wrong, { timeConstant: 1 })).toEqual({ ok: false, problem: 'impossible_step', index: 1 });
    const one = [{ ratio: 1, duration: 1 }];
    expect(steadyCycle(one, { timeConstant: 0 })).toEqual({ ok: false, problem: 'impossible_element' });
    expect(steadyCycle(one, { timeConstant: 1, heat: { standing: 1 } }).ok).toBe(false);
    expect(steadyCycle([{ ratio: Number.NaN, duration: 1 }], { timeConstant: 1 }).ok).toBe(false);
  });
});

describe('heat', () => {
  test('is one at rated load, whatever its law; without load it is the standing share', () => {
    fc.assert(
      fc.property(evenly(0, 0.9), evenly(0.5, 3), evenly(0, 3), (standing, exponent, ratio) => {
        const law = { standing, exponent };
        expect(relativeHeat(1, law)).toBeCloseTo(1, 12);
        expect(relativeHeat(0, law)).toBeCloseTo(standing, 12);
        // What comes on top is in proportion to a power of the load.
        const more = (load: number) => relativeHeat(load, law)! - standing;
        expect(more(2 * ratio)).toBeCloseTo(2 ** exponent * more(ratio), 9);
      }),
    );
    expect(relativeHeat(1.5)).toBe(2.25);
  });

  test('of a negative load, or by an impossible law, is none', () => {
    expect(relativeHeat(-1)).toBeUndefined();
    for (const law of [{ standing: -0.1 }, { standing: 1 }, { exponent: 0 }, { exponent: -1 }]) {
      expect(relativeHeat(1, law)).toBeUndefined();
    }
  });

  test('of an overload lifts the rise from no load to rated in T·ln(h/(h − 1)), at once after for ever', () => {
    // h = 2.25
    expect(approach(0, 2.25, 300 * Math.log(2.25 / 1.25), 300)).toBeCloseTo(1, 12);
    expect(approach(0.3, 2.25, Number.POSITIVE_INFINITY, 300)).toBe(2.25);
    expect(approach(0.3, 2.25, 0, 300)).toBeCloseTo(0.3, 15);
  });
});

test('the rms stands for the peak only where the period is short', () => {
  const steps = [
    { ratio: 1.5, duration: 60 },
    { ratio: 0.9, duration: 540 },
  ];
  expect(rmsStandsForPeak(steps, { timeConstant: 7200 })).toBe(true);
  expect(rmsStandsForPeak(steps, { timeConstant: 300 })).toBe(false);
  expect(rmsStandsForPeak([], { timeConstant: 300 })).toBeUndefined();
});
