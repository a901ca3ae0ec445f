// The battery at one instant: constant power, what the limits leave, cells to battery, state of charge at a voltage.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { availableDischargePower, constantPower, largestPower, socAtVoltage } from '../../../engine/physics/battery.ts';

const volts = fc.double({ min: 10, max: 1500, noNaN: true });
const ohms = fc.double({ min: 1e-4, max: 1, noNaN: true });

describe('constant power', () => {
  it('gives back the power asked for, in both directions', () => {
    fc.assert(
      fc.property(volts, ohms, fc.double({ min: -2, max: 0.999, noNaN: true }), (emf, resistance, share) => {
        fc.pre(Math.abs(share) > 1e-9);
        const power = share * largestPower(emf, resistance);
        const found = constantPower(emf, resistance, power);
        if (!found.ok) throw new Error('infeasible');
        expect(Math.abs(found.current * found.voltage - power)).toBeLessThanOrEqual(1e-9 * Math.abs(power));
        expect(Math.sign(found.current)).toBe(Math.sign(power));
        expect(found.voltage).toBeGreaterThanOrEqual(emf / 2 - 1e-6 * emf);
      }),
    );
  });

  it('takes the smaller of the two currents', () => {
    // 100 V, 1 Ω, 900 W: 10 A at 90 V, not 90 A at 10 V.
    expect(constantPower(100, 1, 900)).toEqual({ ok: true, current: 10, voltage: 90 });
  });

  it('needs no resistance', () => {
    expect(constantPower(800, 0, 80_000)).toEqual({ ok: true, current: 100, voltage: 800 });
    expect(constantPower(800, 0, -80_000)).toEqual({ ok: true, current: -100, voltage: 800 });
    expect(largestPower(800, 0)).toBe(Number.POSITIVE_INFINITY);
  });

  it('reports more than E²/4R, and a battery without voltage', () => {
    expect(constantPower(100, 1, 2501)).toEqual({ ok: false, largestPower: 2500 });
    expect(constantPower(100, 1, 2500)).toEqual({ ok: true, current: 50, voltage: 50 });
    expect(constantPower(0, 1, 1)).toEqual({ ok: false, largestPower: 0 });
    expect(constantPower(Number.NaN, 1, 1).ok).toBe(false);
    // One that stands the wrong way round gives nothing, and takes nothing.
    for (const power of [1, 0, -1]) expect(constantPower(-100, 1, power)).toEqual({ ok: false, largestPower: 0 });
    expect(constantPower(0, 0, 0).ok).toBe(false);
  });
});

describe('available power', () => {
  const battery = { emf: 800, resistance: 0.1 };

  it('names what binds a discharge', () => {
    expect(availableDischargePower({ ...battery, voltageMin: 700, currentLimit: 500 })).toEqual({
      power: 375_000,
      current: 500,
      voltage: 750,
      binding: 'current',
    });
    const byVoltage = availableDischargePower({ ...battery, voltageMin: 700, currentLimit: 5000 });
    expect(byVoltage).toMatchObject({ binding: 'voltage', current: 1000, voltage: 700 });
    const byCollapse = availableDischargePower({ ...battery, voltageMin: 100, currentLimit: 5000 });
    expect(byCollapse).toMatchObject({ binding: 'collapse', current: 4000, power: 1_600_000 });
  });

  it('is nothing outside the voltage limits', () => {
    expect(availableDischargePower({ ...battery, voltageMin: 810, currentLimit: 500 })).toMatchObject({
      power: 0,
      current: 0,
      binding: 'voltage',
    });
  });

  it('can be drawn, and a little more can not', () => {
    const limits = { voltageMin: fc.double({ min: 0.3, max: 0.99, noNaN: true }) };
    fc.assert(
      fc.property(volts, ohms, limits.voltageMin, (emf, resistance, share) => {
        const found = availableDischargePower({
          emf,
          resistance,
          voltageMin: share * emf,
          currentLimit: 1e9,
        });
        const more = constantPower(emf, resistance, found.power * 1.001);
        expect(!more.ok || more.voltage < share * emf).toBe(true);
        const less = constantPower(emf, resistance, found.power * 0.999);
        expect(less.ok && less.voltage >= share * emf).toBe(true);
      }),
    );
  });
});

describe('state of charge at a voltage', () => {
  const emf = (soc: number) => 600 + 200 * soc ** 2;

  it('inverts the curve', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1, noNaN: true }), soc => {
        const found = socAtVoltage(emf, emf(soc));
        expect(found.ok && found.soc).toBeCloseTo(soc, 9);
      }),
    );
  });

  it('takes the lower end of a flat stretch', () => {
    const flat = (soc: number) => 700 + 100 * Math.max(0, soc - 0.8) + 100 * Math.min(0, soc - 0.2);
    const found = socAtVoltage(flat, 700);
    expect(found.ok && found.soc).toBeCloseTo(0.2, 9);
  });

  it('says on which side of the curve a voltage lies', () => {
    expect(socAtVoltage(emf, 599)).toEqual({ ok: false, side: 'below' });
    expect(socAtVoltage(emf, 801)).toEqual({ ok: false, side: 'above' });
    expect(socAtVoltage(emf, 600)).toEqual({ ok: true, soc: 0 });
    expect(socAtVoltage(emf, 800)).toMatchObject({ ok: true });
  });
});
