// Ampacity: lookups, factors, what the table does not hold, and whether its columns are plausible.

import { describe, expect, test } from 'vitest';
import {
  ambientAirFactor,
  ambientSoilFactor,
  ampacitySizes,
  type CableInsulation,
  groupingFactor,
  type InstallationMethod,
  installedAmpacity,
  layoutOf,
  leastCrossSection,
  methodsFor,
  tabulatedAmpacity,
} from '../../../engine/tables/ampacity.ts';
import { solved } from '../../kit/solved.ts';

const amperes = (
  insulation: CableInsulation,
  method: InstallationMethod,
  size: number,
  conductor?: 'copper' | 'aluminium',
) => solved(tabulatedAmpacity(insulation, method, size, conductor)).current;
const celsius = (degrees: number) => degrees + 273.15;

describe('lookup', () => {
  test('every size of every column is found, however its area was written', () => {
    for (const insulation of ['pvc', 'xlpe'] as const) {
      for (const method of methodsFor(insulation)) {
        const sizes = ampacitySizes(insulation, method);
        expect(sizes.length).toBeGreaterThan(9);
        expect(ampacitySizes(insulation, method, 'aluminium').length).toBeGreaterThan(9);
        for (const size of sizes) expect(amperes(insulation, method, size)).toBeGreaterThan(0);
      }
    }
    expect(amperes('xlpe', 'F', 240 * 1e-6)).toBe(amperes('xlpe', 'F', 0.00024));
  });

  test('a size that it does not hold comes back with its neighbours', () => {
    expect(tabulatedAmpacity('xlpe', 'C', 235e-6)).toEqual({
      ok: false,
      problem: 'size_not_in_table',
      smaller: 185e-6,
      larger: 240e-6,
    });
    expect(tabulatedAmpacity('xlpe', 'C', 400e-6)).toMatchObject({ smaller: 300e-6, larger: undefined });
    expect(tabulatedAmpacity('pvc', 'F', 16e-6)).toMatchObject({ smaller: undefined, larger: 25e-6 });
    expect(tabulatedAmpacity('pvc', 'E', Number.NaN).ok).toBe(false);
  });

  test('a column that it does not hold names those that it does', () => {
    const spaced = 'G' as InstallationMethod;
    expect(tabulatedAmpacity('xlpe', spaced, 95e-6)).toEqual({
      ok: false,
      problem: 'no_column',
      methods: ['A1', 'A2', 'B1', 'B2', 'C', 'D1', 'D2', 'E', 'F'],
    });
  });

  test('seen and remembered figures are told apart', () => {
    const evidence = (method: InstallationMethod, conductor: 'copper' | 'aluminium') =>
      solved(tabulatedAmpacity('pvc', method, 35e-6, conductor)).citation.evidence;
    expect(evidence('C', 'copper')).toBe('seen in source');
    expect(evidence('B1', 'aluminium')).toBe('seen in source');
    expect(evidence('B2', 'aluminium')).toBe('from memory');
  });
});

describe('plausibility of the columns', () => {
  // Above 300 mm² skin effect and proximity come in, which depend on the metal and its temperature.
  const isUsual = (size: number) => size >= 25e-6 && size <= 300e-6;
  const large = (method: InstallationMethod) => ampacitySizes('xlpe', method).filter(isUsual);

  test('a larger conductor carries more, but less for each mm²', () => {
    for (const insulation of ['pvc', 'xlpe'] as const) {
      for (const method of methodsFor(insulation)) {
        for (const conductor of ['copper', 'aluminium'] as const) {
          const sizes = ampacitySizes(insulation, method, conductor);
          const of = (size: number) => amperes(insulation, method, size, conductor);
          for (const [index, size] of sizes.entries()) {
            if (index === 0) continue;
            const before = sizes[index - 1]!;
            expect(of(size)).toBeGreaterThan(of(before));
            expect(of(size) / size).toBeLessThan(of(before) / before);
          }
        }
      }
    }
  });

  test('free air carries more than a wall, single cores more than multicore', () => {
    for (const insulation of ['pvc', 'xlpe'] as const) {
      for (const size of large('C')) {
        expect(amperes(insulation, 'E', size)).toBeGreaterThan(amperes(insulation, 'C', size));
        expect(amperes(insulation, 'F', size)).toBeGreaterThan(amperes(insulation, 'E', size));
      }
    }
  });

  test('aluminium carries about √(1.724/2.826) of copper, its resistivity being higher', () => {
    let compared = 0;
    for (const insulation of ['pvc', 'xlpe'] as const) {
      for (const method of methodsFor(insulation)) {
        for (const size of ampacitySizes(insulation, method, 'aluminium').filter(isUsual)) {
          const copper = tabulatedAmpacity(insulation, method, size);
          if (!copper.ok) continue;
          compared++;
          const ratio = amperes(insulation, method, size, 'aluminium') / copper.current;
          expect(Math.abs(ratio / Math.sqrt(1.724 / 2.826) - 1), `${method} ${size}`).toBeLessThan(0.06);
        }
      }
    }
    // Eighteen columns of some ten sizes.
    expect(compared).toBeGreaterThan(150);
  });

  test('90 °C over 70 °C: no less than the heat allows, √(60/40), and not much more', () => {
    for (const method of ['C', 'E', 'F'] as const) {
      for (const size of large(method)) {
        const ratio = amperes('xlpe', method, size) / amperes('pvc', method, size);
        expect(ratio, `${method} ${size}`).toBeGreaterThan(Math.sqrt(60 / 40));
        expect(ratio, `${method} ${size}`).toBeLessThan(1.26);
      }
    }
  });
});

describe('factors', () => {
  test('ambient: one at 30 °C, between rows straight, outside said', () => {
    expect(solved(ambientAirFactor('xlpe', celsius(30))).factor).toBe(1);
    expect(solved(ambientAirFactor('xlpe', celsius(42.5))).factor).toBeCloseTo(0.89, 9);
    expect(solved(ambientAirFactor('pvc', celsius(10))).factor).toBe(1.22);
    expect(ambientAirFactor('pvc', celsius(61))).toEqual({
      ok: false,
      problem: 'outside_table',
      of: 'temperature',
      from: celsius(10),
      to: celsius(60),
    });
    expect(ambientAirFactor('xlpe', Number.NaN).ok).toBe(false);
  });

  test('between rows it never lies above the law that the table rounds, by more than the rounding', () => {
    for (let degrees = 10; degrees <= 60; degrees += 0.5) {
      expect(solved(ambientAirFactor('pvc', celsius(degrees))).factor).toBeLessThan(
        Math.sqrt((70 - degrees) / 40) + 0.006,
      );
      expect(solved(ambientAirFactor('xlpe', celsius(degrees))).factor).toBeLessThan(
        Math.sqrt((90 - degrees) / 60) + 0.006,
      );
    }
  });

  test('grouping: never rises, next larger number counts, a layer settles, a bunch ends', () => {
    for (const layout of ['bunched', 'wall', 'tray', 'ladder', 'duct', 'soil'] as const) {
      let before = 1;
      for (let circuits = 1; circuits <= 20; circuits++) {
        const { factor } = solved(groupingFactor(layout, circuits));
        expect(factor).toBeLessThanOrEqual(before);
        before = factor;
      }
    }
    expect(solved(groupingFactor('bunched', 10)).factor).toBe(0.45);
    expect(solved(groupingFactor('ladder', 40)).factor).toBe(0.78);
    expect(groupingFactor('bunched', 21)).toMatchObject({ ok: false, from: 1, to: 20 });
    expect(groupingFactor('soil', 21)).toMatchObject({ ok: false, from: 1, to: 20 });
    expect(groupingFactor('tray', 0).ok).toBe(false);
    expect(groupingFactor('tray', 1.5).ok).toBe(false);
  });
});

describe('as installed', () => {
  const tray = { insulation: 'xlpe', method: 'E', ambient: celsius(40), layout: 'tray', circuits: 3 } as const;

  test('table × ambient × grouping', () => {
    const found = solved(installedAmpacity(tray, 95e-6));
    expect(found.current).toBeCloseTo(298 * 0.91 * 0.82, 9);
    expect(found).toMatchObject({ tabulated: 298, ambientFactor: 0.91, groupingFactor: 0.82 });
  });

  test('the least certain part is cited', () => {
    const alone = { insulation: 'pvc', method: 'C', ambient: celsius(40), circuits: 1 } as const;
    expect(solved(installedAmpacity(alone, 35e-6)).citation.evidence).toBe('seen in source');
    expect(solved(installedAmpacity({ ...alone, circuits: 2 }, 35e-6)).citation.evidence).toBe('from memory');
    expect(solved(installedAmpacity({ ...alone, method: 'B1', circuits: 2 }, 35e-6)).citation.evidence).toBe(
      'seen in source',
    );
  });

  test('cables in the ground take the temperature of the soil and neighbours as they lie there', () => {
    expect(layoutOf('D1')).toBe('duct');
    expect(solved(ambientSoilFactor('xlpe', celsius(20))).factor).toBe(1);
    const soil = { insulation: 'xlpe', method: 'D2', ambient: celsius(25), circuits: 2 } as const;
    expect(solved(installedAmpacity(soil, 240e-6)).current).toBeCloseTo(375 * 0.96 * 0.75, 9);
    expect(solved(installedAmpacity({ ...soil, conductor: 'aluminium' }, 240e-6)).tabulated).toBe(290);
  });

  test('each problem comes through', () => {
    expect(installedAmpacity(tray, 96e-6)).toMatchObject({ problem: 'size_not_in_table' });
    expect(installedAmpacity({ ...tray, ambient: celsius(90) }, 95e-6)).toMatchObject({ problem: 'outside_table' });
    expect(installedAmpacity({ ...tray, circuits: 0 }, 95e-6)).toMatchObject({ problem: 'outside_table' });
  });

  test('the least size carries the current, the one before does not', () => {
    expect(leastCrossSection(tray, 298 * 0.91 * 0.82)).toBe(95e-6);
    expect(leastCrossSection(tray, 298 * 0.91 * 0.82 + 0.1)).toBe(120e-6);
    expect(leastCrossSection(tray, 2000)).toBeUndefined();
  });
});
