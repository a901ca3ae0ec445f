// Six-pulse bridge with a battery behind resistance and inductance: Rashid, Power Electronics, 4th ed., Ex. 3.8.

import { type Conduction, conductUncontrolled } from '../../engine/physics/conduction.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

// Seen as a worked solution in Sashi20/Scilab-TBC-Uploads-1, 3941; the book itself was not opened.
//
// 208 V line to line, 60 Hz, ideal source; 1.5 mH, 2.5 Ω and 10 V on the DC side; continuous conduction.
const result = (): Conduction =>
  conductUncontrolled({
    lineVoltage: 208,
    frequency: 60,
    sourceInductance: 0,
    sourceResistance: 0,
    dcEmf: 10,
    dcResistance: 2.5,
    dcInductance: 1.5e-3,
  });

const value = (name: string, actual: () => number | undefined, expected: number, tolerance = 1e-3): ReferenceCase => ({
  name,
  source: 'Rashid, Power Electronics, 4th ed., Ex. 3.8',
  evidence: 'inputs seen in source, result recomputed independently',
  actual,
  expected,
  tolerance,
});

referenceTests('Rashid, Ex. 3.8', [
  // (Ud0 − E)/R = (280.899 − 10)/2.5
  value('mean current of the battery', () => result().meanCurrent, 108.359, 1e-5),
  value('rms current of the battery', () => result().rmsCurrent, 108.394, 1e-5),
  // Each of six diodes carries a third of the time.
  value('mean current of a diode', () => result().meanCurrent / 3, 36.12),
  value('rms current of a diode, from that of a phase', () => result().phaseRms / Math.SQRT2, 62.581),
  value('loss in the resistance', () => result().losses, 29_373),
  // Counted as the book does, without the power that the battery stores.
  value('power factor of the source', () => result().losses / apparent(), 0.922),
]);

/** √3·U·I. */
function apparent(): number {
  return Math.sqrt(3) * 208 * result().phaseRms;
}
