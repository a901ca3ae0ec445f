// How much of the switching ripple a filter lets through at most: what nobody has to work out a spectrum for.

import type { Modulation } from './modulation.ts';

/** Per phase, star: H, F, ohm. The resonances (Hz) are those at the weakest and at the strongest network. */
export type RippleFilter = {
  readonly converterInductance: number;
  readonly capacitance: number;
  readonly damping: number;
  readonly resonanceMin: number;
  readonly resonanceMax: number;
};

export type SwitchedSource = {
  /** Highest in operation, V. */
  readonly dcVoltage: number;
  /** Hz. */
  readonly switchingFrequency: number;
  /** Of the fundamental, Hz. */
  readonly frequency: number;
  readonly modulation: Modulation;
};

/** Sidebands further from the carrier than this many orders count one by one; all others as the nearest to the resonance. */
const nearSidebands = 4;
/** How far sidebands reach that are a ten-thousandth of the direct voltage and more. */
const reach: Readonly<Record<Modulation, number>> = { sine: 4, third_harmonic: 10, space_vector: 100 };
/** What stands beside the inductances, as a magnetising branch, moves the resonance by less. */
const detuning = 1.01;

/**
 * A bound (A) of √(Σ w(h)·I_h²), rms, of the switching currents on the network's side of a filter, w a weight by order that
 * grows no faster than its square; Infinity where the lowest sideband that weighs meets the resonance, or a weaker one
 * does without damping. The near sidebands together are no more than the ripple that the choke would carry with the
 * capacitor a short; the others, one by one, no more than `sidebandAtMost`. Own bounds, which tests hold against the
 * series and the integral that they stand for.
 */
export function weighedRippleBound(
  filter: RippleFilter,
  source: SwitchedSource,
  weight: (order: number) => number,
): number {
  const { dcVoltage, switchingFrequency, frequency, modulation } = source;
  const lowest = switchingFrequency - nearSidebands * frequency;
  if (!(lowest > detuning * filter.resonanceMax)) return Number.POSITIVE_INFINITY;
  const whole = rippleAtMost * (dcVoltage / (switchingFrequency * filter.converterInductance));
  const through = letThrough(filter);
  let square = weight(lowest / frequency) * (whole * through(lowest)) ** 2;
  const ratio = switchingFrequency / frequency;
  for (let sideband = nearSidebands + 1; sideband <= reach[modulation] && sideband < ratio - 1; sideband++) {
    const at = switchingFrequency - sideband * frequency;
    const phase = (sidebandAtMost(sideband, ratio) * dcVoltage) / Math.sqrt(3);
    const current = phase / (2 * Math.PI * at * filter.converterInductance);
    square += weight(at / frequency) * (current * through(at)) ** 2;
  }
  return Math.sqrt(square);
}

/** Rms ripple of the choke at any index of any modulation over U_dc/(f_sw·L1), at most. */
export const rippleAtMost = 1 / 36;

/**
 * Voltage of a line so many orders below a carrier of so many, line to line, as a ratio of the direct voltage, at most:
 * the kinks of space-vector modulation, with what reaches there from below zero and from twice the carrier.
 */
export const sidebandAtMost = (sideband: number, ratio: number): number =>
  inverseSquare(sideband) +
  inverseSquare(2 * ratio - sideband) +
  inverseSquare(ratio + sideband) +
  inverseSquare(3 * ratio - sideband);

const inverseSquare = (far: number): number => 1 / (far * far);

/**
 * Current behind the filter over that of the choke with the capacitor a short, at most: by the divider of the capacitor's
 * branch and L2, |Z_C/(Z_2 + Z_C·(1 + L2/L1))|. The denominator is no less than its real part, nor than its imaginary one
 * at the network that is worst for it; L2 is least at the strongest network, and follows from the resonance there.
 */
function letThrough(filter: RippleFilter): (frequency: number) => number {
  const { converterInductance, capacitance, damping, resonanceMin, resonanceMax } = filter;
  const highest = detuning * resonanceMax;
  const lowest = resonanceMin / detuning;
  const square = (2 * Math.PI * highest) ** 2 * converterInductance * capacitance;
  const inductances = 1 + 1 / (square - 1);
  return frequency => {
    const damped = 2 * Math.PI * frequency * damping * capacitance;
    const above = (frequency / highest) ** 2 - 1;
    const below = 1 - (frequency / lowest) ** 2;
    return Math.sqrt(1 + damped * damped) / (inductances * Math.max(damped, above, below, 0));
  };
}
