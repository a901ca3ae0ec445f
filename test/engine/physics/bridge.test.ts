// Closed forms of the diode bridge: threshold, commutation, and where charging through the diodes stops.
import { describe, expect, it } from 'vitest';
import { bridgeThreshold, stopStateOfCharge } from '../../../engine/physics/bridge.ts';

describe('the threshold', () => {
  it('is the peak of the line voltage, less two diodes', () => {
    expect(bridgeThreshold(100)).toBeCloseTo(141.4213562, 6);
    expect(bridgeThreshold(100, 0.7)).toBeCloseTo(140.0213562, 6);
  });
});

describe('the state of charge at which charging through the diodes stops', () => {
  const emf = (soc: number) => 500 + 100 * soc;

  it('is where the battery meets the peak of the line voltage', () => {
    const stop = stopStateOfCharge(emf, 550 / Math.SQRT2);
    expect(stop).toMatchObject({ kind: 'stops' });
    expect(stop.kind === 'stops' && stop.soc).toBeCloseTo(0.5, 9);
  });

  it('may be nowhere', () => {
    expect(stopStateOfCharge(emf, 499 / Math.SQRT2)).toEqual({ kind: 'never' });
    expect(stopStateOfCharge(emf, 601 / Math.SQRT2)).toEqual({ kind: 'beyond_full' });
    // At the very bottom there is nothing left to charge.
    expect(stopStateOfCharge(soc => bridgeThreshold(400) + 100 * soc, 400)).toEqual({ kind: 'never' });
  });

  it('comes earlier with a diode drop', () => {
    const stop = stopStateOfCharge(emf, 550 / Math.SQRT2, 0.5);
    expect(stop.kind === 'stops' && stop.soc).toBeCloseTo(0.49, 9);
  });
});
