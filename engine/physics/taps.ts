// Tappings of a transformer on load: the ratios that they reach, and the dead band that keeps a changer from hunting.

/** Positions −below … +above, each of one step (ratio of the principal tapping's turns), on the network's winding. */
export type Taps = {
  readonly step: number;
  readonly above: number;
  readonly below: number;
};

/** Least whole dead band over the step of voltage, so that the changer does not hunt (common practice, no source). */
const customaryDeadBand = 1.2;

/**
 * Greatest step of voltage on the other side between neighbouring positions, as a ratio: at the lowest turns one step is
 * more than its name.
 */
export const largestStep = ({ step, below, above }: Taps): number =>
  below + above === 0 ? 0 : step / (1 - below * step);

/** Least whole dead band (ratio) by custom, for the positions of a changer. */
export const customaryLeastDeadBand = (taps: Taps): number => customaryDeadBand * largestStep(taps);

/** Ratios between which the tappings of a winding lie: network-side volts for one volt on the other side. */
export type RatioSpan = { readonly least: number; readonly greatest: number };

/**
 * Reach of tappings that lie up to `range` (ratio of the principal tapping's turns) away from the principal one, on the
 * winding towards the network or on the other one.
 */
export const ratioSpan = (principal: number, range: number, tapped: 'network' | 'converter'): RatioSpan =>
  tapped === 'network'
    ? { least: principal * (1 - range), greatest: principal * (1 + range) }
    : { least: principal / (1 + range), greatest: principal / (1 - range) };

/**
 * Ratio at which an on-load tap changer that holds the other side at `held` (V) stands at a network voltage (V), as far
 * as its tappings reach. Between two of them it stands on either: that is what the dead band around `held` is for.
 */
export const regulatedRatio = (network: number, held: number, { least, greatest }: RatioSpan): number =>
  Math.min(greatest, Math.max(least, network / held));
