// Diode bridges between a network of 690 V and a battery below its crest, for the tests of uncontrolled charging.
import type { UncontrolledBridge } from '../../engine/physics/conduction.ts';

export const peak = Math.SQRT2 * 690;
export const plain: UncontrolledBridge = {
  lineVoltage: 690,
  frequency: 50,
  sourceInductance: 100e-6,
  sourceResistance: 3e-3,
  dcEmf: 0.92 * peak,
  dcResistance: 10e-3,
};
export const filtered: UncontrolledBridge = {
  ...plain,
  filter: { capacitance: 200e-6, inductance: 120e-6, resistance: 1e-3, dampingResistance: 0.05 },
};
