// The six-pulse diode bridge: its threshold, and where a battery stops it.
export { type BridgeFilter, type Conduction, conductUncontrolled, type UncontrolledBridge } from './conduction.ts';

import { type StateOfChargeCurve, socAtVoltage } from './battery.ts';

/** Where a battery that is charged through the blocked bridge comes to rest. */
export type ConductionStop =
  /** Blocked at every state of charge. */
  | { readonly kind: 'never' }
  /** Conducts below this state of charge. */
  | { readonly kind: 'stops'; readonly soc: number }
  /** Still conducts when the battery is full. */
  | { readonly kind: 'beyond_full' };

/**
 * The DC voltage (V) above which the six diodes block: the peak √2·U of the line-to-line voltage (V rms) at the bridge
 * with no load, less two diode drops (V each, default none, which is the safe side).
 */
export function bridgeThreshold(lineVoltage: number, diodeDrop = 0): number {
  return Math.SQRT2 * lineVoltage - 2 * diodeDrop;
}

/**
 * The state of charge at which charging through the diodes stops: where the open-circuit voltage (V, rising with the
 * state of charge) meets the threshold of the line voltage (V rms) at the bridge with no load.
 */
export function stopStateOfCharge(emf: StateOfChargeCurve, lineVoltage: number, diodeDrop = 0): ConductionStop {
  const found = socAtVoltage(emf, bridgeThreshold(lineVoltage, diodeDrop));
  if (found.ok) return found.soc > 0 ? { kind: 'stops', soc: found.soc } : { kind: 'never' };
  return found.side === 'below' ? { kind: 'never' } : { kind: 'beyond_full' };
}
