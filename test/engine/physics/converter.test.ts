// The converter's losses in both directions of power.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { acFromDc, dcFromAc, type LossModel, polynomialLoss } from '../../../engine/physics/converter.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const losses = { kind: 'polynomial', fixed: 500, linear: 5, quadratic: 0.01 } as const;
const switching = {
  perAmpere: 4,
  referenceDcVoltage: 600,
  referenceFrequency: 3000,
  dcVoltage: 750,
  frequency: 6000,
};
const flat: LossModel = { kind: 'efficiency', efficiency: 0.98 };

describe('loss', () => {
  test('is a + b·I + c·I²', () => {
    expect(polynomialLoss(losses, 600)).toBe(500 + 3000 + 3600);
  });

  test('of switching scales with direct voltage and frequency', () => {
    expect(polynomialLoss({ ...losses, switching }, 600)).toBe(7100 + 4 * 600 * 1.25 * 2);
  });

  test('comes out of the battery while discharging and out of the network while charging', () => {
    expect(solved(dcFromAc(400e3, 600, losses)).dcPower).toBe(407_100);
    expect(solved(dcFromAc(-400e3, 600, losses)).dcPower).toBe(-392_900);
    expect(solved(dcFromAc(400e3, 600, flat)).dcPower).toBeCloseTo(400e3 / 0.98, 6);
    expect(solved(dcFromAc(-400e3, 600, flat)).dcPower).toBeCloseTo(-400e3 * 0.98, 6);
  });

  test('at idle is drawn from the battery, and no efficiency is told', () => {
    expect(dcFromAc(0, 0, losses)).toEqual({ ok: true, acPower: 0, dcPower: 500, loss: 500, efficiency: undefined });
  });

  test('larger than the power drawn from the network is fed from both sides', () => {
    const trickle = solved(dcFromAc(-300, 0, losses));
    expect(trickle.dcPower).toBe(200);
    expect(trickle.efficiency).toBeUndefined();
  });

  test('of each kind may be nothing', () => {
    expect(polynomialLoss({ kind: 'polynomial', fixed: 0, linear: 0, quadratic: 0 }, 600)).toBe(0);
    expect(polynomialLoss({ ...losses, switching: { ...switching, perAmpere: 0 } }, 600)).toBe(7100);
    expect(polynomialLoss({ ...losses, switching: { ...switching, dcVoltage: 0 } }, 600)).toBe(7100);
    expect(polynomialLoss({ ...losses, switching: { ...switching, frequency: 0 } }, 600)).toBe(7100);
    expect(solved(dcFromAc(400e3, 600, { kind: 'efficiency', efficiency: 1 })).loss).toBe(0);
    expect(solved(acFromDc(400e3, 600, { kind: 'efficiency', efficiency: 1 })).loss).toBe(0);
  });
});

describe('efficiency', () => {
  test('is what is given over what is taken, in either direction', () => {
    expect(solved(dcFromAc(400e3, 600, losses)).efficiency).toBeCloseTo(400 / 407.1, 12);
    expect(solved(dcFromAc(-400e3, 600, losses)).efficiency).toBeCloseTo(392.9 / 400, 12);
    expect(solved(acFromDc(400e3, 600, flat)).efficiency).toBeCloseTo(0.98, 12);
    expect(solved(acFromDc(-400e3, 600, flat)).efficiency).toBeCloseTo(0.98, 12);
  });

  test('is not told where nothing is left of the power', () => {
    expect(solved(dcFromAc(-500, 0, losses))).toMatchObject({ dcPower: 0, efficiency: undefined });
    expect(solved(acFromDc(500, 0, losses))).toMatchObject({ acPower: 0, efficiency: undefined });
  });
});

describe('an impossible model is a problem from either side', () => {
  const problem = { ok: false, problem: 'impossible_input' };
  const of = (model: LossModel, current = 600) => [dcFromAc(1e3, current, model), acFromDc(1e3, current, model)];

  test.each([0, -0.1, 1.02, Number.NaN])('an efficiency of %d', efficiency => {
    expect(of({ kind: 'efficiency', efficiency })).toEqual([problem, problem]);
  });

  test.each(['fixed', 'linear', 'quadratic'])('a negative %s loss', part => {
    expect(of({ ...losses, [part]: -1e-3 })).toEqual([problem, problem]);
  });

  test.each([
    ['perAmpere', -4],
    ['referenceDcVoltage', 0],
    ['referenceDcVoltage', -600],
    ['referenceFrequency', 0],
    ['referenceFrequency', -3000],
    ['dcVoltage', -750],
    ['frequency', -6000],
  ])('switching with %s %d', (fact, value) => {
    expect(of({ ...losses, switching: { ...switching, [fact]: value } })).toEqual([problem, problem]);
  });

  test('a current that is negative or not known, a power that is not', () => {
    expect(of(losses, -600)).toEqual([problem, problem]);
    expect(of(losses, Number.NaN)).toEqual([problem, problem]);
    expect([dcFromAc(Number.NaN, 1, flat), acFromDc(Number.NaN, 1, flat)]).toEqual([problem, problem]);
    expect(dcFromAc(Number.POSITIVE_INFINITY, 1, losses)).toEqual(problem);
  });
});

test('either side found from the other, and loss never negative', () => {
  const power = evenly(-500e3, 500e3);
  const current = evenly(0, 900);
  fc.assert(
    fc.property(power, current, fc.constantFrom<LossModel>(losses, flat), (acPower, amperes, model) => {
      const forward = solved(dcFromAc(acPower, amperes, model));
      const back = solved(acFromDc(forward.dcPower, amperes, model));
      expect(back.acPower).toBeCloseTo(acPower, 6);
      expect(forward.loss).toBeGreaterThanOrEqual(0);
    }),
  );
});
