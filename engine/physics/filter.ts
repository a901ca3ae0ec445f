// The filter between transformer and converter: its ladder elements, resonances, capacitor power and ripple.

import { complex, divide } from './complex.ts';
import type { SeriesElement, ShuntElement } from './ladder.ts';

export type Connection = 'star' | 'delta';

/** Capacitance of the star (F per phase) that acts like the bank as connected: three times a delta's. */
export const starCapacitance = (capacitance: number, connection: Connection): number =>
  connection === 'delta' ? 3 * capacitance : capacitance;

/**
 * Resonance (Hz) of inductance – capacitor – inductance: (1/2π)·√((L1 + L2)/(L1·L2·C)), L in H per phase and C in F
 * per phase, star. `networkInductance` is all there is on the capacitor's network side (choke, transformer, network),
 * brought to its voltage. Undefined where a value isn't above zero: then nothing resonates.
 */
export function resonanceFrequency(
  converterInductance: number,
  networkInductance: number,
  capacitance: number,
): number | undefined {
  if (!(converterInductance > 0 && networkInductance > 0 && capacitance > 0)) return undefined;
  return (
    Math.sqrt((converterInductance + networkInductance) / (converterInductance * networkInductance * capacitance)) /
    (2 * Math.PI)
  );
}

/**
 * Lower resonance (Hz), 1/(2π·√(L2·C)): what a blocked converter, a current-controlled one or the network's own
 * harmonics see. Undefined where nothing resonates.
 */
export const lowerResonance = (networkInductance: number, capacitance: number): number | undefined =>
  networkInductance > 0 && capacitance > 0 ? 1 / (2 * Math.PI * Math.sqrt(networkInductance * capacitance)) : undefined;

/**
 * Band (Hz) that the resonance should lie in: 10·f to f_sw/2. Common practice for active control of such filters
 * (Liserre, Blaabjerg, Hansen 2005; from memory).
 */
export const resonanceBand = (
  frequency: number,
  switchingFrequency: number,
): { readonly low: number; readonly high: number } => ({ low: 10 * frequency, high: switchingFrequency / 2 });

/** Reactive power (var, three-phase) that a capacitor bank delivers: ω·C·U², C in F per phase, star. */
export const capacitorReactivePower = (voltage: number, frequency: number, capacitance: number): number =>
  2 * Math.PI * frequency * capacitance * voltage * voltage;

/** Capacitor reactive power over apparent power (ratio); undefined without a rating. */
export const capacitorShare = (reactivePower: number, ratedPower: number): number | undefined =>
  ratedPower > 0 ? reactivePower / ratedPower : undefined;

/** Ladder element of a choke: inductance (H per phase) with its winding's resistance (ohm per phase). */
export const chokeElement = (frequency: number, inductance: number, resistance = 0): SeriesElement => ({
  kind: 'series',
  resistance,
  reactance: 2 * Math.PI * frequency * inductance,
});

/**
 * Ladder element of a capacitor (F per phase, star) in series with its damping resistance (ohm per phase, star).
 * Undefined where a value is negative or the frequency is zero or less.
 */
export function capacitorElement(
  frequency: number,
  capacitance: number,
  dampingResistance = 0,
): ShuntElement | undefined {
  if (!(frequency > 0 && capacitance >= 0 && dampingResistance >= 0)) return undefined;
  if (capacitance === 0) return { kind: 'shunt', conductance: 0, susceptance: 0 };
  const reactance = 1 / (2 * Math.PI * frequency * capacitance);
  const admittance = divide(complex(1, 0), complex(dampingResistance, -reactance));
  if (admittance === undefined) return undefined;
  return { kind: 'shunt', conductance: admittance.re, susceptance: admittance.im };
}

/**
 * Bound of the peak-to-peak ripple (A) in the converter-side choke of a two-level three-phase converter:
 * U_dc/(6·f_sw·L) (Reznik, Simões, Al-Durra, Muyeen, IEEE TIA 50(2), 2014; from memory), which no modulation index
 * exceeds; `choke-ripple.ts` gives the swing at an index. Undefined where nothing limits it.
 */
export const rippleCurrent = (dcVoltage: number, switchingFrequency: number, inductance: number): number | undefined =>
  switchingFrequency > 0 && inductance > 0 ? dcVoltage / (6 * switchingFrequency * inductance) : undefined;
