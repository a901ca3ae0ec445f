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

const greatestIndex = highestIndex('space_vector') * (1 + 1e-9);

export interface SwitchedLink {
  /** Line current, A rms. */
  readonly current: number;
  /** Amplitude of the phase voltage's fundamental over half the direct voltage. */
  readonly modulationIndex: number;
  readonly cosPhi: number;
  readonly modulation: Modulation;
  /** Hz. */
  readonly switchingFrequency: number;
  /** F. */
  readonly capacitance: number;
}

/**
 * Largest swing of the link's voltage within one switching period, V from peak to peak: the charge that the capacitor
 * takes and gives back while the battery takes the mean, q = ∫(i_link − mean) dt, over its capacitance. The legs leave
 * the upper rail one after the other, so the charge is a broken line; the second half of a period mirrors the first,
 * hence twice its excursion; what is largest over the fundamental's turn counts. A sinusoidal line current and a carrier
 * far faster than it. Undefined outside the linear range of the modulation, for |cos φ| above 1, and without a
 * capacitance or switching. Source: circuit theory.
 */
export function linkVoltageRipple(link: SwitchedLink): number | undefined {
  const { current, modulationIndex, cosPhi, modulation, switchingFrequency, capacitance } = link;
  const inRange = modulationIndex >= 0 && modulationIndex <= highestIndex(modulation) * (1 + 1e-9);
  if (!(inRange && Math.abs(cosPhi) <= 1 && switchingFrequency > 0 && capacitance > 0)) return undefined;
  const lag = Math.acos(cosPhi);
  const at = (angle: number): number => chargeExcursion(angle, lag, dutyRatios(angle, modulationIndex, modulation));
  let best = 0,
    most = at(0);
  for (let step = 1; step < anglesTried; step++) {
    const excursion = at(step * spacing);
    if (excursion > most) [best, most] = [step, excursion];
  }
  // Twice the excursion, in half periods.
  return (
    (Math.SQRT2 * current * highestBetween(at, (best - 1) * spacing, (best + 1) * spacing)) /
    (switchingFrequency * capacitance)
  );
}

/** It repeats after a sixth of a turn, in which the legs change places and the halves of a period do. */
const anglesTried = 60;
const spacing = Math.PI / 3 / anglesTried;

/**
 * Greatest magnitude of ∫(i − mean) dx over half a switching period 0…1, i the link's current over the line current's
 * amplitude, which lags its voltage by an angle.
 */
function chargeExcursion(angle: number, lag: number, duties: readonly [number, number, number]): number {
  const [first, second, third] = duties;
  const one = Math.cos(angle - lag),
    two = Math.cos(angle - lag - thirdOfTurn);
  const three = -one - two;
  const mean = first * one + second * two + third * three;
  const least = Math.min(first, second, third),
    most = Math.max(first, second, third);
  const middle = first + second + third - least - most;
  // All three up, then the two that stay longer, then the one that stays longest; with none up, back to nothing.
  const shortest = first === least ? one : second === least ? two : three;
  const longest = third === most ? three : second === most ? two : one;
  const start = -mean * least;
  const turn = start - (shortest + mean) * (middle - least);
  return Math.max(Math.abs(start), Math.abs(turn), Math.abs(turn + (longest - mean) * (most - middle)));
}

/** Highest value of a function that rises to one peak and falls from it, by golden sections. */
function highestBetween(of: (x: number) => number, from: number, to: number): number {
  let low = from,
    high = to;
  let left = high - golden * (high - low),
    right = low + golden * (high - low);
  let atLeft = of(left),
    atRight = of(right);
  for (let cut = 0; cut < cuts; cut++) {
    if (atLeft > atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - golden * (high - low);
      atLeft = of(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + golden * (high - low);
      atRight = of(right);
    }
  }
  return Math.max(atLeft, atRight);
}

const golden = (Math.sqrt(5) - 1) / 2;
const cuts = 40;
