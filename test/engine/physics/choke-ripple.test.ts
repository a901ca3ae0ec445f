// The choke's ripple against a converter switched in time, and against the customary bound.

import { describe, expect, test } from 'vitest';
import { chokeRipple, type SwitchedChoke } from '../../../engine/physics/choke-ripple.ts';
import { rippleCurrent } from '../../../engine/physics/filter.ts';
import { highestIndex } from '../../../engine/physics/sidebands.ts';
import { deviation } from '../../kit/solved.ts';
import { harmonicOf, type Injection, phaseLevel, switchedSegments } from '../../kit/switched.ts';

const injections: readonly Injection[] = ['sine', 'third_harmonic', 'space_vector'];
const ratio = 201;

const unit = (modulation: Injection, modulationIndex: number): SwitchedChoke => ({
  dcVoltage: 1,
  modulationIndex,
  modulation,
  switchingFrequency: ratio * 50,
  inductance: 1e-3,
});

type Point = { readonly angle: number; readonly value: number };

/** Ripple (A) on the same data: the integral of the switched phase voltage beside its own fundamental. */
function integrated(injection: Injection, index: number): Point[] {
  const segments = switchedSegments(index, injection, ratio);
  const { cosine } = harmonicOf(segments, 1, phaseLevel);
  const perAngle = 1 / (2 * Math.PI * 50 * 1e-3);
  const points: Point[] = [{ angle: 0, value: 0 }];
  let flux = 0;
  for (const segment of segments) {
    const width = (segment.to - segment.from) / 4;
    for (let part = 1; part <= 4; part++) {
      const angle = segment.from + part * width;
      flux += (phaseLevel(segment) / 2) * width;
      points.push({ angle, value: (flux - (cosine / 2) * Math.sin(angle)) * perAngle });
    }
  }
  return points;
}

function rmsOf(points: readonly Point[]): number {
  let mean = 0,
    square = 0;
  for (let at = 1; at < points.length; at++) {
    const [from, to] = [points[at - 1]!, points[at]!];
    const width = (to.angle - from.angle) / (2 * Math.PI);
    mean += (width * (from.value + to.value)) / 2;
    square += (width * (from.value ** 2 + from.value * to.value + to.value ** 2)) / 3;
  }
  return Math.sqrt(square - mean * mean);
}

/** Largest swing over four adjoining quarters of a carrier period. */
function swingOf(points: readonly Point[]): number {
  const quarters = Array.from({ length: 4 * ratio }, () => ({ least: Number.POSITIVE_INFINITY, most: -1e9 }));
  for (const { angle, value } of points) {
    const quarter = quarters[Math.min(4 * ratio - 1, Math.floor((angle * 4 * ratio) / (2 * Math.PI)))]!;
    quarter.least = Math.min(quarter.least, value);
    quarter.most = Math.max(quarter.most, value);
  }
  return Math.max(
    ...quarters.slice(3).map((_, start) => {
      const window = quarters.slice(start, start + 4);
      return Math.max(...window.map(({ most }) => most)) - Math.min(...window.map(({ least }) => least));
    }),
  );
}

describe.each(injections)('%s', injection => {
  test.each([0.3, 0.6, 0.9, 1])('M = %d has the rms and the swing of the switched converter', index => {
    const points = integrated(injection, index);
    const found = chokeRipple(unit(injection, index))!;
    expect(deviation(found.rms, rmsOf(points))).toBeLessThan(2e-3);
    expect(deviation(found.peakToPeak, swingOf(points))).toBeLessThan(0.015);
  });

  test('never swings more than U_dc/(6·f·L)', () => {
    const bound = rippleCurrent(1, ratio * 50, 1e-3)!;
    for (let index = 0; index <= highestIndex(injection); index += 0.01) {
      expect(chokeRipple(unit(injection, index))!.peakToPeak).toBeLessThanOrEqual(bound * (1 + 1e-9));
    }
  });
});

test('with injection the bound U_dc/(6·f·L) is reached at the end of the linear range', () => {
  const bound = rippleCurrent(1, ratio * 50, 1e-3)!;
  const end = highestIndex('space_vector');
  expect(deviation(chokeRipple(unit('space_vector', end))!.peakToPeak, bound)).toBeLessThan(1e-9);
  expect(deviation(chokeRipple(unit('third_harmonic', end))!.peakToPeak, bound)).toBeLessThan(1e-9);
});

// √2·U_c/(6·f·L) with U_c = M·√3/(2·√2)·U_dc; below, the largest swing lies at another angle and is larger.
test.each([
  ['space_vector', 0.7, 1.15],
  ['third_harmonic', 0.7, 1.15],
  ['sine', 0.85, 1],
] as const)('%s: from M = %d upwards it goes with the voltage that is made, up to %d', (injection, from, to) => {
  const ofVoltage = (index: number) => (index * Math.sqrt(3)) / 12 / (ratio * 50) / 1e-3;
  for (let index = from; index <= to; index += 0.05)
    expect(deviation(chokeRipple(unit(injection, index))!.peakToPeak, ofVoltage(index))).toBeLessThan(1e-9);
  expect(chokeRipple(unit(injection, from - 0.15))!.peakToPeak).toBeGreaterThan(ofVoltage(from - 0.15) * 1.001);
});

test('rises with the direct voltage, falls with inductance and frequency', () => {
  const plain = unit('space_vector', 0.8);
  const { rms } = chokeRipple(plain)!;
  expect(deviation(chokeRipple({ ...plain, dcVoltage: 2 })!.rms, 2 * rms)).toBeLessThan(1e-12);
  expect(deviation(chokeRipple({ ...plain, inductance: 2e-3 })!.rms, rms / 2)).toBeLessThan(1e-12);
  expect(deviation(chokeRipple({ ...plain, switchingFrequency: 2 * ratio * 50 })!.rms, rms / 2)).toBeLessThan(1e-12);
});

test('outside the linear range, and without choke or switching, there is no answer', () => {
  expect(chokeRipple(unit('sine', 1.01))).toBeUndefined();
  expect(chokeRipple({ ...unit('sine', 0.8), inductance: 0 })).toBeUndefined();
  expect(chokeRipple({ ...unit('sine', 0.8), switchingFrequency: Number.NaN })).toBeUndefined();
});
