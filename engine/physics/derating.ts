// How much of its rating a converter keeps at its switching frequency, and of its rise a transformer at its altitude.

/**
 * Share of the rated current left at another switching frequency (Hz) than the rated one, keeping the loss: the
 * switching share s of it grows with the frequency, 1/(1 − s + s·f/f0). Never more than one: a lower frequency earns
 * nothing unless the maker says so. Half of the loss is common practice, no source. Undefined where a frequency isn't above zero.
 */
export function switchingFrequencyFactor(
  frequency: number,
  ratedFrequency: number,
  switchingShare = 0.5,
): number | undefined {
  if (!(frequency > 0 && ratedFrequency > 0 && switchingShare >= 0 && switchingShare <= 1)) return undefined;
  return clamp(1 / (1 - switchingShare + (switchingShare * frequency) / ratedFrequency));
}

/**
 * Share of the permitted temperature rise left to a dry transformer at an altitude (m): less by 2.5 % (natural air) or
 * 5 % (forced air) for each 500 m above 1000 m. Source: IEC 60076-11, installation above 1000 m, from memory.
 */
export const dryTransformerRise = (altitude: number, cooling: 'natural' | 'forced'): number =>
  clamp(1 - ((cooling === 'natural' ? 0.025 : 0.05) * Math.max(0, altitude - 1000)) / 500);

/**
 * Share of the permitted temperature rise left to a liquid-filled transformer at an altitude (m): less by 1 K for each
 * 400 m (natural flow of the air) or 250 m (fans) above 1000 m, of a rise (K) of the winding
 * (IEC 60076-2, from memory).
 */
export const liquidTransformerRise = (altitude: number, cooling: 'natural' | 'forced', rise = 65): number =>
  clamp(1 - Math.max(0, altitude - 1000) / (cooling === 'natural' ? 400 : 250) / rise);

/**
 * Current (ratio of rated) at which the rise is a share of the rated one: the rise goes with current^1.6 (IEC 60076-7 and
 * IEC 60076-12, from memory).
 */
export const currentForRise = (share: number, exponent = 1.6): number =>
  share >= 0 && exponent > 0 ? share ** (1 / exponent) : Number.NaN;

const clamp = (share: number): number => Math.min(1, Math.max(0, share));
