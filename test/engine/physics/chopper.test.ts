// A DC/DC converter: currents and energy.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chopperFlow, powerAtLink, powerAtStore } from '../../../engine/physics/chopper.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

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
