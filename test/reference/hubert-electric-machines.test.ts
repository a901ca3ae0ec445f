// Transformer regulation and fault current: worked examples of Hubert, Electric Machines.

import { divide } from '../../engine/physics/complex.ts';
import { chainOf } from '../../engine/physics/ladder.ts';
import { faultCurrentBehind, seriesImpedance } from '../../engine/physics/transformer.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';
import { regulationAtLoad } from '../kit/transformer-load.ts';

// Seen as worked solutions in a mirror of the Scilab Textbook Companion (github.com/Lavitha/Scilab_TBC); the book itself was
// not opened.
const book = 'Hubert, Electric Machines';
const evidence = 'inputs seen in source, result recomputed independently';

// Ex. 2.8: single-phase, 75 kVA, 2400/240 V, R 0.9 %, X 1.3 %; 0.016 Ω across the low side, 2300 V on the high side.
// U²/S is the base impedance of a single-phase unit as well, so the plate reads the same.
const plate = { ratedPower: 75e3, secondaryVoltage: 2400, impedance: Math.hypot(0.009, 0.013), loadLoss: 0.009 * 75e3 };
const series = () => solved(seriesImpedance(plate));
const faulted = () => {
  // With the low side shorted behind its resistance, the high side sees b/a.
  const { a, b } = chainOf([
    series(),
    { kind: 'ratio', ratio: 10 },
    { kind: 'series', resistance: 0.016, reactance: 0 },
  ]);
  const seen = divide(b, a)!;
  // The engine speaks line to line: √3 times the single phase's voltage.
  return faultCurrentBehind(Math.sqrt(3) * 2300, { resistance: seen.re, reactance: seen.im });
};

// Ex. 2.9 and 2.10: R 0.013, X 0.038, power factor 0.75, 600 V.
const lagging = { resistance: 0.013, reactance: 0.038, cosPhi: 0.75, sinPhi: Math.sqrt(1 - 0.75 ** 2) };
const leading = { ...lagging, sinPhi: -lagging.sinPhi };

const value = (source: string, name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  name,
  source: `${book}, ${source}`,
  evidence,
  actual,
  expected,
  tolerance: 1e-5,
});

referenceTests(book, [
  value(
    'Ex. 2.8 p. 66',
    'impedance of the high side',
    () => Math.hypot(series().resistance, series().reactance) / 76.8,
    0.0158114,
  ),
  value('Ex. 2.8 p. 66', 'resistance of the high side', () => series().resistance, 0.6912),
  value('Ex. 2.8 p. 66', 'reactance of the high side', () => series().reactance, 0.9984),
  value('Ex. 2.8 p. 66', 'fault current on the high side', faulted, 920.27),
  value('Ex. 2.9 p. 69', 'regulation, 0.75 lagging', () => regulationAtLoad(lagging), 0.035076),
  value('Ex. 2.9 p. 69', 'no-load voltage', () => 600 * (1 + regulationAtLoad(lagging)), 621.05),
  value('Ex. 2.10 p. 70', 'regulation, 0.75 leading', () => regulationAtLoad(leading), -0.014686),
  value('Ex. 2.10 p. 70', 'no-load voltage', () => 600 * (1 + regulationAtLoad(leading)), 591.19),
]);
