// Load cycles against duty classes and stated overloads.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  cycleFigures,
  judgeByClass,
  judgeByOverload,
  longestAbove,
  worstWindow,
} from '../../../engine/physics/overload.ts';
import type { LoadStep } from '../../../engine/physics/thermal.ts';
import type { DutyClass } from '../../../engine/tables/duty-classes.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const steps = (...pairs: readonly (readonly [ratio: number, duration: number])[]): LoadStep[] =>
  pairs.map(([ratio, duration]) => ({ ratio, duration }));
const anyCycle = fc.array(fc.record({ ratio: evenly(0, 2), duration: evenly(1, 500) }), { minLength: 1, maxLength: 6 });
const judged = (cycle: readonly LoadStep[], dutyClass: DutyClass) => solved(judgeByClass(cycle, dutyClass));

test('figures of a cycle', () => {
  expect(cycleFigures(steps([2, 1], [0, 3]))).toEqual({ ok: true, period: 4, rms: 1, mean: 0.5, highest: 2 });
  expect(cycleFigures(steps([9, 0], [1, 3]))).toEqual({ ok: true, period: 3, rms: 1, mean: 1, highest: 1 });
  expect(cycleFigures([])).toEqual({ ok: false, problem: 'no_step' });
});

describe('longest time above', () => {
  test('goes over the end of the cycle', () => {
    expect(longestAbove(steps([1.5, 20], [0.5, 100], [1.2, 30]), 1)).toBe(50);
    expect(longestAbove(steps([1.5, 20], [0.5, 100], [1.2, 30]), 1.2)).toBe(20);
  });

  test('never, or for good', () => {
    expect(longestAbove(steps([0.5, 20]), 1)).toBe(0);
    expect(longestAbove(steps([1.5, 20], [0, 0]), 1)).toBe(Number.POSITIVE_INFINITY);
    expect(longestAbove(steps([1, 20]), 1)).toBe(0);
    expect(longestAbove([], 1)).toBe(0);
  });
});

describe('worst window', () => {
  test('of a whole period, of several, and over the end', () => {
    const cycle = steps([1.5, 10], [0.5, 80], [1.5, 10]);
    expect(worstWindow(cycle, 20, ratio => (ratio > 1 ? 1 : 0))).toBeCloseTo(20, 9);
    expect(worstWindow(cycle, 100, ratio => ratio)).toBeCloseTo(70, 9);
    expect(worstWindow(cycle, 250, ratio => ratio)).toBeCloseTo(140 + 30 + 15, 9);
  });

  test('is no less than any window tried at random, and one that begins or ends with a step reaches it', () => {
    fc.assert(
      fc.property(anyCycle, evenly(1, 3000), evenly(0, 1), (cycle, window, share) => {
        const worst = worstWindow(cycle, window, ratio => ratio * ratio);
        const period = cycle.reduce((sum, each) => sum + each.duration, 0);
        expect(sampled(cycle, share * period, window)).toBeLessThanOrEqual(worst * (1 + 1e-9) + 1e-9);
        let edge = 0;
        const tried = cycle.flatMap(each => {
          edge += each.duration;
          return [edge, edge - window + Math.ceil(window / period) * period];
        });
        const most = Math.max(...tried.map(start => sampled(cycle, start, window)));
        expect(Math.abs(most - worst)).toBeLessThan(0.01);
      }),
    );
  });
});

describe('by duty class', () => {
  test('class II carries 150 % for a minute, with rest enough for the rms', () => {
    expect(judged(steps([1.5, 60], [0.9, 540]), 'II')).toMatchObject({ covered: true, excesses: [] });
    const longer = judged(steps([1.5, 61], [0.5, 539]), 'II');
    expect(longer.excesses).toEqual([{ excess: 'duration', above: 1, duration: 61, allowed: 60 }]);
    const higher = judged(steps([1.6, 30], [0.5, 570]), 'II');
    expect(higher.excesses).toEqual([{ excess: 'ratio', ratio: 1.6, allowed: 1.5 }]);
    const hotter = judged(steps([1.5, 60], [1, 540]), 'II');
    expect(hotter.excesses.map(each => each.excess)).toEqual(['rms']);
  });

  test('class III: the time above 150 % is short even where that above 100 % is not used up', () => {
    expect(judged(steps([2, 10], [1.5, 110], [0.5, 3000]), 'III').covered).toBe(true);
    const found = judged(steps([1.6, 30], [0.5, 3000]), 'III');
    expect(found.excesses).toEqual([{ excess: 'duration', above: 1.5, duration: 30, allowed: 10 }]);
  });

  test('class I carries rated current and no more', () => {
    expect(judged(steps([1, 60]), 'I').covered).toBe(true);
    expect(judged(steps([1.01, 1], [0, 100]), 'I').covered).toBe(false);
    expect(judgeByClass([], 'I')).toEqual({ ok: false, problem: 'no_step' });
  });

  test('what a class covers, a higher class with the same times covers too', () => {
    const found = { V: 0, I: 0 };
    fc.assert(
      fc.property(anyCycle, cycle => {
        for (const [lower, higher] of [
          ['V', 'VI'],
          ['I', 'II'],
        ] as const) {
          if (!judged(cycle, lower).covered) continue;
          found[lower]++;
          expect(judged(cycle, higher).covered).toBe(true);
        }
      }),
      { seed: 1 },
    );
    expect(Math.min(found.V, found.I)).toBeGreaterThan(5);
  });

  test('less load never loses cover', () => {
    let covered = 0;
    fc.assert(
      fc.property(anyCycle, evenly(0, 1), (cycle, by) => {
        const less = cycle.map(each => ({ ...each, ratio: each.ratio * by }));
        if (!judged(cycle, 'VI').covered) return;
        covered++;
        expect(judged(less, 'VI').covered).toBe(true);
      }),
      { seed: 1 },
    );
    expect(covered).toBeGreaterThan(5);
  });
});

describe('by a stated overload', () => {
  const stated = { ratio: 1.5, duration: 60, period: 600 };

  test('the stated cycle itself is covered, with the base that keeps the rms', () => {
    expect(judgeByOverload(steps([1.5, 60], [0.92796, 540]), stated)).toMatchObject({ covered: true });
    const full = judgeByOverload(steps([1.5, 60], [1, 540]), stated);
    expect(full).toMatchObject({ covered: false, excesses: [{ excess: 'rms', allowed: 1, window: 600 }] });
    expect(judgeByOverload(steps([1.5, 60], [1, 540]), { ...stated, base: 1 })).toMatchObject({ covered: true });
  });

  test('half as long and twice as often is the same heat and the same time above', () => {
    expect(judgeByOverload(steps([1.5, 30], [0.9, 270]), stated)).toMatchObject({ covered: true });
    const often = judgeByOverload(steps([1.5, 60], [0.2, 240]), stated);
    expect(often).toMatchObject({ excesses: [{ excess: 'duration', above: 1, duration: 120, allowed: 60 }] });
  });

  test('two overloads close together are seen although the cycle is long', () => {
    const pair = judgeByOverload(steps([1.5, 60], [0.1, 100], [1.5, 60], [0.1, 3000]), stated);
    expect(pair).toMatchObject({ covered: false, excesses: [{ excess: 'duration', duration: 120 }] });
  });

  test('a load above it is named, as is the heat where that is too much', () => {
    expect(judgeByOverload(steps([1.6, 30], [0.2, 570]), stated)).toMatchObject({
      ok: true,
      covered: false,
      excesses: [{ excess: 'ratio', ratio: 1.6, allowed: 1.5 }],
    });
    // √((1.5²·60 + 540)/600)
    const hot = judgeByOverload(steps([1.5, 60], [1, 540]), stated);
    expect(hot).toMatchObject({ excesses: [{ excess: 'rms', rms: expect.closeTo(Math.sqrt(1.125), 12), allowed: 1 }] });
  });

  test('a stated base is what may be carried beside it', () => {
    const half = { ...stated, base: 0.5 };
    expect(judgeByOverload(steps([1.5, 60], [0.5, 540]), half)).toMatchObject({ covered: true, excesses: [] });
    expect(judgeByOverload(steps([1.5, 60], [0.51, 540]), half)).toMatchObject({ covered: false });
    expect(judgeByOverload(steps([1.5, 60], [0, 540]), { ...stated, base: 0 })).toMatchObject({ covered: true });
    expect(judgeByOverload(steps([1, 1]), { ...stated, base: -0.5 })).toBeUndefined();
    expect(judgeByOverload(steps([1, 1]), { ...stated, period: 60, base: 0.5 })).toBeUndefined();
  });

  test('may be none at all, or leave nothing beside it', () => {
    expect(judgeByOverload(steps([1, 600]), { ratio: 1, duration: 60, period: 600 })).toMatchObject({ covered: true });
    expect(judgeByOverload(steps([1, 600]), { ratio: 1.5, duration: 0, period: 600 })).toMatchObject({ covered: true });
    const all = { ratio: 2, duration: 150, period: 600 };
    expect(judgeByOverload(steps([2, 150], [0, 450]), all)).toMatchObject({ covered: true });
    expect(judgeByOverload(steps([2, 150], [0.1, 450]), all)).toMatchObject({ covered: false });
  });

  test('an impossible statement has no judgement', () => {
    expect(judgeByOverload(steps([1, 1]), { ratio: 1.5, duration: -60, period: 600 })).toBeUndefined();
    expect(
      judgeByOverload(steps([1, 1]), { ratio: 1.5, duration: 60, period: Number.POSITIVE_INFINITY }),
    ).toBeUndefined();
    expect(judgeByOverload(steps([1, 1]), { ratio: 1.5, duration: 60, period: 60 })).toBeUndefined();
    expect(judgeByOverload(steps([1, 1]), { ratio: 4, duration: 60, period: 600 })).toBeUndefined();
    expect(judgeByOverload(steps([1, 1]), { ratio: 0.5, duration: 60, period: 600 })).toBeUndefined();
    expect(judgeByOverload([], stated)).toEqual({ ok: false, problem: 'no_step' });
  });
});

/** Square of the load summed over a window in small slices: the slow way. */
function sampled(cycle: readonly LoadStep[], from: number, window: number): number {
  let sum = 0;
  let at = from;
  const end = from + window;
  const period = cycle.reduce((total, each) => total + each.duration, 0);
  while (at < end - 1e-9) {
    let within = at % period;
    let index = 0;
    while (index < cycle.length - 1 && within >= cycle[index]!.duration) within -= cycle[index++]!.duration;
    const left = Math.max(1e-6, Math.min(cycle[index]!.duration - within, end - at));
    sum += left * cycle[index]!.ratio ** 2;
    at += left;
  }
  // A slice of the least width may be counted for the step before it.
  return sum - 1e-4;
}

describe('a duty class with time constants', () => {
  const cycle = steps([1.5, 60], [0, 72]);

  test('is judged by rms where the period is short against all of them', () => {
    const found = solved(judgeByClass(cycle, 'II', [6000]));
    expect(found.excesses.map(({ excess }) => excess)).toEqual(['rms']);
  });

  test('is judged by the peak where it is not: a heat sink that has cooled in between carries it', () => {
    // By hand: the period is more than twice the time constant, and what is left of the last run is less than rated rise.
    const gained = 2.25 * (1 - Math.exp(-1));
    const start = (gained * Math.exp(-72 / 60)) / (1 - Math.exp(-132 / 60));
    expect(start).toBeLessThan(1);
    expect(solved(judgeByClass(cycle, 'II', [60])).covered).toBe(true);
    expect(judged(cycle, 'II').covered).toBe(false);
  });

  test('is not covered where the heat sink starts warmer than at rated current', () => {
    const dense = steps([1.5, 60], [0.5, 40]);
    const found = solved(judgeByClass(dense, 'II', [60]));
    expect(found.covered).toBe(false);
    const rise = found.excesses.find(excess => excess.excess === 'rise');
    // By hand: steady cycle of 2.25 for one time constant and 0.25 for two thirds of one.
    const [hot, cool] = [1 - Math.exp(-1), 1 - Math.exp(-2 / 3)];
    const end = (2.25 * hot + 0.25 * cool * Math.exp(-1)) / (1 - Math.exp(-5 / 3));
    expect(rise).toMatchObject({ timeConstant: 60, allowed: 1 });
    expect(rise?.excess === 'rise' ? rise.rise : undefined).toBeCloseTo(end * Math.exp(-2 / 3) + 0.25 * cool, 12);
  });

  test('counts the rise where an overload begins, not where it goes on at another level or over the end of the cycle', () => {
    // After one time constant at 1.5 the rise is 2.25·(1 − 1/e) = 1.42 already, and the overload still lasts.
    expect(solved(judgeByClass(steps([1.5, 60], [1.2, 10], [0, 120]), 'V', [60])).excesses).toEqual([]);
    expect(solved(judgeByClass(steps([1.5, 50], [0, 120], [1.5, 50]), 'V', [60])).excesses).toEqual([]);
    // What is below rated begins nothing, however warm.
    expect(solved(judgeByClass(steps([1.5, 60], [0.9, 1], [0, 120]), 'V', [60])).excesses).toEqual([]);
  });
});
