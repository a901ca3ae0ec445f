// Closed forms of the six-pulse diode bridge: threshold, mean voltage, commutation, and where a battery stops it.
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

/** How far the DC voltage lies above the threshold, as a ratio of the threshold; negative where the diodes conduct. */
export function diodeMargin(lineVoltage: number, dcVoltage: number): number {
  const threshold = bridgeThreshold(lineVoltage);
  return (dcVoltage - threshold) / threshold;
}

/** Mean no-load voltage (V) of the ideal bridge with smooth DC current, (3·√2/π)·U·cos α, at a firing angle (rad). */
export function idealMeanVoltage(lineVoltage: number, firingAngle = 0): number {
  return ((3 * Math.SQRT2) / Math.PI) * lineVoltage * Math.cos(firingAngle);
}

/**
 * Mean voltage (V) lost to commutation with smooth DC current, (3/π)·X·I, for X (Ω) a phase and I (A).
 * Holds for a DC side that is a current source and an overlap below 60°, not for a stiff DC voltage.
 */
export function commutationDrop(reactance: number, current: number): number {
  return (3 / Math.PI) * reactance * current;
}

/**
 * Overlap angle (rad) with smooth DC current: cos(α + u) = cos α − √2·X·I/U (U line-to-line rms). Undefined where the
 * commutation can't end.
 */
export function overlapAngle(
  lineVoltage: number,
  reactance: number,
  current: number,
  firingAngle = 0,
): number | undefined {
  const cosine = Math.cos(firingAngle) - (Math.SQRT2 * reactance * current) / lineVoltage;
  return cosine >= -1 && cosine <= 1 ? Math.acos(cosine) - firingAngle : undefined;
}

/** Firing angle (rad) for a mean DC voltage (V) at a smooth current (A); undefined where it can't be reached. */
export function firingAngleFor(
  meanVoltage: number,
  lineVoltage: number,
  reactance: number,
  current: number,
): number | undefined {
  const cosine = (meanVoltage + commutationDrop(reactance, current)) / idealMeanVoltage(lineVoltage);
  return cosine >= -1 && cosine <= 1 ? Math.acos(cosine) : undefined;
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
