// What the switching of a two-level three-phase converter puts on the capacitor of its direct-current link.

import { dutyRatios, thirdOfTurn } from './duty-ratios.ts';
import type { Modulation } from './modulation.ts';
import { highestIndex } from './sidebands.ts';

/**
 * Rms current of the link's capacitor (A) for a sinusoidal line current (A rms), modulation index M (phase amplitude over
 * half the direct voltage) and cos φ: I·√(2M·(√3/(4π) + cos²φ·(√3/π − 9M/16))). The battery takes the mean, the
 * capacitor all the rest; how the zero states are shared doesn't matter, so it holds for every modulation in its linear
 * range. The ripple of the line current is neglected. Undefined outside 0…2/√3 and for |cos φ| above 1. Source: Kolar and
 * Round, analytical calculation of the rms current stress on the dc-link capacitor, 2006, from memory.
 */
export function capacitorCurrent(current: number, modulationIndex: number, cosPhi: number): number | undefined {
  if (!(modulationIndex >= 0 && modulationIndex <= greatestIndex && Math.abs(cosPhi) <= 1)) return undefined;
  const root = Math.sqrt(3);
  const square =
    2 * modulationIndex * (root / (4 * Math.PI) + cosPhi * cosPhi * (root / Math.PI - (9 * modulationIndex) / 16));
  // Never below zero in theory; rounding could bring it there.
  return current * Math.sqrt(Math.max(0, square));
}

/** The index in 0…2/√3 that loads the capacitor most at a given cos φ: (8/9)·√3/π·(1 + 1/(4·cos²φ)), or the end. */
export const worstIndex = (cosPhi: number): number =>
  Math.min(greatestIndex, ((8 * Math.sqrt(3)) / (9 * Math.PI)) * (1 + 1 / (4 * cosPhi * cosPhi)));

export type LinkOperation = {
  /** A rms of a line, sinusoidal. */
  readonly current: number;
  readonly modulationIndex: number;
  readonly cosPhi: number;
  readonly modulation: Modulation;
  /** Hz. */
  readonly switchingFrequency: number;
};

/**
 * Peak-to-peak ripple of the link's charge (C) within the worst switching period, at a switching frequency well above
 * the network's. Over the capacitance (F) it is the voltage ripple (V peak to peak) of a stiffly fed, ideal
 * capacitor; its own resistance and inductance add to that. Each period is followed exactly: the legs leave the upper
 * rail in turn, the link's current steps, the charge is a broken line symmetric to the middle. Undefined outside the
 * linear range of the modulation, for |cos φ| above 1 and without switching.
 */
export function linkChargeRipple(operation: LinkOperation): number | undefined {
  const { current, modulationIndex, cosPhi, modulation, switchingFrequency } = operation;
  const inRange = modulationIndex >= 0 && modulationIndex <= highestIndex(modulation) * (1 + 1e-9);
  if (!(inRange && Math.abs(cosPhi) <= 1 && switchingFrequency > 0)) return undefined;
  const lag = Math.acos(cosPhi);
  let largest = 0;
  // Legs and signs repeat every sixty degrees.
  for (let step = 0; step < anglesPerSector; step++) {
    const angle = (step * Math.PI) / (3 * anglesPerSector);
    largest = Math.max(largest, largestExcursion(angle, lag, modulationIndex, modulation));
  }
  // The excursion counts in half periods, and the other half mirrors it.
  return (2 * largest * Math.SQRT2 * Math.abs(current)) / (2 * switchingFrequency);
}

const greatestIndex = highestIndex('space_vector') * (1 + 1e-9);
const anglesPerSector = 240;

/** Greatest |∫(i − mean) dx| over a half period 0…1, line amplitude one, legs at the upper rail while x is below d. */
function largestExcursion(angle: number, lag: number, index: number, modulation: Modulation): number {
  const legs = dutyRatios(angle, index, modulation)
    .map((duty, leg) => ({ duty, current: Math.cos(angle - leg * thirdOfTurn - lag) }))
    .sort((left, right) => left.duty - right.duty);
  const mean = legs.reduce((sum, leg) => sum + leg.duty * leg.current, 0);
  let linked = 0,
    charge = 0,
    before = 0,
    largest = 0;
  for (const { duty, current } of legs) {
    charge += (linked - mean) * (duty - before);
    largest = Math.max(largest, Math.abs(charge));
    linked -= current;
    before = duty;
  }
  return largest;
}
