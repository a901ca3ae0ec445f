// The link capacitor's current against a converter switched in time.
import { describe, expect, test } from 'vitest';
import { capacitorCurrent } from '../../../engine/physics/dc-link.ts';
import { highestIndex } from '../../../engine/physics/sidebands.ts';
import { deviation } from '../../kit/solved.ts';
import { type Injection, type Segment, switchedSegments, thirdOfTurn } from '../../kit/switched.ts';

const injections: readonly Injection[] = ['sine', 'third_harmonic', 'space_vector'];
const ratio = 201;

type Step = { readonly angle: number; readonly width: number; readonly current: number };

/** Current of the link (line current of one ampere rms), the legs at the upper rail feeding it; ten steps a segment. */
function linkCurrent(segments: readonly Segment[], cosPhi: number): Step[] {
  const lag = Math.acos(cosPhi);
  return segments.flatMap(({ from, to, legs }) =>
    Array.from({ length: 10 }, (_, part): Step => {
      const width = (to - from) / 10;
      const angle = from + (part + 0.5) * width;
      const current = legs.reduce(
        (sum, level, leg) => sum + (level > 0 ? Math.SQRT2 * Math.cos(angle - leg * thirdOfTurn - lag) : 0),
        0,
      );
      return { angle, width, current };
    }),
  );
}

const meanOf = (steps: readonly Step[]): number =>
  steps.reduce((sum, { width, current }) => sum + width * current, 0) / (2 * Math.PI);

/** Rms of all but the mean. */
function alternatingRms(steps: readonly Step[]): number {
  const mean = meanOf(steps);
  return Math.sqrt(steps.reduce((sum, { width, current }) => sum + width * (current - mean) ** 2, 0) / (2 * Math.PI));
}

describe.each(injections)('%s', injection => {
  test.each([
    [0.2, 0.8],
    [0.6, 1],
    [0.85, 0],
    [1, 0.9],
    [1, -0.9],
  ])('M = %d, cos φ = %d', (index, cosPhi) => {
    const steps = linkCurrent(switchedSegments(index, injection, ratio), cosPhi);
    expect(deviation(capacitorCurrent(1, index, cosPhi)!, alternatingRms(steps))).toBeLessThan(1e-3);
  });
});

test('direction of power makes no difference, current is in proportion', () => {
  expect(capacitorCurrent(1, 0.8, -0.7)).toBe(capacitorCurrent(1, 0.8, 0.7));
  expect(capacitorCurrent(800, 0.8, 0.7)).toBe(800 * capacitorCurrent(1, 0.8, 0.7)!);
  expect(capacitorCurrent(800, 0, 1)).toBe(0);
});

test('beyond the linear range, and for no possible angle, nothing is said', () => {
  const [end, beyond] = [highestIndex('space_vector'), 1.01 * highestIndex('space_vector')];
  expect(capacitorCurrent(1, end, 1)).toBeGreaterThan(0);
  expect(capacitorCurrent(1, beyond, 1)).toBeUndefined();
  expect(capacitorCurrent(1, -0.1, 1)).toBeUndefined();
  expect(capacitorCurrent(1, 0.8, 1.1)).toBeUndefined();
  expect(capacitorCurrent(1, 0.8, -1.1)).toBeUndefined();
});
