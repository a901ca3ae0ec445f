// How much alternating voltage a two-level converter can make from its direct voltage, and the other way round.

export type Modulation = 'sine' | 'third_harmonic' | 'space_vector';

export type StarPoint = 'floating' | 'earthed_or_loaded';

/**
 * Line-to-line rms of the fundamental over direct voltage, at the end of the linear range. Source: Mohan, Undeland,
 * Robbins, Power Electronics, ch. 8, from memory.
 */
export const voltageFactor: Readonly<Record<Modulation, number>> = {
  sine: Math.sqrt(3) / (2 * Math.SQRT2),
  third_harmonic: Math.SQRT1_2,
  space_vector: Math.SQRT1_2,
};

/** Modulation in effect: a common-mode voltage needs a floating star point, so without one the sine limit holds. */
export const effectiveModulation = (modulation: Modulation, starPoint: StarPoint): Modulation =>
  starPoint === 'floating' ? modulation : 'sine';
