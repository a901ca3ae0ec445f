// The transformer's equivalent circuit, its limits, and that the circuit gives back the rating plate.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { solveLadder } from '../../../engine/physics/ladder.ts';
import {
  faultCurrentBehind,
  inrushPeak,
  magnetisingShunt,
  ratioTolerance,
  seriesImpedance,
  voltageRatio,
} from '../../../engine/physics/transformer.ts';
import { evenly } from '../../kit/evenly.ts';
import { deviation, solved } from '../../kit/solved.ts';

const plate = { ratedPower: 500e3, secondaryVoltage: 360, impedance: 0.06, loadLoss: 5800 };

describe('series impedance', () => {
  test('is the stated share of U²/S, its resistance the one that loses the load loss at rated current', () => {
    const { resistance, reactance } = solved(seriesImpedance(plate));
    const current = 500e3 / (Math.sqrt(3) * 360);
    expect(deviation(Math.hypot(resistance, reactance), (0.06 * 360 ** 2) / 500e3)).toBeLessThan(1e-12);
    expect(deviation(3 * resistance * current ** 2, 5800)).toBeLessThan(1e-12);
  });

  test('a load loss that alone exceeds the impedance is a problem with both ratios', () => {
    const result = seriesImpedance({ ...plate, loadLoss: 40e3 });
    expect(result).toEqual({ ok: false, problem: 'loss_exceeds_impedance', lossRatio: 0.08, impedance: 0.06 });
  });

  test('a load loss that makes up the whole impedance leaves no reactance', () => {
    expect(solved(seriesImpedance({ ...plate, loadLoss: 30e3 })).reactance).toBe(0);
  });

  test('a plate without loss has no resistance, one without impedance has nothing', () => {
    expect(solved(seriesImpedance({ ...plate, loadLoss: 0 })).resistance).toBe(0);
    expect(solved(seriesImpedance({ ...plate, loadLoss: 0, impedance: 0 }))).toMatchObject({
      resistance: 0,
      reactance: 0,
    });
  });

  test('a plate without rating or voltage is impossible', () => {
    for (const wrong of [
      { ratedPower: 0 },
      { ratedPower: -500e3 },
      { secondaryVoltage: 0 },
      { secondaryVoltage: -360 },
      { loadLoss: -1 },
      { impedance: -0.06, loadLoss: 0 },
      { impedance: Number.NaN },
      { secondaryVoltage: 1e200 },
    ]) {
      expect(seriesImpedance({ ...plate, ...wrong })).toEqual({ ok: false, problem: 'impossible_input' });
    }
  });
});

describe('magnetising branch', () => {
  test('at rated voltage takes the no-load loss and the no-load current', () => {
    const shunt = solved(magnetisingShunt({ ratedPower: 500e3, voltage: 360, noLoadLoss: 800, noLoadCurrent: 0.01 }));
    const idle = solved(solveLadder([shunt], 360, 0, 0));
    expect(idle.terminalActivePower).toBeCloseTo(800, 6);
    expect(deviation(Math.sqrt(3) * 360 * idle.terminalCurrent, 5000)).toBeLessThan(1e-12);
    expect(idle.terminalReactivePower).toBeGreaterThan(0);
  });

  test('without a stated no-load current only the loss is there', () => {
    expect(solved(magnetisingShunt({ ratedPower: 500e3, voltage: 360, noLoadLoss: 800 })).susceptance).toBe(0);
  });

  test('without a loss all of the no-load current magnetises, at the loss alone nothing does', () => {
    const given = { ratedPower: 500e3, voltage: 360, noLoadCurrent: 0.01 };
    const lossless = solved(magnetisingShunt({ ...given, noLoadLoss: 0 }));
    expect(lossless.conductance).toBe(0);
    expect(lossless.susceptance).toBeCloseTo((-0.01 * 500e3) / 360 ** 2, 12);
    expect(solved(magnetisingShunt({ ...given, noLoadLoss: 5000 })).susceptance).toBeCloseTo(0, 12);
  });

  test('an impossible plate has none', () => {
    const given = { ratedPower: 500e3, voltage: 360, noLoadLoss: 800, noLoadCurrent: 0.01 };
    for (const wrong of [
      { ratedPower: 0 },
      { ratedPower: -500e3 },
      { voltage: 0 },
      { voltage: -360 },
      { noLoadLoss: -1 },
      { noLoadCurrent: -0.01 },
      { voltage: 1e-200 },
    ])
      expect(magnetisingShunt({ ...given, ...wrong })).toEqual({ ok: false, problem: 'impossible_input' });
  });

  test('a no-load loss that alone exceeds the no-load current is a problem', () => {
    const result = magnetisingShunt({ ratedPower: 500e3, voltage: 360, noLoadLoss: 8000, noLoadCurrent: 0.01 });
    expect(result).toEqual({ ok: false, problem: 'loss_exceeds_current', lossRatio: 0.016, noLoadCurrent: 0.01 });
  });
});

describe('ratio and referred impedances', () => {
  test('a +5 % tap on the primary lowers the secondary voltage', () => {
    expect(400 / voltageRatio(400, 360, 0.05)!).toBeCloseTo(360 / 1.05, 9);
    expect([voltageRatio(400, 0), voltageRatio(0, 360), voltageRatio(400, -360), voltageRatio(-400, 360)]).toEqual(
      Array(4).fill(undefined),
    );
  });

  test('a ratio that is made half a per cent too high lowers the secondary voltage by as much', () => {
    expect(400 / voltageRatio(400, 360, 0, 0.005)!).toBeCloseTo(360 / 1.005, 9);
  });
});

describe('load', () => {
  test('the ladder steps through the regulation √((cos φ + r)² + (sin φ + x)²) − 1', () => {
    fc.assert(
      fc.property(evenly(0, 0.02), evenly(0.02, 0.12), evenly(-1.5, 1.5), (r, x, phi) => {
        // A load at the network end: seen from the converter the power flows towards the network.
        const base = 400 ** 2 / 1e6;
        const element = { kind: 'series', resistance: r * base, reactance: x * base } as const;
        const step = solved(solveLadder([element], 400, 1e6 * Math.cos(phi), 1e6 * Math.sin(phi)));
        const regulation = Math.hypot(Math.cos(phi) + r, Math.sin(phi) + x) - 1;
        expect(step.terminalVoltage / 400 - 1).toBeCloseTo(regulation, 12);
      }),
    );
  });

  test('a bolted fault behind the impedance alone draws rated current over the impedance ratio', () => {
    const current = faultCurrentBehind(360, solved(seriesImpedance(plate)))!;
    expect(deviation(current, 500e3 / (Math.sqrt(3) * 360) / 0.06)).toBeLessThan(1e-12);
    expect(faultCurrentBehind(360, { resistance: 0, reactance: 0 })).toBeUndefined();
  });

  test('the inrush default is ten times the peak of rated current', () => {
    expect(inrushPeak(500e3, 400)!).toBeCloseTo((10 * Math.SQRT2 * 500e3) / (Math.sqrt(3) * 400), 6);
    expect(inrushPeak(500e3, 400, 8)! / inrushPeak(500e3, 400)!).toBeCloseTo(0.8, 12);
    expect([inrushPeak(500e3, 0), inrushPeak(500e3, -400)]).toEqual([undefined, undefined]);
  });
});

test('the tolerance of the ratio switches where it should', () => {
  expect(ratioTolerance(0.04)).toBeCloseTo(0.004, 15);
  expect(ratioTolerance(0.06)).toBe(0.005);
});
