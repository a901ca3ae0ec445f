// Tappings of a transformer: the ratio at each, and which network voltages a tap changer takes out.

/** Positions −below … +above, each of one step (ratio of the principal tapping's turns), on the network's winding. */
export type Taps = {
  readonly step: number;
  readonly above: number;
  readonly below: number;
};

/** Five positions, changed with no voltage on (common practice, no source). */
export const customaryOffCircuitTaps: Taps = { step: 0.025, above: 2, below: 2 };

/** Least whole dead band over the step of voltage, so that the changer does not hunt (common practice, no source). */
export const customaryDeadBand = 1.2;

export type TapTransformer = {
  /** No-load voltages on the principal tapping, V line to line. */
  readonly primaryVoltage: number;
  readonly secondaryVoltage: number;
  readonly taps: Taps;
};

export type TapProblem =
  | { readonly ok: false; readonly problem: 'impossible_input' }
  /** The dead band is not wider than a step: the changer would go to and fro for good. */
  | { readonly ok: false; readonly problem: 'hunts'; readonly least: number };

/** A span of voltage, V line to line. */
export type VoltageSpan = { readonly low: number; readonly high: number };

/** Network-side volts for one volt on the other side, at a position; undefined outside the positions. */
export function ratioAtTap(transformer: TapTransformer, position: number): number | undefined {
  const { primaryVoltage, secondaryVoltage, taps } = transformer;
  if (!isPossible(transformer) || !Number.isInteger(position)) return undefined;
  if (position > taps.above || position < -taps.below) return undefined;
  return (primaryVoltage / secondaryVoltage) * (1 + position * taps.step);
}

/** No-load voltages on the other side for a span of network voltage (V), at a position that stays. */
export function secondaryAtTap(
  transformer: TapTransformer,
  position: number,
  network: VoltageSpan,
): VoltageSpan | undefined {
  const ratio = ratioAtTap(transformer, position);
  return ratio === undefined ? undefined : { low: network.low / ratio, high: network.high / ratio };
}

/**
 * Off-circuit position whose no-load voltages over a span of network voltage (V) lie best around a target (V): the one
 * with the least greatest distance from it, as a ratio.
 */
export function bestFixedTap(
  transformer: TapTransformer,
  network: VoltageSpan,
  target: number,
): ({ readonly ok: true; readonly position: number; readonly deviation: number } & VoltageSpan) | TapProblem {
  if (!isPossible(transformer) || !isSpan(network) || !(target > 0)) return impossibleInput;
  let best = { ok: true as const, position: 0, deviation: Number.POSITIVE_INFINITY, low: 0, high: 0 };
  for (const position of positionsOf(transformer.taps)) {
    const span = secondaryAtTap(transformer, position, network)!;
    const deviation = Math.max(Math.abs(span.low / target - 1), Math.abs(span.high / target - 1));
    if (deviation < best.deviation) best = { ok: true, position, deviation, ...span };
  }
  return best;
}

export type Regulated = {
  readonly ok: true;
  /** Network voltages (V) over which the changer holds the other side within its dead band. */
  readonly takenOut: VoltageSpan;
  /** What is left on the other side over the whole span of network voltage, V. */
  readonly left: VoltageSpan;
  /** True where the changer reaches all of the span. */
  readonly reachesAll: boolean;
  /** Positions at the lowest and at the highest network voltage. */
  readonly atLow: number;
  readonly atHigh: number;
};

/**
 * An on-load tap changer that holds the other side's no-load voltage (V) at a target within half a dead band (ratio,
 * the whole width) on either side. Within its reach any voltage in the dead band can stand, for it waits there; beyond
 * its reach the last position stays and the rest follows the network. Slow: minutes, common practice; what changes
 * faster is not taken out.
 */
export function onLoadRange(
  transformer: TapTransformer,
  network: VoltageSpan,
  target: number,
  deadBand: number,
): Regulated | TapProblem {
  if (!isPossible(transformer) || !isSpan(network) || !(target > 0 && deadBand > 0 && deadBand < 2)) {
    return impossibleInput;
  }
  const { taps } = transformer;
  const least = largestStep(taps);
  if (deadBand <= least) return { ok: false, problem: 'hunts', least };
  const low = target * (1 - deadBand / 2);
  const high = target * (1 + deadBand / 2);
  const first = ratioAtTap(transformer, -taps.below)!;
  const last = ratioAtTap(transformer, taps.above)!;
  const takenOut = { low: low * first, high: high * last };
  // Within reach the whole dead band counts; beyond it the last position's voltage.
  const left = { low: Math.min(low, network.low / first), high: Math.max(high, network.high / last) };
  return {
    ok: true,
    takenOut,
    left,
    reachesAll: network.low >= takenOut.low && network.high <= takenOut.high,
    atLow: nearestTap(transformer, network.low, target)!,
    atHigh: nearestTap(transformer, network.high, target)!,
  };
}

/** Position whose no-load voltage on the other side comes nearest to a target (V), for a network voltage (V). */
export function nearestTap(transformer: TapTransformer, network: number, target: number): number | undefined {
  if (!isPossible(transformer) || !(network > 0 && target > 0)) return undefined;
  const away = (position: number) => Math.abs(network / ratioAtTap(transformer, position)! - target);
  return positionsOf(transformer.taps).reduce((best, position) => (away(position) < away(best) ? position : best));
}

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

const positionsOf = ({ below, above }: Taps): number[] =>
  Array.from({ length: below + above + 1 }, (_, index) => index - below);

function isPossible({ primaryVoltage, secondaryVoltage, taps }: TapTransformer): boolean {
  const { step, above, below } = taps;
  const counts = Number.isInteger(above) && Number.isInteger(below) && above >= 0 && below >= 0;
  return primaryVoltage > 0 && secondaryVoltage > 0 && counts && step > 0 && below * step < 1 && above * step < 10;
}

const isSpan = ({ low, high }: VoltageSpan): boolean => low > 0 && high >= low && Number.isFinite(high);

const impossibleInput = { ok: false, problem: 'impossible_input' } as const;
