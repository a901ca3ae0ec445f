// Voltage behind a transformer's impedance: Kosow, Electric Machinery and Transformers, 2nd ed., Ex. 14-14.

import { solveLadder } from '../../engine/physics/ladder.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

// Seen as a worked solution in a mirror of the Scilab Textbook Companion (github.com/Lavitha/Scilab_TBC); the book itself was
// not opened.
//
// Single-phase, 500 kVA at 230 V, 2 mΩ and 6 mΩ on the secondary, unity power factor. As one phase of three alike: three
// times the power, √3 times the voltage. The load is what the ladder calls the network.
const impedance = { kind: 'series', resistance: 0.002, reactance: 0.006 } as const;
const solution = () => solved(solveLadder([impedance], Math.sqrt(3) * 230, 3 * 500e3, 0));

const value = (name: string, actual: () => number | undefined, expected: number, tolerance = 1e-5): ReferenceCase => ({
  name,
  source: 'Kosow, Electric Machinery and Transformers, 2nd ed., Ex. 14-14',
  evidence: 'inputs seen in source, result recomputed independently',
  actual,
  expected,
  tolerance,
});

referenceTests('Kosow, Ex. 14-14', [
  value('rated current', () => solution().terminalCurrent, 2173.91),
  value('resistive drop, from the loss', () => solution().totalLoss / 3 / solution().terminalCurrent, 4.348, 1e-4),
  value(
    'reactive drop, from the reactive power',
    () => solution().terminalReactivePower / 3 / solution().terminalCurrent,
    13.043,
    1e-4,
  ),
  value('induced voltage', () => solution().terminalVoltage / Math.sqrt(3), 234.711),
  value('regulation', () => solution().terminalVoltage / (Math.sqrt(3) * 230) - 1, 0.020481, 1e-4),
]);
