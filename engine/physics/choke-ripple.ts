// The ripple current that switching drives through the converter-side choke, followed through each switching period.

import { dutyRatios } from './duty-ratios.ts';
import type { Modulation } from './modulation.ts';
import { highestIndex } from './sidebands.ts';

export type Ripple = {
  /** A rms of all parts together. */
  readonly rms: number;
  /** Largest swing within one switching period, A. */
  readonly peakToPeak: number;
};

export type SwitchedChoke = {
  /** V. */
  readonly dcVoltage: number;
  /** Amplitude of the phase voltage's fundamental over half the direct voltage. */
  readonly modulationIndex: number;
  readonly modulation: Modulation;
  /** Hz. */
  readonly switchingFrequency: number;
  /** H per phase. */
  readonly inductance: number;
};

/**
 * Rms and largest peak-to-peak ripple (A) of a phase current, beside the fundamental, with the voltage behind the choke
 * taken as a clean sine (a capacitor large enough to short the ripple) and a carrier far faster than the fundamental.
 * The flux within each switching period is a broken line, so nothing is truncated. Where the capacitor isn't that large,
 * carry the spectrum through the filter instead (`harmonics.ts`, `rippleOf`). Undefined outside the linear range of the
 * modulation and without inductance or switching.
 */
export function chokeRipple(choke: SwitchedChoke): Ripple | undefined {
  const { dcVoltage, modulationIndex, modulation, switchingFrequency, inductance } = choke;
  const inRange = modulationIndex >= 0 && modulationIndex <= highestIndex(modulation) * (1 + 1e-9);
  if (!(inRange && dcVoltage > 0 && switchingFrequency > 0 && inductance > 0)) return undefined;
  let squares = 0,
    largest = 0;
  // Half a turn: the other half mirrors it.
  for (let step = 0; step < angles; step++) {
    const shape = fluxShape(dutyRatios((step * Math.PI) / angles, modulationIndex, modulation));
    squares += shape.meanSquare;
    largest = Math.max(largest, shape.excursion);
  }
  const scale = dcVoltage / (2 * switchingFrequency * inductance);
  // The second half of a switching period mirrors the first, hence twice the excursion.
  return { rms: scale * Math.sqrt(squares / angles), peakToPeak: 2 * scale * largest };
}

const angles = 180;

/** Greatest magnitude and mean square of ∫(u − mean) dx over half a period 0…1, u the first phase's voltage over U_dc. */
function fluxShape(duties: readonly [number, number, number]): {
  readonly excursion: number;
  readonly meanSquare: number;
} {
  const [own, one, other] = duties;
  const mean = (2 * own - one - other) / 3;
  const sooner = Math.min(one, other),
    later = Math.max(one, other);
  let level = 0,
    flux = 0,
    at = 0,
    excursion = 0,
    meanSquare = 0;
  // Until one leg after the other falls, then to the end of the half. The first takes two thirds off the phase voltage,
  // the others a third the other way. Done for every angle, so over plain numbers.
  const rank = own <= sooner ? 0 : own <= later ? 1 : 2;
  for (let turn = 0; turn <= 3; turn++) {
    const othersBefore = turn > rank ? turn - 1 : turn;
    const until = turn === 3 ? 1 : turn === rank ? own : othersBefore === 0 ? sooner : later;
    const before = flux;
    flux += (level - mean) * (until - at);
    meanSquare += ((until - at) * (before * before + before * flux + flux * flux)) / 3;
    excursion = Math.max(excursion, Math.abs(flux));
    level -= turn === rank ? 2 / 3 : -1 / 3;
    at = until;
  }
  return { excursion, meanSquare };
}
