// Distortion figures of a list of harmonics: by order, in total, and as ripple of the choke's current.

import type { Complex } from './complex.ts';

/** Rms amount (V or A) at a harmonic order. */
export type OrderAmount = { readonly order: number; readonly amount: number };

export type Distortion = {
  /** √(sum of squares) over the reference (ratio). */
  readonly total: number;
  /** By order, rising (ratios of the reference). */
  readonly orders: readonly { readonly order: number; readonly ratio: number }[];
};

/**
 * Rms amounts by whole order: each line counts to the nearest multiple of the fundamental, squares adding, much as the
 * harmonic groups of IEC 61000-4-7 gather what lies between (from memory). Rising; the fundamental's own lines count to
 * order one.
 */
export function byOrder<Line extends { readonly frequency: number }>(
  lines: readonly Line[],
  fundamentalFrequency: number,
  amountOf: (line: Line) => number,
): OrderAmount[] {
  const squares = new Map<number, number>();
  for (const line of lines) {
    const order = Math.round(line.frequency / fundamentalFrequency);
    squares.set(order, (squares.get(order) ?? 0) + amountOf(line) ** 2);
  }
  return [...squares]
    .map(([order, square]) => ({ order, amount: Math.sqrt(square) }))
    .sort((left, right) => left.order - right.order);
}

/**
 * Distortion of orders above one up to `highestOrder`, over a reference. With the fundamental as reference this is the
 * total harmonic distortion (of voltage as a rule); with the greatest demand current I_L, the total demand distortion
 * of IEEE 519. Undefined without a reference.
 */
export function distortion(
  amounts: readonly OrderAmount[],
  reference: number,
  highestOrder = Number.POSITIVE_INFINITY,
): Distortion | undefined {
  if (!(reference > 0)) return undefined;
  const counted = amounts.filter(({ order }) => order > 1 && order <= highestOrder);
  const squares = counted.reduce((sum, { amount }) => sum + amount * amount, 0);
  return {
    total: Math.sqrt(squares) / reference,
    orders: counted.map(({ order, amount }) => ({ order, ratio: amount / reference })),
  };
}

/** A part of a current: frequency (Hz) and phasor (A rms). */
export type CurrentPart = { readonly frequency: number; readonly phasor: Complex };

export type Ripple = {
  /** A rms of all parts together. */
  readonly rms: number;
  /** Largest swing within one switching period, A. */
  readonly peakToPeak: number;
};

/**
 * Ripple of a current from its parts without the fundamental. The swing is taken from the sum of all parts, sampled over
 * one period of the fundamental (a locked carrier repeats then; for one that isn't locked it is a fair sample). Parts
 * up to ten times the switching frequency leave about a twentieth of a sawtooth's swing out, and hardly any of its rms;
 * `choke-ripple.ts` has the whole swing for a choke before a large capacitor. Undefined unless both frequencies are
 * above zero.
 */
export function rippleOf(
  parts: readonly CurrentPart[],
  switchingFrequency: number,
  fundamentalFrequency: number,
): Ripple | undefined {
  if (!(switchingFrequency > 0 && fundamentalFrequency > 0)) return undefined;
  const rms = Math.sqrt(parts.reduce((sum, { phasor: { re, im } }) => sum + re * re + im * im, 0));
  const highest = parts.reduce((most, part) => Math.max(most, part.frequency), switchingFrequency);
  const perPeriod = Math.max(leastSamples, Math.ceil((samplesPerWave * highest) / switchingFrequency));
  const periods = Math.ceil(switchingFrequency / fundamentalFrequency) + 1;
  const samples = sampled(parts, perPeriod * periods, 1 / (switchingFrequency * perPeriod));
  return { rms, peakToPeak: largestSwing(samples, perPeriod) };
}

/** Of the highest part, and of a switching period where that isn't more. */
const samplesPerWave = 8;
const leastSamples = 64;

/** Instantaneous sum of the parts; each is turned on by a constant step, which costs no sine a sample. */
function sampled(parts: readonly CurrentPart[], count: number, interval: number): Float64Array {
  const samples = new Float64Array(count);
  for (const { frequency, phasor } of parts) {
    const step = 2 * Math.PI * frequency * interval;
    const [cosine, sine] = [Math.cos(step), Math.sin(step)];
    let re = Math.SQRT2 * phasor.re,
      im = Math.SQRT2 * phasor.im;
    for (let index = 0; index < count; index++) {
      samples[index]! += re;
      const turned = re * cosine - im * sine;
      im = re * sine + im * cosine;
      re = turned;
    }
  }
  return samples;
}

/** Windows of one switching period, a quarter of it apart: a peak and the trough beside it always share one. */
function largestSwing(samples: Float64Array, window: number): number {
  let swing = 0;
  for (let start = 0; start + window <= samples.length; start += Math.max(1, Math.floor(window / 4))) {
    let least = Number.POSITIVE_INFINITY,
      most = Number.NEGATIVE_INFINITY;
    for (let index = start; index < start + window; index++) {
      const value = samples[index]!;
      if (value < least) least = value;
      if (value > most) most = value;
    }
    swing = Math.max(swing, most - least);
  }
  return swing;
}
