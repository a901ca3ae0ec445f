// The standards' tables answer at their rows, between them and outside, as each standard says.

import { describe, expect, test } from 'vitest';
import {
  conductorResistances,
  tabulatedCrossSections,
  tabulatedResistance,
} from '../../../engine/tables/conductor-resistance.ts';
import { ecodesignLosses, ecodesignPeakEfficiency } from '../../../engine/tables/ecodesign.ts';
import { minimumImpedance } from '../../../engine/tables/minimum-impedance.ts';

describe('conductor resistance', () => {
  test('is found for every size of the table, and for nothing in between', () => {
    for (const conductor of ['copper', 'aluminium'] as const) {
      const sizes = tabulatedCrossSections(conductor);
      expect(sizes.length).toBe(conductorResistances[conductor].size);
      expect(sizes.every(size => tabulatedResistance(conductor, size) !== undefined)).toBe(true);
    }
    expect(tabulatedResistance('copper', 235e-6)).toBeUndefined();
    expect(tabulatedResistance('aluminium', 1.5e-6)).toBeUndefined();
  });
});

describe('ecodesign', () => {
  test('a rating below the first row takes that row', () => {
    expect(ecodesignLosses(16e3, 'liquid', 2)).toEqual({
      ok: true,
      loadLoss: 600,
      noLoadLoss: 63,
      interpolated: false,
    });
  });

  test('a rating above the last has no losses, but a least peak efficiency', () => {
    expect(ecodesignLosses(4e6, 'liquid', 2)).toEqual({ ok: false, problem: 'outside_table', upTo: 3150e3 });
    expect(ecodesignPeakEfficiency(3150e3, 'liquid', 2)).toBeUndefined();
    expect(ecodesignPeakEfficiency(3200e3, 'liquid', 2)).toBe(0.99532);
    expect(ecodesignPeakEfficiency(100e6, 'dry', 1)).toBe(0.99357);
  });

  test('no rating, no answer', () => {
    expect(ecodesignLosses(Number.NaN, 'dry', 2).ok).toBe(false);
    expect(ecodesignLosses(0, 'dry', 2).ok).toBe(false);
  });
});

test('least impedance has no figure above 100 MVA', () => {
  expect(minimumImpedance(101e6)).toBeUndefined();
  expect(minimumImpedance(0)).toBeUndefined();
});
