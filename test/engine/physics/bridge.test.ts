// Closed forms of the diode bridge: threshold, commutation, and where charging through the diodes stops.
import { describe, expect, it } from 'vitest';
import {
  bridgeThreshold,
  commutationDrop,
  diodeMargin,
  firingAngleFor,
  idealMeanVoltage,
  overlapAngle,
  stopStateOfCharge,
} from '../../../engine/physics/bridge.ts';

describe('the threshold', () => {
  it('is the peak of the line voltage, less two diodes', () => {
    expect(bridgeThreshold(100)).toBeCloseTo(141.4213562, 6);
    expect(bridgeThreshold(100, 0.7)).toBeCloseTo(140.0213562, 6);
  });

  it('gives a margin that is negative where they conduct', () => {
    expect(diodeMargin(400, 1.03 * Math.SQRT2 * 400)).toBeCloseTo(0.03, 12);
    expect(diodeMargin(400, 0.95 * Math.SQRT2 * 400)).toBeCloseTo(-0.05, 12);
  });
});

describe('commutation', () => {
  it('loses the mean voltage that the overlap takes', () => {
    // The mean of the two end voltages of the overlap: Ud = Ud0·(1 + cos u)/2.
    const u = overlapAngle(400, 0.1, 200);
    const mean = (idealMeanVoltage(400) * (1 + Math.cos(u ?? Number.NaN))) / 2;
    expect(idealMeanVoltage(400) - commutationDrop(0.1, 200)).toBeCloseTo(mean, 9);
  });

  it('has no end where the current is too large', () => {
    expect(overlapAngle(400, 1, 600)).toBeUndefined();
  });

  // √2·X·I/U is the fall of the cosine: 2 takes it from +1 to −1, 0 leaves it.
  it('takes up to half a turn, and no time without reactance', () => {
    const whole = overlapAngle(Math.SQRT2, 1, 2);
    expect(whole).toBeCloseTo(Math.PI, 6);
    expect(overlapAngle(400, 0, 600)).toBe(0);
    expect(overlapAngle(400, 0.1, -200)).toBeUndefined();
  });

  it('finds the firing angle for a mean voltage, if there is one', () => {
    const angle = firingAngleFor(400, 400, 0.1, 200);
    expect(idealMeanVoltage(400, angle) - commutationDrop(0.1, 200)).toBeCloseTo(400, 9);
    expect(firingAngleFor(600, 400, 0.1, 200)).toBeUndefined();
    expect(firingAngleFor(idealMeanVoltage(400), 400, 0, 0)).toBe(0);
    expect(firingAngleFor(-idealMeanVoltage(400), 400, 0, 0)).toBeCloseTo(Math.PI, 6);
    expect(firingAngleFor(-600, 400, 0, 0)).toBeUndefined();
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
