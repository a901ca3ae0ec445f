// Distortion figures and the ripple of the choke's current.

import { describe, expect, test } from 'vitest';
import { byOrder, type CurrentPart, distortion, rippleOf } from '../../../engine/physics/distortion.ts';
import { rippleCurrent } from '../../../engine/physics/filter.ts';
import { pwmSpectrum } from '../../../engine/physics/spectrum.ts';
import { type Injection, phaseLevel, reference, switchedSegments } from '../../kit/switched.ts';
import { deviation, solved } from '../../kit/solved.ts';

describe('by order', () => {
  test('lines count to the nearest order, squares adding', () => {
    const lines = [
      { frequency: 250, current: 3 },
      { frequency: 262, current: 4 },
      { frequency: 350, current: 2 },
    ];
    expect(byOrder(lines, 50, line => line.current)).toEqual([
      { order: 5, amount: 5 },
      { order: 7, amount: 2 },
    ]);
  });

  test('total and individual distortion leave out the fundamental and what lies past the highest order', () => {
    const amounts = [
      { order: 1, amount: 400 },
      { order: 5, amount: 12 },
      { order: 7, amount: 16 },
      { order: 61, amount: 100 },
    ];
    const found = distortion(amounts, 400, 50)!;
    expect(found.total).toBeCloseTo(0.05, 12);
    expect(found.orders).toEqual([
      { order: 5, ratio: 0.03 },
      { order: 7, ratio: 0.04 },
    ]);
    expect(distortion(amounts, 400)!.total).toBeGreaterThan(0.25);
    expect(distortion(amounts, 0)).toBeUndefined();
  });
});

/** Ripple (A) through one millihenry at one volt, 50 Hz and `ratio` carriers, by integrating the switched voltage. */
function switchedRipple(index: number, injection: Injection, ratio: number): { rms: number; peakToPeak: number } {
  const angular = 2 * Math.PI * 50;
  // The voltage beside the reference's own sine drives the ripple; both integrate in closed form by angle.
  const points: { readonly angle: number; readonly value: number }[] = [{ angle: 0, value: 0 }];
  let flux = 0;
  for (const segment of switchedSegments(index, injection, ratio)) {
    const parts = 6;
    const width = (segment.to - segment.from) / parts;
    for (let part = 1; part <= parts; part++) {
      const angle = segment.from + part * width;
      flux += (phaseLevel(segment) / 2) * width;
      points.push({ angle, value: (flux - (index / 2) * Math.sin(angle)) / angular / 1e-3 });
    }
  }
  let mean = 0,
    square = 0,
    peakToPeak = 0;
  for (let at = 1; at < points.length; at++) {
    const [from, to] = [points[at - 1]!, points[at]!];
    const width = (to.angle - from.angle) / (2 * Math.PI);
    mean += (width * (from.value + to.value)) / 2;
    square += (width * (from.value ** 2 + from.value * to.value + to.value ** 2)) / 3;
  }
  const period = (2 * Math.PI) / ratio;
  for (let start = 0; start < 4 * ratio - 3; start++) {
    const values = points
      .filter(({ angle }) => angle >= (start * period) / 4 && angle <= (start * period) / 4 + period)
      .map(({ value }) => value);
    peakToPeak = Math.max(peakToPeak, Math.max(...values) - Math.min(...values));
  }
  return { rms: Math.sqrt(square - mean * mean), peakToPeak };
}

/** The same from the spectrum: each line's phase voltage over the choke's reactance, a quarter period late. */
function spectralRipple(index: number, injection: Injection, ratio: number): readonly CurrentPart[] {
  const converter = {
    dcVoltage: 1,
    modulationIndex: index,
    modulation: injection,
    switchingFrequency: ratio * 50,
    frequency: 50,
  };
  return solved(pwmSpectrum(converter, 12 * ratio * 50)).lines.map(({ frequency, voltage, sign }) => ({
    frequency,
    phasor: { re: 0, im: (-sign * voltage) / Math.sqrt(3) / (2 * Math.PI * frequency * 1e-3) },
  }));
}

describe('ripple', () => {
  test.each([
    ['sine', 0.5],
    ['sine', 0.9],
    ['third_harmonic', 1.1],
    ['space_vector', 0.7],
    ['space_vector', 1.1],
  ] as const)('%s at M = %d has the rms and the swing of the switched converter', (injection, index) => {
    const expected = switchedRipple(index, injection, 63);
    const found = rippleOf(spectralRipple(index, injection, 63), 63 * 50, 50)!;
    // Min-max injection on a locked carrier shifts the fundamental by a thousandth, which the integral sees.
    expect(deviation(found.rms, expected.rms)).toBeLessThan(injection === 'space_vector' ? 0.01 : 2e-3);
    expect(deviation(found.peakToPeak, expected.peakToPeak)).toBeLessThan(0.02);
  });

  test.each(['sine', 'third_harmonic', 'space_vector'] as const)('%s: no swing passes U_dc/(6·f·L)', injection => {
    const bound = rippleCurrent(1, 63 * 50, 1e-3)!;
    const swings = [0.2, 0.4, 0.6, 0.8, 1].map(
      index => rippleOf(spectralRipple(index, injection, 63), 63 * 50, 50)!.peakToPeak,
    );
    console.log(injection, swings.map(s => (s / bound).toFixed(3)));
    expect(Math.max(...swings)).toBeLessThan(1.03 * bound);
  });

  test('a single wave swings by twice its amplitude', () => {
    const found = rippleOf([{ frequency: 4000, phasor: { re: 3, im: 4 } }], 4000, 50)!;
    expect(found.rms).toBeCloseTo(5, 12);
    expect(deviation(found.peakToPeak, 10 * Math.SQRT2)).toBeLessThan(0.08);
    expect(found.peakToPeak).toBeLessThanOrEqual(10 * Math.SQRT2 * (1 + 1e-9));
  });

  test('nothing but a fundamental leaves none; without frequencies there is no answer', () => {
    expect(rippleOf([], 4000, 50)).toEqual({ rms: 0, peakToPeak: 0 });
    expect(rippleOf([], 0, 50)).toBeUndefined();
    expect(rippleOf([], 4000, 0)).toBeUndefined();
  });

  test('the reference of the waveform has no zero sequence left in the phase voltage', () => {
    const sum = [0, 1, 2].reduce((total, leg) => total + reference(0.3, leg, 0.9, 'sine'), 0);
    expect(Math.abs(sum)).toBeLessThan(1e-12);
  });
});
