// How strongly each sideband of each carrier multiple shows in one leg of a two-level converter.
//
// With the reference f(y), y the angle of the fundamental from the reference's peak, compared to a symmetric triangle
// (natural sampling), the leg's voltage over half the direct voltage holds at m carriers and n fundamentals the cosine
//     4/(πm) · sin((m + n)·π/2) · B_n,   where   j^n·B_n = mean over y of exp(j·(mπ/2)·f(y)) · cos(n·y).
// This is the double Fourier series of pulse-width modulation (Holmes and Lipo, Pulse Width Modulation for Power
// Converters, 2003; from memory). For a sine reference B_n is Bessel's J_n(mπM/2).

import { besselOrders, vanishingOrder } from './bessel.ts';
import { type Modulation, voltageFactor } from './modulation.ts';

/** Highest modulation index (phase amplitude over half the direct voltage) at which no leg reaches its rail. */
export const highestIndex = (modulation: Modulation): number => voltageFactor[modulation] / voltageFactor.sine;

/**
 * Amplitude of one sideband in a leg over half the direct voltage, signed: the cosine's value when carrier and
 * fundamental are both at angle zero (reference at its peak, carrier at its trough). `coefficients` are B_0, B_1 … of
 * that carrier multiple; B_{-n} = (−1)^n·B_n.
 */
export function sidebandAmplitude(coefficients: readonly number[], multiple: number, sideband: number): number {
  const together = multiple + sideband;
  if (together % 2 === 0) return 0;
  const size = Math.abs(sideband);
  const mirrored = sideband < 0 && size % 2 === 1 ? -1 : 1;
  const sine = ((together % 4) + 4) % 4 === 1 ? 1 : -1;
  return (4 / (Math.PI * multiple)) * sine * mirrored * (coefficients[size] ?? 0);
}

/**
 * B_0 … B_highest of a carrier multiple at a modulation index, good to about 1e-13. Sine: Bessel functions; a sixth of
 * third harmonic: sums of products of two of them; space vector (common-mode min-max injection): sums of them times
 * the elementary integrals between the reference's kinks. No numeric integration in any. Those below `lowest`, and
 * those that `sidebandAmplitude` doesn't use, may be left at zero.
 */
export function sidebandCoefficients(
  modulation: Modulation,
  index: number,
  multiple: number,
  highest: number,
  lowest = 0,
): number[] {
  const depth = (multiple * Math.PI * index) / 2;
  if (modulation === 'sine') return besselOrders(depth, highest);
  if (modulation === 'third_harmonic') return thirdHarmonicCoefficients(depth, highest);
  // Only those of the parity that shows beside this multiple, since the others are dear and for nothing.
  const first = lowest + ((lowest + multiple + 1) % 2);
  return minMaxCoefficients(depth, first, highest);
}

/**
 * Sideband beyond which nothing above `negligible` (amplitude over half the direct voltage) is left. The smooth
 * references' sidebands die out like Bessel functions. The kinks of min-max injection leave a tail that falls only with
 * the square of the distance; its size is bounded by six kinks, each of slope √3/2·M.
 */
export function highestSideband(modulation: Modulation, index: number, multiple: number, negligible: number): number {
  const depth = (multiple * Math.PI * index) / 2;
  if (modulation === 'sine') return vanishingOrder(depth);
  // Both injected references are at most one and a half times as steep as the sine.
  const smooth = vanishingOrder(1.5 * depth);
  if (modulation === 'third_harmonic') return smooth;
  return smooth + Math.ceil(Math.sqrt((3 * Math.sqrt(3) * index) / (Math.PI * negligible)));
}

/** f = M·(cos y − cos(3y)/6): B_n = Σ_q J_{n−3q}(z)·J_q(z/6), from the product of the two exponentials' series. */
function thirdHarmonicCoefficients(depth: number, highest: number): number[] {
  const reach = vanishingOrder(depth / 6);
  const main = besselOrders(depth, highest + 3 * reach);
  const injected = besselOrders(depth / 6, reach);
  const signed = (values: readonly number[], order: number): number => {
    const value = values[Math.abs(order)] ?? 0;
    return order < 0 && order % 2 !== 0 ? -value : value;
  };
  return Array.from({ length: highest + 1 }, (_, n) => {
    let sum = 0;
    for (let q = -reach; q <= reach; q++) sum += signed(main, n - 3 * q) * signed(injected, q);
    return sum;
  });
}

/**
 * Min-max injection over M from 0° to 90°, angles in steps of thirty degrees: pieces of cosines between its kinks, which
 * lie at every sixty degrees.
 */
const minMaxPieces: readonly {
  readonly from: number;
  readonly to: number;
  readonly height: number;
  readonly peak: number;
}[] = [
  { from: 0, to: 2, height: Math.sqrt(3) / 2, peak: 1 },
  { from: 2, to: 3, height: 1.5, peak: 0 },
];

/**
 * On a piece exp(j·b·cos θ) = J_0(b) + 2·Σ_k j^k·J_k(b)·cos(kθ) (Jacobi and Anger), and each term times cos(n·y) has an
 * elementary integral. The mean over a quarter wave is that over the whole: f is even, and odd about 90°, so even n
 * take the even k alone and odd n the odd ones.
 */
function minMaxCoefficients(depth: number, first: number, highest: number): number[] {
  const sums = new Array<number>(highest + 1).fill(0);
  for (const [piece, { height }] of minMaxPieces.entries()) {
    const reach = vanishingOrder(height * depth);
    const bessel = besselOrders(height * depth, reach);
    for (let n = first; n <= highest; n += 2) {
      const weights = pieceWeights(piece, n, reach);
      let sum = 0;
      for (let k = n % 2, at = 0; k <= reach; k += 2, at++) sum += bessel[k]! * weights[at]!;
      sums[n]! += sum;
    }
  }
  return sums;
}

/** By piece and n: what no depth changes, so that it is computed once; some hundred kilobytes for usual carriers. */
const knownWeights: readonly Float64Array[][] = minMaxPieces.map(() => []);

/** What J_k counts in B_n on a piece, for every other k from n's parity up to at least `reach`. */
function pieceWeights(piece: number, n: number, reach: number): Float64Array {
  const known = knownWeights[piece]![n];
  const count = Math.floor((reach - (n % 2)) / 2) + 1;
  if (known !== undefined && known.length >= count) return known;
  const { from, to, peak } = minMaxPieces[piece]!;
  const made = Float64Array.from({ length: Math.ceil(count / 16) * 16 }, (_, at) => {
    const k = (n % 2) + 2 * at;
    const sign = (k % 4 < 2 ? 1 : -1) * (n % 4 < 2 ? 1 : -1);
    const integral = waveIntegral(k, n, peak, to) - waveIntegral(k, n, peak, from);
    return ((k === 0 ? 2 : 4) / Math.PI) * sign * integral;
  });
  // A carrier too fast for any plant would fill the memory for nothing.
  if (n < 4096 && count < 512) knownWeights[piece]![n] = made;
  return made;
}

/** Antiderivative of cos(k·(y − peak))·cos(n·y) at y; angles in steps of thirty degrees. */
function waveIntegral(k: number, n: number, peak: number, y: number): number {
  const summed = k + n === 0 ? (y * Math.PI) / 6 : sineOfSteps((k + n) * y - k * peak) / (k + n);
  const level = (cosineOfSteps(k * peak) * y * Math.PI) / 6;
  const apart = k === n ? level : sineOfSteps((k - n) * y - k * peak) / (k - n);
  return (summed + apart) / 2;
}

const halfRootOfThree = Math.sqrt(3) / 2;
const sines = [0, 0.5, halfRootOfThree, 1, halfRootOfThree, 0.5, 0, -0.5, -halfRootOfThree, -1, -halfRootOfThree, -0.5];
const sineOfSteps = (steps: number): number => sines[((steps % 12) + 12) % 12]!;
const cosineOfSteps = (steps: number): number => sineOfSteps(steps + 3);
