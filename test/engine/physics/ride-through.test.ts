// Ride-through envelopes: what must be ridden and for how long, and how two of them combine.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bandProblems,
  covers,
  deepestFor,
  type Envelope,
  type EnvelopePoint,
  frequencyRide,
  leavesAt,
  levelAt,
  longestRide,
  makeEnvelope,
  mildest,
  mustRide,
  strictest,
} from '../../../engine/physics/ride-through.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const points = (...pairs: readonly (readonly [time: number, level: number])[]): EnvelopePoint[] =>
  pairs.map(([time, level]) => ({ time, level }));
const lower = (...pairs: readonly (readonly [number, number])[]): Envelope =>
  solved(makeEnvelope('lower', points(...pairs))).envelope;

/** Nothing for 150 ms, then 30 %, rising to 85 % at 1.5 s. */
const dip = lower([0, 0], [0.15, 0], [0.15, 0.3], [1.5, 0.85]);
const anyLower = fc.array(fc.tuple(evenly(0.01, 1), evenly(0, 0.3)), { minLength: 1, maxLength: 5 }).map(parts => {
  let time = 0;
  let level = parts[0]![1];
  const corners: [number, number][] = [[0, level]];
  for (const [later, more] of parts) {
    time += later;
    corners.push([time, level]);
    level += more;
    if (more > 0.15) corners.push([time, level]);
  }
  corners.push([time + 1, level]);
  return lower(...corners);
});

describe('an envelope', () => {
  test('counts the very instant of a step as inside', () => {
    expect(levelAt(dip, 0)).toBe(0);
    expect(levelAt(dip, 0.15)).toBe(0);
    expect(levelAt(dip, 0.1501)).toBeCloseTo(0.3, 3);
    expect(deepestFor(dip, 0.825)).toBeCloseTo(0.575, 12);
    expect(levelAt(dip, 100)).toBe(0.85);
    expect(mustRide(dip, 0, 0.15)).toBe(true);
    expect(mustRide(dip, 0, 0.16)).toBe(false);
  });

  test('tells how long a level must be ridden', () => {
    expect(longestRide(dip, 0)).toBe(0.15);
    expect(longestRide(dip, 0.2)).toBe(0.15);
    expect(longestRide(dip, 0.575)).toBeCloseTo(0.825, 12);
    expect(longestRide(dip, 0.85)).toBe(Number.POSITIVE_INFINITY);
    expect(longestRide(lower([0, 0.5]), 0.4)).toBeUndefined();
  });

  test('an upper one is the mirror', () => {
    const swell = solved(makeEnvelope('upper', points([0, 1.3], [0.1, 1.3], [0.1, 1.2], [60, 1.1]))).envelope;
    expect(mustRide(swell, 1.25, 0.1)).toBe(true);
    expect(mustRide(swell, 1.25, 0.2)).toBe(false);
    expect(longestRide(swell, 1.15)).toBeCloseTo(30.05, 9);
    expect(longestRide(swell, 1.4)).toBeUndefined();
  });

  test('time and level belong together', () => {
    fc.assert(
      fc.property(anyLower, evenly(0, 1.5), (envelope, level) => {
        const time = longestRide(envelope, level);
        if (time === undefined) expect(mustRide(envelope, level, 0)).toBe(false);
        else if (time === Number.POSITIVE_INFINITY) expect(mustRide(envelope, level, 1e9)).toBe(true);
        else {
          expect(mustRide(envelope, level + 1e-9, time)).toBe(true);
          expect(mustRide(envelope, level, time + 1e-3)).toBe(false);
        }
      }),
    );
  });
});

describe('problems of the corners', () => {
  const problem = (...pairs: readonly (readonly [number, number])[]) => {
    const found = makeEnvelope('lower', points(...pairs));
    return found.ok ? [] : found.problems;
  };

  test('each kind, with its place', () => {
    expect(problem()).toEqual([{ problem: 'too_few', index: 0 }]);
    expect(problem([0, 0], [Number.NaN, 1])).toEqual([{ problem: 'not_finite', index: 1 }]);
    expect(problem([0, -0.1])).toEqual([{ problem: 'negative', index: 0 }]);
    expect(problem([0.1, 0])).toEqual([{ problem: 'late_start', index: 0 }]);
    expect(problem([0, 0], [2, 0.5], [1, 0.6])).toEqual([{ problem: 'order', index: 2 }]);
    expect(problem([0, 0], [1, 0], [1, 0.5], [1, 0.6])).toEqual([{ problem: 'triple_step', index: 3 }]);
    expect(problem([0, 0.5], [1, 0.4])).toEqual([{ problem: 'turns', index: 1 }]);
    expect(problem([0, 0], [1, 0.5])).toEqual([]);
    expect(makeEnvelope('upper', points([0, 1.2], [1, 1.3])).ok).toBe(false);
  });
});

describe('a course of the voltage', () => {
  test('stays inside, leaves at a slope, or at a step', () => {
    expect(leavesAt(dip, points([0, 0.1], [0.15, 0.1], [0.15, 0.9], [3, 0.9]))).toBeUndefined();
    // 0.1 is kept too long: outside as soon as the envelope steps up.
    expect(leavesAt(dip, points([0, 0.1], [0.4, 0.1], [0.4, 0.9], [3, 0.9]))).toBe(0.15);
    // Falls from 1 to 0 within 2 s: meets the rising line.
    const slope = 0.55 / 1.35;
    const time = (1 - 0.3 + slope * 0.15) / (0.5 + slope);
    expect(leavesAt(dip, points([0, 1], [2, 0]))).toBeCloseTo(time, 9);
    expect(leavesAt(lower([0, 0.5]), points([0, 0.4], [1, 0.4]))).toBe(0);
    expect(leavesAt(dip, points([0, 1], [2, 1], [2, 0.2], [3, 0.2]))).toBe(2);
    // Back inside by the next corner, and yet it was outside.
    expect(leavesAt(dip, points([0, 1], [2, 1], [2, 0.2], [3, 0.95]))).toBe(2);
  });

  test('a constant one leaves when its time is over', () => {
    fc.assert(
      fc.property(anyLower, evenly(0, 1.5), (envelope, level) => {
        const time = longestRide(envelope, level);
        const leaves = leavesAt(envelope, points([0, level], [1e3, level]));
        if (time === undefined) expect(leaves).toBe(0);
        else if (time === Number.POSITIVE_INFINITY) expect(leaves).toBeUndefined();
        else expect(leaves).toBeCloseTo(time, 6);
      }),
    );
  });
});

describe('two envelopes', () => {
  const deep = lower([0, 0], [0.1, 0], [0.1, 0.6], [2, 0.9]);
  const long = lower([0, 0.2], [0.5, 0.2], [0.5, 0.7], [3, 0.85]);

  test('the strictest asks for whatever one of them asks, the mildest for what both do', () => {
    fc.assert(
      fc.property(anyLower, anyLower, evenly(0, 4), evenly(0, 1.5), (first, second, time, level) => {
        const both = strictest(first, second)!;
        const common = mildest(first, second)!;
        // Not on the line itself, where rounding decides.
        const near = [first, second].some(each => Math.abs(levelAt(each, time) - level) < 1e-9);
        if (near) return;
        expect(mustRide(both, level, time)).toBe(mustRide(first, level, time) || mustRide(second, level, time));
        expect(mustRide(common, level, time)).toBe(mustRide(first, level, time) && mustRide(second, level, time));
      }),
    );
  });

  test('what they make are sound envelopes, and the strictest covers both', () => {
    fc.assert(
      fc.property(anyLower, anyLower, (first, second) => {
        for (const merged of [strictest(first, second)!, mildest(first, second)!]) {
          expect(makeEnvelope('lower', merged.points).ok).toBe(true);
        }
        expect(covers(strictest(first, second)!, first)!.margin).toBeGreaterThan(-1e-9);
        expect(covers(first, mildest(first, second)!)!.margin).toBeGreaterThan(-1e-9);
      }),
    );
  });

  test('upper ones are the mirror of lower ones', () => {
    const mirror = ({ points: corners }: Envelope): Envelope => ({
      side: 'upper',
      points: corners.map(({ time, level }) => ({ time, level: 3 - level })),
    });
    fc.assert(
      fc.property(anyLower, anyLower, evenly(0, 4), (first, second, time) => {
        const swell = [mirror(first), mirror(second)] as const;
        expect(levelAt(strictest(...swell)!, time)).toBeCloseTo(3 - levelAt(strictest(first, second)!, time), 9);
        expect(levelAt(mildest(...swell)!, time)).toBeCloseTo(3 - levelAt(mildest(first, second)!, time), 9);
        expect(covers(...swell)!.margin).toBeCloseTo(covers(first, second)!.margin, 9);
      }),
    );
  });

  test('they cross where they cross', () => {
    const merged = strictest(deep, long)!;
    expect(levelAt(merged, 0.3)).toBe(0.2);
    expect(levelAt(merged, 0.05)).toBe(0);
    expect(levelAt(merged, 3)).toBe(0.85);
  });

  test('cover has a margin and the time at which it is least', () => {
    expect(covers(dip, dip)).toEqual({ covered: true, margin: 0, time: 0 });
    const weak = covers(long, deep)!;
    expect(weak).toEqual({ covered: false, margin: -0.2, time: 0 });
    // Too early a step up, good before and after it.
    const early = covers(lower([0, 0], [0.1, 0], [0.1, 0.5]), lower([0, 0], [0.1, 0], [0.1, 0.3], [0.6, 0.9]))!;
    expect(early).toEqual({ covered: false, margin: -0.2, time: 0.1 });
    const swell = solved(makeEnvelope('upper', points([0, 1.2]))).envelope;
    expect(covers(swell, dip)).toBeUndefined();
    expect(strictest(swell, dip)).toBeUndefined();
  });
});

describe('frequency bands', () => {
  const bands = [
    { from: 47, to: 48, duration: 20 },
    { from: 48, to: 49, duration: 1800 },
    { from: 49, to: 51, duration: Number.POSITIVE_INFINITY },
    { from: 51, to: 51.5, duration: 1800 },
  ];

  test('give the time for a frequency, the longer at a border, none outside', () => {
    expect(bandProblems(bands)).toEqual([]);
    expect(frequencyRide(bands, 47.5)).toBe(20);
    expect(frequencyRide(bands, 48)).toBe(1800);
    expect(frequencyRide(bands, 50)).toBe(Number.POSITIVE_INFINITY);
    expect(frequencyRide(bands, 46.9)).toBe(0);
    expect(frequencyRide(bands, 52)).toBe(0);
  });

  test('say what is wrong with them', () => {
    expect(bandProblems([])).toEqual([{ problem: 'too_few', index: 0 }]);
    expect(bandProblems(bands.slice(0, 2))).toEqual([{ problem: 'no_lasting_band', index: 0 }]);
    const normal = bands[2]!;
    expect(bandProblems([{ from: 47, to: 48, duration: 5 }, normal])).toEqual([{ problem: 'gap', index: 1 }]);
    expect(bandProblems([{ from: 47, to: 49.5, duration: 5 }, normal])).toEqual([{ problem: 'overlap', index: 1 }]);
    expect(bandProblems([{ from: 49, to: 49, duration: 5 }, normal])[0]).toEqual({ problem: 'impossible', index: 0 });
    const wrong = [normal, { from: 51, to: 52, duration: 5 }, { from: 52, to: 53, duration: 50 }];
    expect(bandProblems(wrong)).toEqual([{ problem: 'turns', index: 2 }]);
  });
});
