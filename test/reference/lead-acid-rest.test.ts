// Voltage at rest of lead-acid cells against two open rules of thumb, which themselves differ.

import { restVoltages } from '../../engine/tables/chemistry.ts';
import { curveAt, makeCurve } from '../../engine/units/curve.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

const sixCells = (soc: number): number | undefined => {
  const made = makeCurve(restVoltages.lead_acid.curve);
  return made.ok && made.curve.shape !== 'surface' ? 6 * curveAt(made.curve, soc) : undefined;
};

const rule = (source: string, tolerance: number, pairs: readonly (readonly [soc: number, volts: number])[]) =>
  pairs.map(
    ([soc, expected]): ReferenceCase => ({
      name: `six cells at ${soc * 100} %, V`,
      source,
      evidence: 'common practice, no source',
      actual: () => sixCells(soc),
      expected,
      tolerance,
      absolute: true,
    }),
  );

referenceTests('lead-acid at rest', [
  ...rule('rule of thumb in a thread of lists.ettus.com', 1e-3, [
    [1, 12.6],
    [0.75, 12.4],
    [0.5, 12.2],
    [0.25, 12],
    [0, 11.6],
  ]),
  // 25 mV a cell apart: no more is promised.
  ...rule('motorhome.com, checking and maintaining batteries', 0.151, [
    [1, 12.66],
    [0.75, 12.45],
    [0.5, 12.3],
    [0.25, 12.15],
  ]),
]);
