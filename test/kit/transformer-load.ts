// A loaded transformer as textbooks have it, worked through the engine's ladder, which is what a plant is solved by.

import { solveLadder } from '../../engine/physics/ladder.ts';
import { magnetisingShunt, seriesImpedance } from '../../engine/physics/transformer.ts';
import { solved } from './solved.ts';

/** Ratios of the rated impedance; positive sin φ for a load that takes reactive power. */
export interface RelativeLoad {
  readonly resistance: number;
  readonly reactance: number;
  readonly cosPhi: number;
  readonly sinPhi: number;
}

/** Rise of the voltage from the load, at rated power and voltage, to behind the impedance, over that at the load. */
export function regulationAtLoad({ resistance, reactance, cosPhi, sinPhi }: RelativeLoad): number {
  return solved(solveLadder([{ kind: 'series', resistance, reactance }], 1, cosPhi, sinPhi)).terminalVoltage - 1;
}

/**
 * Power at the load over power taken, as textbooks add the losses up: those of the windings without the core, and those
 * of the core at rated voltage without a load. (In a plant the core's current passes a winding as well.)
 */
export function efficiencyAtLoad(
  plate: { readonly ratedPower: number; readonly noLoadLoss: number; readonly loadLoss: number },
  load: number,
  cosPhi: number,
): number {
  const { ratedPower, noLoadLoss, loadLoss } = plate;
  const voltage = 400;
  const active = load * ratedPower * cosPhi;
  const reactive = load * ratedPower * Math.sqrt(1 - cosPhi * cosPhi);
  const impedance = loadLoss / ratedPower;
  const windings = solved(seriesImpedance({ ratedPower, secondaryVoltage: voltage, impedance, loadLoss }));
  const core = solved(magnetisingShunt({ ratedPower, voltage, noLoadLoss }));
  const loss =
    solved(solveLadder([windings], voltage, active, reactive)).totalLoss +
    solved(solveLadder([core], voltage, 0, 0)).totalLoss;
  return active / (active + loss);
}
