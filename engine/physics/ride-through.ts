// Ride-through curves: how deep and how long a disturbance of voltage or frequency must be ridden through.
//
// A lower envelope holds the least voltage over the time since the disturbance began: below it one may disconnect. An
// upper envelope is its mirror. A step of constant level and some length is ridden through if it stays inside to its end.

/** A corner of an envelope. Two corners at the same time make a step. */
export type EnvelopePoint = {
  /** s since the disturbance began. */
  readonly time: number;
  /** Ratio of nominal, or Hz. */
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

/** Whether a step to a level, lasting a time (s), must be ridden through. */
export const mustRide = (envelope: Envelope, level: number, duration: number): boolean =>
  isInside(envelope.side, level, levelAt(envelope, duration));

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

/** Time (s) at which a course of levels over time first leaves the envelope; undefined where it stays inside. */
export function leavesAt(envelope: Envelope, course: readonly EnvelopePoint[]): number | undefined {
  const times = [...new Set([...course, ...envelope.points].map(point => point.time))].toSorted((a, b) => a - b);
  const last = course.at(-1)?.time ?? 0;
  let before = Number.NaN;
  for (const time of times) {
    if (time > last) break;
    const gap = gapAt(envelope, course, time);
    if (gap < 0) {
      // Both are straight between these times, so the crossing is where the gap is.
      const start = Number.isNaN(before) ? time : before;
      const first = gapAfter(envelope, course, start);
      return first < 0 || start === time ? start : start + ((time - start) * first) / (first - gap);
    }
    if (gapAfter(envelope, course, time) < 0) return time;
    before = time;
  }
  return undefined;
}

/** The envelope that holds where both are asked for: whatever one of them asks must be ridden. */
export const strictest = (first: Envelope, second: Envelope): Envelope | undefined => merge(first, second, true);

/** The envelope of what both ask for, or of what two units can do together. */
export const mildest = (first: Envelope, second: Envelope): Envelope | undefined => merge(first, second, false);

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

/** A band of frequency (Hz) and the least time (s) for which it must be ridden; without end for the normal one. */
export type FrequencyBand = { readonly from: number; readonly to: number; readonly duration: number };

export type BandProblem = {
  readonly problem: 'too_few' | 'impossible' | 'gap' | 'overlap' | 'no_lasting_band' | 'turns';
  readonly index: number;
};

/** What is wrong with bands of frequency in rising order; nothing where they join and get shorter outwards. */
export function bandProblems(bands: readonly FrequencyBand[]): readonly BandProblem[] {
  if (bands.length === 0) return [{ problem: 'too_few', index: 0 }];
  const problems: BandProblem[] = [];
  const lasting = bands.findIndex(band => band.duration === Number.POSITIVE_INFINITY);
  if (lasting < 0) problems.push({ problem: 'no_lasting_band', index: 0 });
  for (const [index, band] of bands.entries()) {
    const before = bands[index - 1];
    if (!(band.from > 0 && band.to > band.from && band.duration > 0 && band.to < Infinity)) {
      problems.push({ problem: 'impossible', index });
    } else if (before !== undefined && band.from > before.to) problems.push({ problem: 'gap', index });
    else if (before !== undefined && band.from < before.to) problems.push({ problem: 'overlap', index });
    else if (before !== undefined && lasting >= 0 && turns(before, band, index <= lasting)) {
      problems.push({ problem: 'turns', index });
    }
  }
  return problems;
}

/** Least time (s) for which a frequency (Hz) must be ridden; at a border the longer one; zero outside all bands. */
export const frequencyRide = (bands: readonly FrequencyBand[], frequency: number): number =>
  bands
    .filter(band => frequency >= band.from && frequency <= band.to)
    .reduce((longest, band) => Math.max(longest, band.duration), 0);

const isInside = (side: Side, level: number, limit: number): boolean =>
  side === 'lower' ? level >= limit : level <= limit;

const turns = (before: FrequencyBand, band: FrequencyBand, rising: boolean): boolean =>
  rising ? band.duration < before.duration : band.duration > before.duration;

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

/** How far inside a course is at a time; just after it, where either has a step there. */
const gapAt = (envelope: Envelope, course: readonly EnvelopePoint[], time: number): number =>
  signed(envelope.side, levelAt({ side: envelope.side, points: course }, time), levelAt(envelope, time));

const gapAfter = (envelope: Envelope, course: readonly EnvelopePoint[], time: number): number =>
  time >= course.at(-1)!.time
    ? gapAt(envelope, course, time)
    : signed(envelope.side, levelAfter(course, time), levelAfter(envelope.points, time));

const signed = (side: Side, level: number, limit: number): number => (side === 'lower' ? level - limit : limit - level);

/** Corner by corner the deeper (or the shallower) of two envelopes, with a corner more where they cross. */
function merge(first: Envelope, second: Envelope, deeper: boolean): Envelope | undefined {
  const { side } = first;
  if (second.side !== side) return undefined;
  const takesLeast = (side === 'lower') === deeper;
  const pick = (a: number, b: number) => (takesLeast ? Math.min(a, b) : Math.max(a, b));
  const corners = [...first.points, ...second.points].map(point => point.time);
  const times = [...new Set([...corners, ...crossings(first, second, corners)])].toSorted((a, b) => a - b);
  const points: EnvelopePoint[] = [];
  for (const time of times) {
    const before = pick(levelAt(first, time), levelAt(second, time));
    const after = pick(levelAfter(first.points, time), levelAfter(second.points, time));
    points.push({ time, level: before });
    if (after !== before) points.push({ time, level: after });
  }
  return { side, points };
}

/** Times between neighbouring corners at which two envelopes cross. */
function crossings(first: Envelope, second: Envelope, corners: readonly number[]): number[] {
  const times = [...new Set(corners)].toSorted((a, b) => a - b);
  return times.slice(1).flatMap((to, index) => {
    const from = times[index]!;
    const start = levelAfter(first.points, from) - levelAfter(second.points, from);
    const end = levelAt(first, to) - levelAt(second, to);
    return start * end < 0 ? [from + ((to - from) * start) / (start - end)] : [];
  });
}
