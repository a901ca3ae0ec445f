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

/** The same for six-step operation: no operating limit for a converter on a network, a bound that nothing passes. */
export const sixStepFactor = Math.sqrt(6) / Math.PI;

/** Modulation in effect: a common-mode voltage needs a floating star point, so without one the sine limit holds. */
export const effectiveModulation = (modulation: Modulation, starPoint: StarPoint): Modulation =>
  starPoint === 'floating' ? modulation : 'sine';

/** Fundamental (V rms line to line) in six-step operation: √6/π·U_dc. */
export const sixStepVoltage = (dcVoltage: number): number => sixStepFactor * dcVoltage;
