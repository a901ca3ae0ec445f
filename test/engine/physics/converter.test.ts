// The converter's losses in both directions of power.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { acFromDc, dcFromAc, type LossModel, polynomialLoss } from '../../../engine/physics/converter.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const losses = { kind: 'polynomial', fixed: 500, linear: 5, quadratic: 0.01 } as const;
const flat: LossModel = { kind: 'efficiency', efficiency: 0.98 };

describe('loss', () => {
  test('is a + b·I + c·I²', () => {
    expect(polynomialLoss(losses, 600)).toBe(500 + 3000 + 3600);
  });

  test('of switching scales with direct voltage and frequency', () => {
    const switching = {
      perAmpere: 4,
      referenceDcVoltage: 600,
      referenceFrequency: 3000,
      dcVoltage: 750,
      frequency: 6000,
    };
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

  test('of an impossible model is a problem', () => {
    const problem = { ok: false, problem: 'impossible_input' };
    expect(dcFromAc(1, 1, { kind: 'efficiency', efficiency: 0 })).toEqual(problem);
    expect(dcFromAc(1, 1, { kind: 'efficiency', efficiency: 1.02 })).toEqual(problem);
    expect(dcFromAc(1, Number.NaN, losses)).toEqual(problem);
    expect(dcFromAc(1, 1, { ...losses, linear: -1 })).toEqual(problem);
    expect(acFromDc(Number.NaN, 1, flat)).toEqual(problem);
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
