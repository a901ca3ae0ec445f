// Cable resistances: table first, resistivity said to be such, temperature and length as they should.

import { describe, expect, test } from 'vitest';
import {
  cableElement,
  conductorResistance,
  loopResistance,
  operatingTemperature,
  skinEffectFactor,
  temperatureFactor,
} from '../../../engine/physics/cable.ts';
import { deviation, solved } from '../../kit/solved.ts';

const cold = 293.15;
const run = { conductor: 'copper', crossSection: 240e-6, length: 35, parallel: 4, temperature: cold } as const;

describe('resistance', () => {
  test('of a tabulated size is the table’s, at 20 °C', () => {
    const found = solved(conductorResistance('copper', 240e-6, cold));
    expect(found.basis).toBe('table');
    expect(deviation(found.perLength, 0.0754e-3)).toBeLessThan(1e-12);
  });

  test('of any other size comes from resistivity and says so', () => {
    const odd = solved(conductorResistance('copper', 235e-6, cold));
    expect(odd.basis).toBe('resistivity');
    expect(deviation(odd.perLength, 1 / 58 / 235)).toBeLessThan(1e-12);
  });

  test('rises with temperature', () => {
    expect(temperatureFactor('copper', cold)).toBe(1);
    expect(temperatureFactor('aluminium', 343.15)!).toBeCloseTo(298 / 248, 12);
    expect(temperatureFactor('copper', 0)).toBeUndefined();
  });

  test('of an impossible size is a problem', () => {
    expect(conductorResistance('copper', 0, cold)).toEqual({ ok: false, problem: 'impossible_input' });
    expect(conductorResistance('copper', Number.NaN, cold).ok).toBe(false);
    expect(conductorResistance('copper', 240e-6, 0).ok).toBe(false);
  });

  // 234.5 K below 0 °C, where the straight line of copper meets zero.
  test('of a conductor so cold that the straight line ends is none', () => {
    expect(temperatureFactor('copper', 273.15 - 234.5)).toBeUndefined();
    expect(temperatureFactor('copper', 273.15 - 234)).toBeGreaterThan(0);
    expect(temperatureFactor('copper', Number.POSITIVE_INFINITY)).toBeUndefined();
  });

  test.each([
    ['a length below nothing', { length: -1 }],
    ['an endless length', { length: Number.POSITIVE_INFINITY }],
    ['no conductor', { parallel: 0 }],
    ['fewer conductors than none', { parallel: -4 }],
    ['no area', { crossSection: 0 }],
  ])('of a run with %s is a problem', (_, wrong) => {
    expect(cableElement({ ...run, ...wrong }, 50)).toEqual({ ok: false, problem: 'impossible_input' });
    expect(loopResistance({ ...run, ...wrong })).toEqual({ ok: false, problem: 'impossible_input' });
  });

  test('at no frequency, or at an endless reactance, is a problem', () => {
    for (const frequency of [0, -50]) expect(cableElement(run, frequency).ok).toBe(false);
    expect(cableElement(run, 50, Number.POSITIVE_INFINITY).ok).toBe(false);
    expect(skinEffectFactor(-50, 0.0754e-3)).toBeUndefined();
  });

  test('of a run without length is none at all', () => {
    expect(cableElement({ ...run, length: 0 }, 50)).toMatchObject({
      ok: true,
      kind: 'series',
      resistance: 0,
      reactance: 0,
      basis: 'table',
    });
    expect(solved(loopResistance({ ...run, length: 0 })).resistance).toBe(0);
  });

  // IEC 60364-5-52: conductors at 90 °C under cross-linked insulation, at 70 °C under PVC (from memory).
  test('counts at the temperature that the insulation permits', () => {
    expect(operatingTemperature).toEqual({ xlpe: 363.15, pvc: 343.15 });
  });
});

/**
 * Skin effect of a round conductor, exact: (x/2)·(ber·bei' − bei·ber')/(ber'² + bei'²), Kelvin functions by their series.
 * x² = 8π·f·10⁻⁷/R'.
 */
function exactSkinEffect(x: number): number {
  let [ber, bei, berSlope, beiSlope] = [0, 0, 0, 0];
  // Term n of the Bessel series, (x/2)^2n / n!², turns by a quarter with each n.
  let term = 1;
  for (let n = 0; n < 40; n++) {
    const sign = n % 4 < 2 ? 1 : -1;
    if (n % 2 === 0) {
      ber += sign * term;
      berSlope += (sign * term * 2 * n) / x;
    } else {
      bei += sign * term;
      beiSlope += (sign * term * 2 * n) / x;
    }
    term *= (x / 2 / (n + 1)) ** 2;
  }
  return ((x / 2) * (ber * beiSlope - bei * berSlope)) / (berSlope ** 2 + beiSlope ** 2);
}

test.each([0.5, 1, 1.5, 2, 2.5])(
  'skin effect of a round conductor at x = %f is the exact one within 2 % of itself',
  x => {
    const resistance = (8 * Math.PI * 50 * 1e-7) / (x * x);
    const extra = skinEffectFactor(50, resistance)! - 1;
    expect(deviation(extra, exactSkinEffect(x) - 1)).toBeLessThan(0.02);
  },
);

describe('runs', () => {
  test('share the current between parallel conductors', () => {
    const four = solved(cableElement(run, 50));
    const one = solved(cableElement({ ...run, parallel: 1 }, 50));
    expect(one.resistance / four.resistance).toBeCloseTo(4, 12);
    expect(four.reactance).toBeCloseTo((0.08e-3 * 35) / 4, 15);
  });

  test('take a stated reactance instead of the default', () => {
    expect(solved(cableElement(run, 50, 0.1e-3)).reactance).toBeCloseTo((0.1e-3 * 35) / 4, 15);
  });

  test('take a stated resistance instead of the table, as direct-current one at its temperature', () => {
    const stated = { ...run, temperature: 363.15, stated: 0.098e-3 };
    const loop = solved(loopResistance(stated));
    expect(loop).toMatchObject({ basis: 'stated' });
    expect(loop.resistance).toBeCloseTo((2 * 35 * 0.098e-3) / 4, 15);
    const element = solved(cableElement(stated, 50));
    expect(element.resistance).toBeCloseTo((skinEffectFactor(50, 0.098e-3)! * 35 * 0.098e-3) / 4, 15);
    expect(solved(loopResistance({ ...stated, stated: Number.NaN })).basis).toBe('table');
    expect(loopResistance({ ...stated, stated: 0 }).ok).toBe(false);
  });

  test('of direct current count both poles and no skin effect', () => {
    expect(solved(loopResistance(run)).resistance).toBeCloseTo((2 * 35 * 0.0754e-3) / 4, 15);
  });

  test('of alternating current have a little more than the direct-current resistance, most in large conductors', () => {
    expect(skinEffectFactor(50, 0.727e-3)!).toBeLessThan(1.0005);
    expect(skinEffectFactor(50, 0.0754e-3)!).toBeGreaterThan(1.01);
    expect(skinEffectFactor(0, 0.0754e-3)).toBe(1);
    expect(skinEffectFactor(50, 0)).toBeUndefined();
  });
});
