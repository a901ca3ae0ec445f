// The voltage at rest that is taken for a lithium cell of which only the chemistry is known, against its electrodes.

import { describe, expect, test } from 'vitest';
import { restVoltages } from '../../engine/tables/chemistry.ts';
import { curveAt, integrateCurve, type LineCurve, makeCurve } from '../../engine/units/curve.ts';
import { publishedCells } from '../kit/electrodes.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

const cells = ['lfp', 'nmc'] as const;
const curveOf = (cell: 'lfp' | 'nmc'): LineCurve => {
  const made = makeCurve(restVoltages[cell].curve);
  if (!made.ok || made.curve.shape === 'surface') throw new Error('expected a curve over one axis');
  return made.curve;
};

// Worked out apart, in another program, from the same published functions.
const table = `
  0 2.0000 2.5000    5 2.7853 3.1094    10 2.9781 3.2959   20 3.1685 3.4852   30 3.2058 3.5814   40 3.2525 3.6670
  50 3.2660 3.7509   60 3.2688 3.8406   70 3.2740 3.9479   80 3.3097 4.0421   90 3.3142 4.0967   95 3.3164 4.1236
  100 3.6000 4.2000`;

referenceTests(
  'voltage at rest',
  [...table.matchAll(/(\d+) (\d\.\d+) (\d\.\d+)/g)].flatMap(([, percent, lfp, nmc]) =>
    cells.map(
      (cell): ReferenceCase => ({
        name: `${cell} at ${percent} %`,
        source: 'full-cell balance of the functions of Chen et al. 2020 and Afshar et al. 2017',
        evidence: 'inputs seen in source, result recomputed independently',
        actual: () => curveAt(curveOf(cell), Number(percent) / 100),
        expected: Number(cell === 'lfp' ? lfp : nmc),
        tolerance: 1e-3,
        absolute: true,
      }),
    ),
  ),
);

describe.each(cells)('%s', cell => {
  const curve = curveOf(cell);
  const published = publishedCells[cell].rest;

  test('straight lines between the points keep within 2.5 mV of the functions everywhere', () => {
    let worst = 0;
    for (let index = 0; index <= 20_000; index++) {
      worst = Math.max(worst, Math.abs(curveAt(curve, index / 20_000) - published(index / 20_000)));
    }
    expect(worst).toBeLessThan(2.5e-3);
    expect(worst).toBeGreaterThan(0);
  });

  test('and the energy from empty to full within 0.02 %', () => {
    const count = 20_000;
    let sum = 0;
    for (let index = 0; index < count; index++) sum += published((index + 0.5) / count) / count;
    expect(Math.abs(integrateCurve(curve, 0, 1) / sum - 1)).toBeLessThan(2e-4);
  });
});
