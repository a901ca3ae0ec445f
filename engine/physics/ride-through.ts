// Ride-through curves: how deep and how long a disturbance of the voltage must be ridden through.
//
// A lower envelope holds the least voltage over the time since the disturbance began: below it one may disconnect. An
// upper envelope is its mirror. A step of constant level and some length is ridden through if it stays inside to its end.

/** A corner of an envelope. Two corners at the same time make a step. */
export type EnvelopePoint = {
  /** s since the disturbance began. */
  readonly time: number;
  /** Ratio of nominal. */
  readonly level: number;
};

export type Side = 'lower' | 'upper';

export type Envelope = {
  readonly side: Side;
  /** At least one; the first at time zero; straight between them; the last level holds for good. */
  readonly points: readonly EnvelopePoint[];
};

export type EnvelopeProblem = {
  /**
   * No corner; a number that isn't finite, or a level below zero; a first corner that isn't at time zero; times that go
   * back; three corners at one time; a level that turns: a longer disturbance never has to be ridden at a deeper level.
   */
  readonly problem: 'too_few' | 'not_finite' | 'negative' | 'late_start' | 'order' | 'triple_step' | 'turns';
  readonly index: number;
};

export type EnvelopeResult =
  | { readonly ok: true; readonly envelope: Envelope }
  | { readonly ok: false; readonly problems: readonly EnvelopeProblem[] };

/** Checks the corners and makes an envelope of them. */
export function makeEnvelope(side: Side, points: readonly EnvelopePoint[]): EnvelopeResult {
  const problems = problemsOf(side, points);
  return problems.length > 0 ? { ok: false, problems } : { ok: true, envelope: { side, points: [...points] } };
}

/** Level of the envelope at a time (s): at a step the one before it, so that its very instant still counts as inside. */
export function levelAt({ points }: Envelope, time: number): number {
  if (!(time > 0)) return points[0]!.level;
  const after = points.findIndex(point => point.time >= time);
  if (after < 0) return points.at(-1)!.level;
  const upper = points[after]!;
  const lower = points[after - 1];
  if (lower === undefined || upper.time === time) return upper.level;
  return lower.level + ((upper.level - lower.level) * (time - lower.time)) / (upper.time - lower.time);
}

/** The deepest level that must be ridden for at least a time (s): the lowest voltage, or the highest. */
export const deepestFor = (envelope: Envelope, duration: number): number => levelAt(envelope, duration);

/**
 * Longest time (s) for which a level must be ridden; without end where it lies inside for good, undefined where it need
 * not be ridden at all.
 */
export function longestRide({ side, points }: Envelope, level: number): number | undefined {
  if (!isInside(side, level, points[0]!.level)) return undefined;
  const outside = points.findIndex(point => !isInside(side, level, point.level));
  if (outside < 0) return Number.POSITIVE_INFINITY;
  const before = points[outside - 1]!;
  const after = points[outside]!;
  return before.time + ((after.time - before.time) * (level - before.level)) / (after.level - before.level);
}

export type Cover = {
  readonly covered: boolean;
  /** Least distance of the capability beyond the requirement; negative where it falls short. */
  readonly margin: number;
  /** s, where it is least. */
  readonly time: number;
};

/** Whether a capability covers a requirement, and where it is nearest to failing; undefined for unlike sides. */
export function covers(capability: Envelope, requirement: Envelope): Cover | undefined {
  if (capability.side !== requirement.side) return undefined;
  const sign = capability.side === 'lower' ? 1 : -1;
  let worst: Cover = { covered: true, margin: Number.POSITIVE_INFINITY, time: 0 };
  const corners = [...capability.points, ...requirement.points].map(point => point.time);
  for (const time of new Set(corners)) {
    const before = sign * (levelAt(requirement, time) - levelAt(capability, time));
    const after = sign * (levelAfter(requirement.points, time) - levelAfter(capability.points, time));
    const margin = Math.min(before, after);
    if (margin < worst.margin) worst = { covered: margin >= 0, margin, time };
  }
  return worst;
}

const isInside = (side: Side, level: number, limit: number): boolean =>
  side === 'lower' ? level >= limit : level <= limit;

function problemsOf(side: Side, points: readonly EnvelopePoint[]): EnvelopeProblem[] {
  if (points.length === 0) return [{ problem: 'too_few', index: 0 }];
  return points.flatMap((point, index) => {
    const problem = problemOf(side, points, index, point);
    return problem === undefined ? [] : [{ problem, index }];
  });
}

function problemOf(
  side: Side,
  points: readonly EnvelopePoint[],
  index: number,
  { time, level }: EnvelopePoint,
): EnvelopeProblem['problem'] | undefined {
  if (!Number.isFinite(time) || !Number.isFinite(level)) return 'not_finite';
  if (level < 0) return 'negative';
  const before = points[index - 1];
  if (before === undefined) return time === 0 ? undefined : 'late_start';
  if (time < before.time) return 'order';
  if (time === before.time && points[index - 2]?.time === time) return 'triple_step';
  return isInside(side, level, before.level) ? undefined : 'turns';
}

/** Level just after a time: at a step the one behind it. */
function levelAfter(points: readonly EnvelopePoint[], time: number): number {
  const after = points.findIndex(point => point.time > time);
  const lower = points[after < 0 ? points.length - 1 : after - 1] ?? points[0]!;
  if (after < 0 || lower.time >= time) return lower.level;
  const upper = points[after]!;
  return lower.level + ((upper.level - lower.level) * (time - lower.time)) / (upper.time - lower.time);
}
