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
  powerAtLink,
  powerAtStore,
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
  });

  test('is allowed up to the very ends of what the switches can do', () => {
    expect(dutySpan({ from: 16, to: 784 }, { from: 800, to: 800 })).toEqual({ ok: true, from: 0.02, to: 0.98 });
    expect(dutySpan({ from: 400, to: 400 }, { from: 800, to: 800 }, { from: 0.5, to: 0.5 }).ok).toBe(true);
    expect(dutySpan({ from: 1, to: 800 }, { from: 800, to: 800 }, { from: 0, to: 1 }).ok).toBe(true);
  });

  test.each([
    [
      { from: 0, to: 600 },
      { from: 700, to: 850 },
    ],
    [
      { from: 600, to: 400 },
      { from: 700, to: 850 },
    ],
    [
      { from: 400, to: 600 },
      { from: 0, to: 850 },
    ],
    [
      { from: 400, to: 600 },
      { from: 850, to: 700 },
    ],
    [
      { from: 400, to: 600 },
      { from: 700, to: Number.POSITIVE_INFINITY },
    ],
    [
      { from: 400, to: 600 },
      { from: 700, to: 850 },
      { from: -0.1, to: 0.98 },
    ],
    [
      { from: 400, to: 600 },
      { from: 700, to: 850 },
      { from: 0.02, to: 1.1 },
    ],
    [
      { from: 400, to: 600 },
      { from: 700, to: 850 },
      { from: 0.9, to: 0.1 },
    ],
  ] as const)('of impossible spans is none: %o, %o, %o', (low, above, limits?: { from: number; to: number }) => {
    expect(dutySpan(low, above, limits)).toEqual({ ok: false, problem: 'impossible_input' });
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
    for (const wrong of [
      { efficiency: 0 },
      { efficiency: 1.01 },
      { low: 0 },
      { low: -500 },
      { high: 0 },
      { high: -750 },
      { power: Number.NaN },
    ])
      expect(chopperFlow({ ...facts, power: 1, at: 'low', ...wrong })).toEqual({
        ok: false,
        problem: 'impossible_input',
      });
    expect(solved(chopperFlow({ ...facts, efficiency: 1, power: 1, at: 'low' })).loss).toBe(0);
  });

  test('between store and link takes its loss in either direction', () => {
    expect(powerAtStore(98e3, 0.98)).toBeCloseTo(100e3, 9);
    expect(powerAtStore(-100e3, 0.98)).toBeCloseTo(-98e3, 9);
    expect(powerAtStore(1e3, 1)).toBe(1e3);
    for (const power of [98e3, -98e3, 0]) expect(powerAtLink(powerAtStore(power, 0.98)!, 0.98)).toBeCloseTo(power, 9);
    for (const efficiency of [0, -0.98, 1.01, Number.NaN]) expect(powerAtStore(1e3, efficiency)).toBeUndefined();
    expect(powerAtStore(Number.NaN, 0.98)).toBeUndefined();
  });
});

describe('ripple', () => {
  const choke = { high: 800, inductance: 0.5e-3, frequency: 4000 };

  test('is largest at half duty and gone at either end', () => {
    expect(chopperRipple({ ...choke, low: 400 })!.perPhase).toBeCloseTo(800 / (4 * 0.5e-3 * 4000), 9);
    expect(chopperRipple({ ...choke, low: 800 })!.perPhase).toBe(0);
    for (const wrong of [
      { low: 900 },
      { low: 0 },
      { low: -400 },
      { inductance: 0 },
      { inductance: -1e-3 },
      { frequency: 0 },
      { frequency: -4000 },
      { phases: 0 },
      { phases: 1.5 },
    ])
      expect(chopperRipple({ ...choke, low: 400, ...wrong })).toBeUndefined();
    expect(largestRipple({ from: 0.2, to: 0.9 }, 800, 0.5e-3, 4000)).toBeCloseTo(100, 9);
    expect(largestRipple({ from: 0.6, to: 0.9 }, 800, 0.5e-3, 4000)).toBeCloseTo(96, 9);
    expect(largestRipple({ from: 0.1, to: 0.4 }, 800, 0.5e-3, 4000)).toBeCloseTo(96, 9);
    expect(largestRipple({ from: 0, to: 1 }, 800, 0.5e-3, 4000)).toBeCloseTo(100, 9);
    for (const [from, to, high, inductance, frequency] of [
      [-0.1, 0.9, 800, 0.5e-3, 4000],
      [0.1, 1.1, 800, 0.5e-3, 4000],
      [0.1, 0.9, 0, 0.5e-3, 4000],
      [0.1, 0.9, 800, 0, 4000],
      [0.1, 0.9, 800, 0.5e-3, 0],
    ] as const)
      expect(largestRipple({ from, to }, high, inductance, frequency)).toBeUndefined();
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
    expect(inductanceForRipple({ from: 0.3, to: 0.7 }, 0, 60, 4000)).toBeUndefined();
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
  expect(capacitorCurrent(-100, 0.3)).toBe(capacitorCurrent(100, 0.3));
  expect([capacitorCurrent(100, 0), capacitorCurrent(100, 1)]).toEqual([0, 0]);
  expect([capacitorCurrent(100, 1.1), capacitorCurrent(100, -0.1)]).toEqual([undefined, undefined]);
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
