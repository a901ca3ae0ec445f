// The voltage spectrum of a two-level three-phase converter with naturally sampled pulse-width modulation.

import type { ImpossibleInput } from './ladder.ts';
import { type Modulation, voltageFactor } from './modulation.ts';
import { highestIndex, highestSideband, sidebandAmplitude, sidebandCoefficients } from './sidebands.ts';

export type SpectrumLine = {
  /** Frequency over that of the fundamental; whole only where the carrier is a whole multiple. */
  readonly order: number;
  /** Hz. */
  readonly frequency: number;
  /** V rms line to line (√3 times the phase voltage without its zero sequence). */
  readonly voltage: number;
  /** Sign of the first phase's cosine at the instant when its reference peaks and the carrier is at its trough. */
  readonly sign: 1 | -1;
};

export type Spectrum = {
  readonly ok: true;
  /** V rms line to line. */
  readonly fundamental: number;
  /** All lines but the fundamental, up to the bound, rising in frequency. */
  readonly lines: readonly SpectrumLine[];
  /** V rms line to line of the whole waveform, without any bound. */
  readonly totalVoltage: number;
  /** Total harmonic distortion of the whole waveform, ratio of the fundamental. */
  readonly distortion: number;
};

/** A leg would reach its rail: the series doesn't hold and low orders appear. */
export type Overmodulated = { readonly ok: false; readonly problem: 'overmodulated'; readonly highestIndex: number };

/** The carrier is so slow that the sidebands of ever more multiples overlap. */
export type CarrierTooSlow = { readonly ok: false; readonly problem: 'carrier_too_slow'; readonly leastRatio: number };

export type ModulatedConverter = {
  /** V. */
  readonly dcVoltage: number;
  /** Amplitude of the phase voltage's fundamental over half the direct voltage. */
  readonly modulationIndex: number;
  readonly modulation: Modulation;
  /** Hz. */
  readonly switchingFrequency: number;
  /** Of the fundamental, Hz. */
  readonly frequency: number;
};

/**
 * Spectrum up to a frequency (Hz), from the double Fourier series of natural sampling (see `sidebands.ts`). Lines below
 * `negligible` (ratio of the direct voltage, default 1e-5) are left out of the list, but count in the totals. Sidebands
 * of several carrier multiples that fall on one frequency add with their signs; where the carrier is a whole multiple
 * of the fundamental but not of three, they may turn in opposite senses, and the line is then that of the first phase.
 * What falls on zero or on the fundamental itself (a locked carrier with min-max injection: about a thousandth at forty
 * carriers a period, falling with their square) is left out.
 *
 * The totals are closed forms: U² = U_dc²·√3·M/π, whatever is injected. They are exact for a carrier that isn't locked
 * to the fundamental and very close for one that is. A converter that samples its reference (regular sampling), dead
 * time and a pulsing direct voltage add low orders of which nothing is said here.
 */
export function pwmSpectrum(
  converter: ModulatedConverter,
  upTo: number,
  negligible = 1e-5,
): Spectrum | Overmodulated | CarrierTooSlow | ImpossibleInput {
  const { dcVoltage, modulationIndex, modulation, switchingFrequency, frequency } = converter;
  const ratio = switchingFrequency / frequency;
  const sound = dcVoltage > 0 && modulationIndex > 0 && frequency > 0 && negligible > 0 && upTo >= 0;
  if (!sound || !Number.isFinite(dcVoltage + ratio + upTo)) return { ok: false, problem: 'impossible_input' };
  const highest = highestIndex(modulation);
  if (!(modulationIndex <= highest * (1 + 1e-9))) return { ok: false, problem: 'overmodulated', highestIndex: highest };
  if (!(ratio >= leastRatio)) return { ok: false, problem: 'carrier_too_slow', leastRatio };

  const lines: SpectrumLine[] = [];
  for (const [order, amplitude] of phaseAmplitudes(converter, ratio, upTo / frequency, negligible)) {
    const voltage = amplitude * voltageFactor.sine * dcVoltage;
    if (Math.abs(voltage) < negligible * dcVoltage) continue;
    lines.push({ order, frequency: order * frequency, voltage: Math.abs(voltage), sign: voltage < 0 ? -1 : 1 });
  }
  lines.sort((left, right) => left.order - right.order);
  const fundamental = modulationIndex * voltageFactor.sine * dcVoltage;
  const totalVoltage = totalPwmVoltage(dcVoltage, modulationIndex);
  return { ok: true, fundamental, lines, totalVoltage, distortion: pwmDistortion(modulationIndex) };
}

/** V rms line to line of the whole pulse-width modulated voltage: U_dc·√(√3·M/π), M within the linear range. */
export const totalPwmVoltage = (dcVoltage: number, modulationIndex: number): number =>
  dcVoltage * Math.sqrt((Math.sqrt(3) * modulationIndex) / Math.PI);

/** Its total harmonic distortion, ratio of the fundamental: √(8/(√3·π·M) − 1). */
export const pwmDistortion = (modulationIndex: number): number =>
  Math.sqrt(8 / (Math.sqrt(3) * Math.PI * modulationIndex) - 1);

/** Modulation index that a fundamental (V rms line to line) takes from a direct voltage (V); undefined without one. */
export const modulationIndexFor = (voltage: number, dcVoltage: number): number | undefined =>
  dcVoltage > 0 ? voltage / (voltageFactor.sine * dcVoltage) : undefined;

/** Carriers a period below which so many multiples overlap that nothing is said: a bound of our own, no source. */
const leastRatio = 6;

/** Signed amplitudes of the first phase over half the direct voltage, by order, zero sequence left out. */
function phaseAmplitudes(
  { modulation, modulationIndex }: ModulatedConverter,
  ratio: number,
  highestOrder: number,
  negligible: number,
): Map<number, number> {
  const amplitudes = new Map<number, number>();
  // Several multiples may fall on one line, so each is followed a little below the level of interest.
  const level = negligible / 2;
  for (let multiple = 1; ; multiple++) {
    const reach = highestSideband(modulation, modulationIndex, multiple, level);
    const centre = multiple * ratio;
    if (centre - reach > highestOrder) return amplitudes;
    const nearest = Math.max(0, Math.floor(centre - highestOrder));
    const coefficients = sidebandCoefficients(modulation, modulationIndex, multiple, reach, nearest);
    for (let sideband = -reach; centre + sideband <= highestOrder && sideband <= reach; sideband++) {
      // Multiples of three are in phase in all legs; orders of one parity vanish.
      if (sideband % 3 === 0 || (multiple + sideband) % 2 === 0) continue;
      const order = Math.round(Math.abs(centre + sideband) * orderSteps) / orderSteps;
      if (order > highestOrder || order === 0 || order === 1) continue;
      const amplitude = sidebandAmplitude(coefficients, multiple, sideband);
      amplitudes.set(order, (amplitudes.get(order) ?? 0) + amplitude);
    }
  }
}

/** Lines closer than a millionth of the fundamental count as one. */
const orderSteps = 1e6;
