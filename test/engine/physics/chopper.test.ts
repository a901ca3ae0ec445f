// A DC/DC converter: duty ratios, currents, energy, ripple.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  capacitorCurrent,
  chokeCurrent,
  chopperFlow,
  chopperRipple,
  dutySpan,
  inductanceForRipple,
  largestRipple,
} from '../../../engine/physics/chopper.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

describe('duty ratio', () => {
  test('spans what the two voltages allow', () => {
    expect(dutySpan({ from: 400, to: 600 }, { from: 750, to: 800 })).toEqual({ ok: true, from: 0.5, to: 0.8 });
  });

  test('says which side is in the way', () => {
    const high = { from: 700, to: 850 };
    expect(dutySpan({ from: 400, to: 700 }, high)).toEqual({
      ok: false,
      problem: 'low_too_high',
      duty: 1,
      allowed: 0.98,
    });
    expect(dutySpan({ from: 8.5, to: 600 }, high)).toEqual({
      ok: false,
      problem: 'low_too_low',
      duty: 0.01,
      allowed: 0.02,
    });
    expect(dutySpan({ from: 0, to: 600 }, high)).toEqual({ ok: false, problem: 'impossible_input' });
    expect(dutySpan({ from: 600, to: 400 }, high).ok).toBe(false);
  });
});

describe('flow', () => {
  const facts = { low: 500, high: 750, efficiency: 0.98 };

  test('up and down, stated at either side', () => {
    const up = solved(chopperFlow({ ...facts, power: 100e3, at: 'low' }));
    expect(up).toMatchObject({ lowPower: 100e3, highPower: 98e3, lowCurrent: 200 });
    const down = solved(chopperFlow({ ...facts, power: -100e3, at: 'high' }));
    expect(down.lowPower).toBeCloseTo(-98e3, 9);
    expect(down.highCurrent).toBeCloseTo(-100e3 / 750, 9);
  });

  test('power in is power out and loss, whichever side states it', () => {
    const side = fc.constantFrom<'low' | 'high'>('low', 'high');
    fc.assert(
      fc.property(evenly(-1e6, 1e6), evenly(0.5, 1), side, (power, efficiency, at) => {
        const found = solved(chopperFlow({ ...facts, efficiency, power, at }));
        expect(found.loss).toBeGreaterThanOrEqual(0);
        expect(found.lowPower - found.highPower).toBeCloseTo(found.loss, 6);
        const [taken, given] = power >= 0 ? [found.lowPower, found.highPower] : [-found.highPower, -found.lowPower];
        expect(given).toBeCloseTo(taken * efficiency, 6);
        expect(found[at === 'low' ? 'lowPower' : 'highPower']).toBe(power);
      }),
    );
  });

  test('an efficiency of nothing, or above one, is none', () => {
    expect(chopperFlow({ ...facts, efficiency: 0, power: 1, at: 'low' }).ok).toBe(false);
    expect(chopperFlow({ ...facts, efficiency: 1.01, power: 1, at: 'low' }).ok).toBe(false);
  });
});

describe('ripple', () => {
  const choke = { high: 800, inductance: 0.5e-3, frequency: 4000 };

  test('is largest at half duty and gone at either end', () => {
    expect(chopperRipple({ ...choke, low: 400 })!.perPhase).toBeCloseTo(800 / (4 * 0.5e-3 * 4000), 9);
    expect(chopperRipple({ ...choke, low: 800 })!.perPhase).toBe(0);
    expect(chopperRipple({ ...choke, low: 900 })).toBeUndefined();
    expect(largestRipple({ from: 0.2, to: 0.9 }, 800, 0.5e-3, 4000)).toBeCloseTo(100, 9);
    expect(largestRipple({ from: 0.6, to: 0.9 }, 800, 0.5e-3, 4000)).toBeCloseTo(96, 9);
  });

  test('equals the volt-seconds over the inductance, on both parts of the period', () => {
    fc.assert(
      fc.property(evenly(1, 799), low => {
        const { duty, perPhase } = chopperRipple({ ...choke, low })!;
        const rising = ((choke.high - low) * duty) / (choke.inductance * choke.frequency);
        const falling = (low * (1 - duty)) / (choke.inductance * choke.frequency);
        expect(perPhase).toBeCloseTo(rising, 9);
        expect(perPhase).toBeCloseTo(falling, 9);
      }),
    );
  });

  test('staggered phases cancel: the sum follows from adding their triangles point by point', () => {
    fc.assert(
      fc.property(evenly(20, 780), fc.integer({ min: 1, max: 4 }), (low, phases) => {
        const found = chopperRipple({ ...choke, low, phases })!;
        const summed = addedTriangles(found.duty, found.perPhase, phases);
        expect(Math.abs(summed.peakToPeak - found.total)).toBeLessThan(0.05);
        expect(Math.abs(summed.rms - found.totalRms)).toBeLessThan(0.05);
      }),
      { numRuns: 40 },
    );
  });

  test('two phases cancel at half duty', () => {
    expect(chopperRipple({ ...choke, low: 400, phases: 2 })!.total).toBe(0);
    expect(chopperRipple({ ...choke, low: 400, phases: 1.5 })).toBeUndefined();
  });

  test('the inductance for a ripple makes that ripple', () => {
    const inductance = inductanceForRipple({ from: 0.3, to: 0.7 }, 800, 60, 4000)!;
    expect(largestRipple({ from: 0.3, to: 0.7 }, 800, inductance, 4000)).toBeCloseTo(60, 9);
    expect(inductanceForRipple({ from: 0.3, to: 0.7 }, 800, 0, 4000)).toBeUndefined();
  });
});

test('peak and rms of the current of a choke', () => {
  expect(chokeCurrent(-100, 20).peak).toBe(110);
  expect(chokeCurrent(100, 0).rms).toBe(100);
  expect(chokeCurrent(0, Math.sqrt(12)).rms).toBeCloseTo(1, 12);
});

test('a capacitor sees the difference between pulses and their mean', () => {
  // Pulses of 100 A for D: rms² = I²·D, mean² = I²·D².
  expect(capacitorCurrent(100, 0.3)).toBeCloseTo(Math.sqrt(100 ** 2 * 0.3 - 30 ** 2), 9);
  expect(capacitorCurrent(100, 1.1)).toBeUndefined();
});

function addedTriangles(duty: number, ripple: number, phases: number) {
  const count = 12_000;
  const values = Array.from({ length: count }, (_, index) => {
    let sum = 0;
    for (let phase = 0; phase < phases; phase++) {
      const at = (index / count + phase / phases) % 1;
      sum += ripple * (at < duty ? at / duty - 0.5 : 0.5 - (at - duty) / (1 - duty));
    }
    return sum;
  });
  const rms = Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / count);
  return { peakToPeak: Math.max(...values) - Math.min(...values), rms };
}
