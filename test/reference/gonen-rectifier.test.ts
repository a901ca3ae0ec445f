// Commutation of a six-pulse bridge: Gönen, Electric Power Transmission System Engineering, 2nd ed., Ex. 6.5.

import { conductUncontrolled } from '../../engine/physics/conduction.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

// Seen as a worked solution in a mirror of the Scilab Textbook Companion (github.com/Lavitha/Scilab_TBC); the book itself was
// not opened.
//
// 53.418803 kV line to neutral; 125 kV no-load mean voltage as the book rounds it; 1600 A; 6.2292017 Ω a phase; the mean
// voltage under load is 115 482.5 V, which a battery behind a smoothing inductance stands for.
const resistance = 0.01;
const result = () =>
  conductUncontrolled({
    // The line voltage whose mean, 3·√2/π of it, is the book's rounded 125 kV.
    lineVoltage: (125e3 * Math.PI) / (3 * Math.SQRT2),
    frequency: 60,
    sourceInductance: 6.2292017 / (2 * Math.PI * 60),
    sourceResistance: 0,
    dcEmf: 115_482.5 - resistance * 1600,
    dcResistance: resistance,
    dcInductance: 1000,
  });

const value = (name: string, actual: () => number | undefined, expected: number, tolerance: number): ReferenceCase => ({
  name,
  source: 'Gönen, Electric Power Transmission System Engineering, 2nd ed., Ex. 6.5',
  evidence: 'inputs seen in source, result recomputed independently',
  actual,
  expected,
  tolerance,
});

referenceTests('Gönen, rectifier with commutating reactance', [
  value('mean current at the mean voltage under load', () => result().meanCurrent, 1600, 1e-4),
  value('power of the DC side', () => result().batteryPower, 115_482.5 * 1600, 1e-3),
  // The book takes the ratio of the mean voltages, which leaves the shape of the overlap out.
  value('displacement factor, about', () => result().displacementFactor, 0.92386, 0.01),
]);
