// Ride-through envelopes: what must be ridden and for how long, and whether one covers another.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  covers,
  deepestFor,
  type Envelope,
  type EnvelopePoint,
  levelAt,
  longestRide,
  makeEnvelope,
} from '../../../engine/physics/ride-through.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const points = (...pairs: readonly (readonly [time: number, level: number])[]): EnvelopePoint[] =>
  pairs.map(([time, level]) => ({ time, level }));
const lower = (...pairs: readonly (readonly [number, number])[]): Envelope =>
  solved(makeEnvelope('lower', points(...pairs))).envelope;

/** Whether a step to a level, lasting a time, must be ridden through. */
const mustRide = (envelope: Envelope, level: number, duration: number): boolean =>
  envelope.side === 'lower' ? level >= levelAt(envelope, duration) : level <= levelAt(envelope, duration);

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

describe('two envelopes', () => {
  const deep = lower([0, 0], [0.1, 0], [0.1, 0.6], [2, 0.9]);
  const long = lower([0, 0.2], [0.5, 0.2], [0.5, 0.7], [3, 0.85]);

  test('of which one lies beyond the other all the time: that one covers, by the least distance', () => {
    fc.assert(
      fc.property(anyLower, evenly(0, 0.5), (envelope, deeper) => {
        const lowered = {
          ...envelope,
          points: envelope.points.map(({ time, level }) => ({ time, level: level - deeper })),
        };
        expect(covers(lowered, envelope)!.margin).toBeCloseTo(deeper, 9);
        expect(covers(envelope, lowered)!.margin).toBeCloseTo(-deeper, 9);
      }),
    );
  });

  test('cover each other nowhere nearer to failing than at the margin', () => {
    fc.assert(
      fc.property(anyLower, anyLower, evenly(0, 5), (capability, requirement, time) => {
        const { margin, covered, time: worst } = covers(capability, requirement)!;
        expect(levelAt(requirement, time) - levelAt(capability, time)).toBeGreaterThan(margin - 1e-9);
        expect(covered).toBe(margin >= 0);
        // At its time, or just after a step there.
        const there = [worst, worst + 1e-9].map(at => levelAt(requirement, at) - levelAt(capability, at));
        expect(Math.min(...there)).toBeCloseTo(margin, 6);
      }),
    );
  });

  test('upper ones are the mirror of lower ones', () => {
    const mirror = ({ points: corners }: Envelope): Envelope => ({
      side: 'upper',
      points: corners.map(({ time, level }) => ({ time, level: 3 - level })),
    });
    fc.assert(
      fc.property(anyLower, anyLower, (first, second) => {
        const swell = covers(mirror(first), mirror(second))!;
        expect(swell.margin).toBeCloseTo(covers(first, second)!.margin, 9);
      }),
    );
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
  });
});
