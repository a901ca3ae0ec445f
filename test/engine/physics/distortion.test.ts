// Distortion figures and the ripple of the choke's current.

import { describe, expect, test } from 'vitest';
import { chokeRipple } from '../../../engine/physics/choke-ripple.ts';
import { byOrder, type CurrentPart, distortion, rippleOf } from '../../../engine/physics/distortion.ts';
import type { Modulation } from '../../../engine/physics/modulation.ts';
import { pwmSpectrum } from '../../../engine/physics/spectrum.ts';
import { deviation, solved } from '../../kit/solved.ts';

describe('by order', () => {
  test('lines count to the nearest order, squares adding', () => {
    const lines = [
      { frequency: 350, current: 2 },
      { frequency: 250, current: 3 },
      { frequency: 262, current: 4 },
      { frequency: 1150, current: 1 },
    ];
    expect(byOrder(lines, 50, line => line.current)).toEqual([
      { order: 5, amount: 5 },
      { order: 7, amount: 2 },
      { order: 23, amount: 1 },
    ]);
  });

  test('total and individual distortion leave out the fundamental and what lies past the highest order', () => {
    const amounts = [
      { order: 1, amount: 400 },
      { order: 5, amount: 12 },
      { order: 7, amount: 16 },
      { order: 50, amount: 0 },
      { order: 51, amount: 100 },
    ];
    const found = distortion(amounts, 400, 50)!;
    expect(found.total).toBeCloseTo(0.05, 12);
    expect(found.orders).toEqual([
      { order: 5, ratio: 0.03 },
      { order: 7, ratio: 0.04 },
      { order: 50, ratio: 0 },
    ]);
    expect(distortion(amounts, 400)!.total).toBeGreaterThan(0.25);
    expect(distortion(amounts, 0)).toBeUndefined();
  });
});

/** Of one volt and one millihenry: each line's phase voltage over the choke's reactance, a quarter period late. */
function spectralParts(index: number, modulation: Modulation, ratio: number, multiples: number): CurrentPart[] {
  const [frequency, switchingFrequency] = [50, ratio * 50];
  const converter = { dcVoltage: 1, modulationIndex: index, modulation, switchingFrequency, frequency };
  return solved(pwmSpectrum(converter, multiples * switchingFrequency)).lines.map(line => ({
    frequency: line.frequency,
    phasor: { re: 0, im: (-line.sign * line.voltage) / Math.sqrt(3) / (2 * Math.PI * line.frequency * 1e-3) },
  }));
}

describe('ripple', () => {
  test.each([
    ['sine', 0.5],
    ['sine', 0.9],
    ['third_harmonic', 1.1],
    ['space_vector', 0.7],
    ['space_vector', 1.1],
  ] as const)('%s at M = %d: the spectrum gives the rms of the choke, and nearly its swing', (modulation, index) => {
    const choke = { dcVoltage: 1, modulationIndex: index, modulation, switchingFrequency: 5050, inductance: 1e-3 };
    const whole = chokeRipple(choke)!;
    const found = rippleOf(spectralParts(index, modulation, 101, 12.5), 5050, 50)!;
    expect(deviation(found.rms, whole.rms)).toBeLessThan(5e-3);
    expect(found.peakToPeak).toBeLessThan(whole.peakToPeak * 1.01);
    expect(found.peakToPeak).toBeGreaterThan(whole.peakToPeak * 0.94);
  });

  test('more of the spectrum brings the swing nearer to the whole', () => {
    const choke = {
      dcVoltage: 1,
      modulationIndex: 0.8,
      modulation: 'sine',
      switchingFrequency: 5050,
      inductance: 1e-3,
    };
    const whole = chokeRipple({ ...choke, modulation: 'sine' })!.peakToPeak;
    const missing = [3.5, 8.5, 24.5].map(
      multiples => 1 - rippleOf(spectralParts(0.8, 'sine', 101, multiples), 5050, 50)!.peakToPeak / whole,
    );
    expect(missing[1]!).toBeLessThan(missing[0]!);
    expect(missing[2]!).toBeLessThan(missing[1]!);
    expect(Math.abs(missing[2]!)).toBeLessThan(0.03);
  });

  test('a single wave swings by twice its amplitude', () => {
    const found = rippleOf([{ frequency: 4000, phasor: { re: 3, im: 4 } }], 4000, 50)!;
    expect(found.rms).toBeCloseTo(5, 12);
    expect(deviation(found.peakToPeak, 10 * Math.SQRT2)).toBeLessThan(2e-3);
    expect(found.peakToPeak).toBeLessThanOrEqual(10 * Math.SQRT2 * (1 + 1e-9));
  });

  test('a part far above the switching frequency still swings', () => {
    const found = rippleOf([{ frequency: 64 * 4000, phasor: { re: 5, im: 0 } }], 4000, 50)!;
    expect(found.peakToPeak).toBeCloseTo(10 * Math.SQRT2, 6);
  });

  test('parts that meet only at the end of a period of the fundamental are met there', () => {
    // Five waves about 500 Hz in steps of 50 Hz, all at their peak 19 ms after the start.
    const parts = [400, 450, 500, 550, 600].map(frequency => {
      const turn = -2 * Math.PI * frequency * 0.019;
      return { frequency, phasor: { re: Math.cos(turn), im: Math.sin(turn) } };
    });
    // The trough half a wave beside the peak is less deep by the beat: Σ cos(2π·k·50 Hz·1 ms), k from −2 to 2.
    const trough = 1 + 2 * Math.cos(0.1 * Math.PI) + 2 * Math.cos(0.2 * Math.PI);
    expect(deviation(rippleOf(parts, 500, 50)!.peakToPeak, (5 + trough) * Math.SQRT2)).toBeLessThan(5e-3);
  });

  test('nothing but a fundamental leaves none; without frequencies there is no answer', () => {
    expect(rippleOf([], 4000, 50)).toEqual({ rms: 0, peakToPeak: 0 });
    expect(rippleOf([], 0, 50)).toBeUndefined();
    expect(rippleOf([], 4000, 0)).toBeUndefined();
  });
});
