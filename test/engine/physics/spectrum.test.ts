// The double Fourier series of pulse-width modulation against a converter switched in time.

import { describe, expect, test } from 'vitest';
import { highestIndex } from '../../../engine/physics/sidebands.ts';
import {
  type ModulatedConverter,
  modulationIndexFor,
  pwmSpectrum,
  totalPwmVoltage,
} from '../../../engine/physics/spectrum.ts';
import { deviation, solved } from '../../kit/solved.ts';
import {
  harmonicOf,
  type Injection,
  lineLevel,
  phaseLevel,
  rmsLevel,
  type Segment,
  switchedSegments,
} from '../../kit/switched.ts';

const injections: readonly Injection[] = ['sine', 'third_harmonic', 'space_vector'];
const levelsToLineRms = Math.sqrt(3) / (2 * Math.SQRT2);

/** A converter on one volt, so that voltages read as ratios of the direct voltage. */
const unit = (modulation: Injection, modulationIndex: number, ratio: number): ModulatedConverter => ({
  dcVoltage: 1,
  modulationIndex,
  modulation,
  switchingFrequency: ratio * 50,
  frequency: 50,
});

const signedLines = (converter: ModulatedConverter, upTo: number, negligible: number): Map<number, number> =>
  new Map(solved(pwmSpectrum(converter, upTo, negligible)).lines.map(line => [line.order, line.sign * line.voltage]));

describe.each(injections)('%s', injection => {
  test.each([
    [0.3, 15],
    [0.8, 39],
    [1, 40],
    [0.5, 21],
    [0.95, 26],
  ])('every line of the switched waveform, M = %d, %i carriers a turn', (index, ratio) => {
    const segments = switchedSegments(index, injection, ratio);
    const lines = signedLines(unit(injection, index, ratio), 4.3 * ratio * 50, 1e-6);
    expect(lines.size).toBeGreaterThan(10);
    for (let order = 2; order <= 4.3 * ratio; order++) {
      const { cosine, sine } = harmonicOf(segments, order, phaseLevel);
      expect(Math.abs(cosine * levelsToLineRms - (lines.get(order) ?? 0)), `order ${order}`).toBeLessThan(4e-6);
      expect(Math.abs(sine), `order ${order} has no sine`).toBeLessThan(1e-9);
    }
  });

  test('a carrier at 20.5 times the fundamental has its lines at half orders', () => {
    const segments = switchedSegments(0.9, injection, 20.5, 2);
    const lines = signedLines(unit(injection, 0.9, 20.5), 80 * 50, 1e-6);
    expect([...lines.keys()].some(order => order % 1 === 0.5)).toBe(true);
    for (let half = 3; half <= 160; half++) {
      const { cosine } = harmonicOf(segments, half / 2, phaseLevel);
      expect(Math.abs(cosine * levelsToLineRms - (lines.get(half / 2) ?? 0)), `order ${half / 2}`).toBeLessThan(4e-6);
    }
  });

  test.each([0.4, 0.8, 1])('total rms of the switched waveform at M = %d', index => {
    const measured = rmsLevel(switchedSegments(index, injection, 201), lineLevel) / 2;
    expect(deviation(totalPwmVoltage(1, index), measured)).toBeLessThan(1e-4);
  });

  test('the lines up to a bound approach the total from below, the gap shrinking with the bound', () => {
    const converter = unit(injection, 0.8, 39.37);
    const gap = (multiples: number): number => {
      const { fundamental, lines, totalVoltage } = solved(pwmSpectrum(converter, multiples * 39.37 * 50));
      return totalVoltage ** 2 - lines.reduce((sum, { voltage }) => sum + voltage ** 2, fundamental ** 2);
    };
    const [near, far] = [gap(5.5), gap(11.5)];
    expect(far).toBeGreaterThan(0);
    // What is left of a switched waveform falls as one over the bound.
    expect(far / near).toBeGreaterThan(0.4);
    expect(far / near).toBeLessThan(0.55);
  });

  test("Parseval: the voltage's integral has the rms of all its lines together", () => {
    const ratio = 39;
    const segments = switchedSegments(0.85, injection, ratio);
    const { lines } = solved(pwmSpectrum(unit(injection, 0.85, ratio), 16 * ratio * 50, 1e-6));
    const summed = lines.reduce((sum, { order, voltage }) => sum + (voltage / order) ** 2, 0);
    // The fundamental would hide the rest: it is taken out of the waveform as it is there.
    const fundamental = harmonicOf(segments, 1, phaseLevel).cosine * levelsToLineRms;
    expect(fundamental).toBeCloseTo(0.85 * levelsToLineRms, 2);
    expect(deviation(summed, integralRms(segments) ** 2 - fundamental ** 2)).toBeLessThan(1e-3);
  });

  test('has no line at the harmonics of the fundamental far below the carrier', () => {
    const { lines } = solved(pwmSpectrum(unit(injection, 0.9, 160), 2500, 1e-4));
    expect(lines).toEqual([]);
  });

  test.each([8, 10, 20.5])(
    'its lines rise from above the mean to the bound, the fundamental apart: ratio %d',
    ratio => {
      const { lines } = solved(pwmSpectrum(unit(injection, 0.9, ratio), 50 * 50, 1e-6));
      const orders = lines.map(({ order }) => order);
      expect(orders).toEqual([...orders].sort((a, b) => a - b));
      expect(orders[0]!).toBeGreaterThan(0);
      expect(orders).not.toContain(1);
      expect(orders.at(-1)!).toBeLessThanOrEqual(50);
      expect(orders.at(-1)!).toBeGreaterThan(45);
      for (const { order, frequency } of lines) expect(frequency).toBeCloseTo(50 * order, 9);
    },
  );

  test('says where its linear range ends', () => {
    const end = highestIndex(injection);
    expect(pwmSpectrum(unit(injection, end, 60), 5000).ok).toBe(true);
    expect(pwmSpectrum(unit(injection, end + 0.01, 60), 5000)).toEqual({
      ok: false,
      problem: 'overmodulated',
      highestIndex: end,
    });
  });
});

/** Rms over a turn of the integral (by angle) of the line voltage over the direct voltage, its mean taken out. */
function integralRms(segments: readonly Segment[]): number {
  const points: { readonly angle: number; readonly value: number }[] = [{ angle: 0, value: 0 }];
  let value = 0;
  for (const segment of segments) {
    value += (lineLevel(segment) / 2) * (segment.to - segment.from);
    points.push({ angle: segment.to, value });
  }
  let mean = 0,
    square = 0;
  for (let index = 1; index < points.length; index++) {
    const [from, to] = [points[index - 1]!, points[index]!];
    const width = (to.angle - from.angle) / (2 * Math.PI);
    mean += (width * (from.value + to.value)) / 2;
    square += (width * (from.value ** 2 + from.value * to.value + to.value ** 2)) / 3;
  }
  return Math.sqrt(square - mean * mean);
}

describe('what the spectrum refuses', () => {
  test('a carrier too slow to keep its sidebands apart', () => {
    expect(pwmSpectrum(unit('sine', 0.8, 5), 5000)).toEqual({ ok: false, problem: 'carrier_too_slow', leastRatio: 6 });
    expect(pwmSpectrum(unit('sine', 0.8, 6), 5000).ok).toBe(true);
  });

  test('figures that no converter has', () => {
    const impossible = { ok: false, problem: 'impossible_input' };
    expect(pwmSpectrum({ ...unit('sine', 0.8, 40), dcVoltage: 0 }, 5000)).toEqual(impossible);
    expect(pwmSpectrum({ ...unit('sine', 0.8, 40), frequency: 0 }, 5000)).toEqual(impossible);
    expect(pwmSpectrum({ ...unit('sine', 0.8, -40), frequency: -50 }, 5000)).toEqual(impossible);
    expect(pwmSpectrum({ ...unit('sine', 0.8, 40), dcVoltage: Number.POSITIVE_INFINITY }, 5000)).toEqual(impossible);
    for (const index of [0, -0.8, Number.NaN]) expect(pwmSpectrum(unit('sine', index, 40), 5000)).toEqual(impossible);
    for (const upTo of [-1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(pwmSpectrum(unit('sine', 0.8, 40), upTo)).toEqual(impossible);
    for (const level of [0, -1e-5]) expect(pwmSpectrum(unit('sine', 0.8, 40), 5000, level)).toEqual(impossible);
  });
});

test('voltages are in proportion to the direct voltage', () => {
  const small = solved(pwmSpectrum(unit('third_harmonic', 0.9, 60), 10e3));
  const large = solved(pwmSpectrum({ ...unit('third_harmonic', 0.9, 60), dcVoltage: 750 }, 10e3));
  expect(large.lines.length).toBe(small.lines.length);
  large.lines.forEach((line, index) => {
    expect(deviation(line.voltage, 750 * small.lines[index]!.voltage)).toBeLessThan(1e-12);
  });
  expect(deviation(large.totalVoltage, 750 * small.totalVoltage)).toBeLessThan(1e-12);
  expect(large.distortion).toBe(small.distortion);
});

test('distortion, total and fundamental belong together', () => {
  const { distortion, totalVoltage, fundamental } = solved(pwmSpectrum(unit('sine', 0.7, 60), 10e3));
  expect(deviation(Math.sqrt((totalVoltage / fundamental) ** 2 - 1), distortion)).toBeLessThan(1e-12);
});

test('a fundamental gives back the modulation index that made it', () => {
  const { fundamental } = solved(pwmSpectrum({ ...unit('sine', 0.7, 60), dcVoltage: 720 }, 10e3));
  expect(modulationIndexFor(fundamental, 720)).toBeCloseTo(0.7, 12);
  expect(modulationIndexFor(400, 0)).toBeUndefined();
});
