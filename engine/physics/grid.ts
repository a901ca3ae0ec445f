// The network behind the connection point: its impedance, its fault current, and what a duty does to its voltage.

import type { Impedance, ImpossibleInput } from './ladder.ts';

/**
 * Impedance of the network (ohm per phase) from its fault power (VA): Z = c·U²/S, split by X/R. Without `voltageFactor`
 * (c of IEC 60909-0, from memory) the fault power is taken as it is at the stated voltage. An infinite X/R means no resistance.
 */
export function networkImpedance(
  voltage: number,
  faultPower: number,
  reactanceOverResistance: number,
  voltageFactor = 1,
): (Impedance & { readonly ok: true }) | ImpossibleInput {
  if (!(voltage > 0 && faultPower > 0 && reactanceOverResistance >= 0 && voltageFactor > 0)) return impossibleInput;
  const whole = (voltageFactor * voltage * voltage) / faultPower;
  const resistance = whole / Math.hypot(1, reactanceOverResistance);
  const reactance = Math.sqrt((whole - resistance) * (whole + resistance));
  return Number.isFinite(whole) ? { ok: true, resistance, reactance } : impossibleInput;
}

/** Three-phase fault current (A rms) at the connection point: S/(√3·U), fault power in VA, voltage line to line. */
export const networkFaultCurrent = (voltage: number, faultPower: number): number | undefined =>
  voltage > 0 ? faultPower / (Math.sqrt(3) * voltage) : undefined;

/**
 * Voltage change at the connection point as a ratio of the voltage: (R·ΔP + X·ΔQ)/U², powers in W and var towards the
 * network. Positive is a rise. First order: good to about the square of the result.
 */
export const voltageChange = (
  impedance: Impedance,
  voltage: number,
  activePowerStep: number,
  reactivePowerStep: number,
): number | undefined =>
  voltage > 0
    ? (impedance.resistance * activePowerStep + impedance.reactance * reactivePowerStep) / (voltage * voltage)
    : undefined;

const impossibleInput: ImpossibleInput = { ok: false, problem: 'impossible_input' };
