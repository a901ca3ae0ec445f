// What harmonic currents cost a transformer: the loss factor and the current that it may still carry.

import type { OrderAmount } from './distortion.ts';

/**
 * Order up to which winding eddy loss rises with the square of the frequency. Real knees lie where the conductor's
 * thickness reaches the skin depth, so they depend on the winding; about 25 is usual for strips of a few millimetres.
 * Past it the eddy loss of a thick conductor rises with the square root of frequency (common practice, no source).
 */
export const usualKneeOrder = 25;

/**
 * Winding eddy-loss factor F_HL = Σ h²·I_h² / Σ I_h², the fundamental included in both sums (order 1 must be given; orders
 * needn't be whole). Past `kneeOrder` h² gives way to h_knee^1.5·√h: the square law carried on to switching frequency
 * would multiply a small ripple by tens of thousands and ask for a huge transformer. Infinity gives the standard's
 * plain square law. Undefined without current. Source: IEEE C57.110, definition of the factor, seen in the introduction
 * of a paper; IEC 61378-1 has the same, from memory.
 */
export const harmonicLossFactor = (currents: readonly OrderAmount[], kneeOrder = usualKneeOrder): number | undefined =>
  weighted(currents, order => eddyWeight(order, kneeOrder));

/** The weight of an order in it. */
export const eddyWeight = (order: number, kneeOrder = usualKneeOrder): number =>
  order <= kneeOrder ? order * order : kneeOrder ** 1.5 * Math.sqrt(order);

/** Losses at rated sinusoidal current beside that of the windings' direct-current resistance, as ratios of that. */
export type StrayShares = {
  /** Winding eddy loss. */
  readonly eddy: number;
  /** Other stray loss; none where not given (dry types have little). */
  readonly otherStray?: number;
};

export type LossFactors = {
  readonly eddy: number;
  /** Of the other stray loss; one where not given. */
  readonly otherStray?: number;
};

/**
 * Load loss at a current, over that at rated sinusoidal current (ratio): I²·(1 + F·P_EC + F_STR·P_OSL)/(1 + P_EC + P_OSL).
 * The current is the rms of all orders, as a ratio of the rated one.
 */
export function relativeLoadLoss(current: number, shares: StrayShares, factors: LossFactors): number {
  const { eddy, otherStray = 0 } = shares;
  const harmonic = 1 + factors.eddy * eddy + (factors.otherStray ?? 1) * otherStray;
  return (current * current * harmonic) / (1 + eddy + otherStray);
}

/**
 * Rms current, ratio of the rated one, at which the load loss is that of rated sinusoidal current:
 * √((1 + P_EC + P_OSL)/(1 + F·P_EC + F_STR·P_OSL)) (IEEE C57.110; form from memory). The standard's first form for dry
 * types judges the hottest spot with the eddy loss there; give that as `eddy` then.
 */
export const permissibleCurrent = (shares: StrayShares, factors: LossFactors): number =>
  1 / Math.sqrt(relativeLoadLoss(1, shares, factors));

function weighted(currents: readonly OrderAmount[], weight: (order: number) => number): number | undefined {
  let above = 0,
    below = 0;
  for (const { order, amount } of currents) {
    const square = amount * amount;
    above += weight(order) * square;
    below += square;
  }
  return below > 0 ? above / below : undefined;
}
