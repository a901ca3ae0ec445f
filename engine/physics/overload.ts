// Load cycles: their rms, and whether a converter's duty class or stated overload covers them.

import { type DutyClass, dutyClasses, type Overload } from '../tables/duty-classes.ts';
import { type LoadStep, rmsStandsForPeak, steadyCycle, stepProblem, type ThermalProblem } from './thermal.ts';

export type CycleFigures = {
  readonly ok: true;
  /** s. */
  readonly period: number;
  /** Ratios of rated current. */
  readonly rms: number;
  readonly mean: number;
  readonly highest: number;
};

/** Why a cycle is not covered. Ratios of rated current, times in s. */
export type Excess =
  /** A load above the highest that is allowed at all. */
  | { readonly excess: 'ratio'; readonly ratio: number; readonly allowed: number }
  /** A load above `above` lasts longer than it may, in one go or, for a stated overload, within one repetition. */
  | { readonly excess: 'duration'; readonly above: number; readonly duration: number; readonly allowed: number }
  /** More heat than allowed, over the window of time in which it is worst. */
  | { readonly excess: 'rms'; readonly rms: number; readonly allowed: number; readonly window: number }
  /** A heat sink that is warmer when an overload begins than lasting rated current makes it (1). */
  | { readonly excess: 'rise'; readonly rise: number; readonly allowed: number; readonly timeConstant: number };

export type CycleJudgement =
  | { readonly ok: true; readonly covered: boolean; readonly excesses: readonly Excess[]; readonly rms: number }
  | ThermalProblem;

/** Slack for a cycle that equals what is allowed but for rounding. */
const slack = 1 + 1e-9;

/** Period, rms, mean and highest load of a cycle. */
export function cycleFigures(steps: readonly LoadStep[]): CycleFigures | ThermalProblem {
  const problem = stepProblem(steps);
  if (problem !== undefined) return problem;
  const period = sum(steps, () => 1);
  return {
    ok: true,
    period,
    rms: Math.sqrt(sum(steps, ratio => ratio * ratio) / period),
    mean: sum(steps, ratio => ratio) / period,
    highest: Math.max(...steps.filter(step => step.duration > 0).map(step => step.ratio)),
  };
}

/**
 * A repeated cycle against a duty class of IEC 60146-1-1: no load above the class's highest overload; each go above a
 * step of the class no longer than the next step allows; rms of the cycle not above rated. The class does not say after
 * what time an overload may come again, so the rms is common practice, no source, and holds only where the period is short
 * against the time constant of what heats up. With time constants (s) each is judged by itself: by rms where that stands
 * for the peak, else by the rise at which an overload begins: the class's begin out of lasting rated current.
 */
export function judgeByClass(
  steps: readonly LoadStep[],
  dutyClass: DutyClass,
  timeConstants: readonly number[] = [],
): CycleJudgement {
  const figures = cycleFigures(steps);
  if (!figures.ok) return figures;
  const ladder = dutyClasses[dutyClass].toSorted((a, b) => a.ratio - b.ratio);
  const excesses: Excess[] = [];
  const allowed = ladder.at(-1)?.ratio ?? 1;
  if (figures.highest > allowed * slack) excesses.push({ excess: 'ratio', ratio: figures.highest, allowed });
  for (const [index, step] of ladder.entries()) {
    const above = ladder[index - 1]?.ratio ?? 1;
    const duration = longestAbove(steps, above);
    if (duration > step.duration * slack)
      excesses.push({ excess: 'duration', above, duration, allowed: step.duration });
  }
  const slow = timeConstants.filter(timeConstant => rmsStandsForPeak(steps, { timeConstant }));
  if (figures.rms > slack && (timeConstants.length === 0 || slow.length > 0))
    excesses.push({ excess: 'rms', rms: figures.rms, allowed: 1, window: figures.period });
  for (const timeConstant of timeConstants) {
    const excess = slow.includes(timeConstant) ? undefined : riseExcess(steps, timeConstant);
    if (excess !== undefined) excesses.push(excess);
  }
  return { ok: true, covered: excesses.length === 0, excesses, rms: figures.rms };
}

/** A class's overload begins at no more than the rise of lasting rated current: here what it begins at in the cycle. */
function riseExcess(steps: readonly LoadStep[], timeConstant: number): Excess | undefined {
  const cycle = steadyCycle(steps, { timeConstant });
  if (!cycle.ok) return undefined;
  const begins = steps.map(({ ratio }, index) => ratio > slack && (steps.at(index - 1)?.ratio ?? 0) <= slack);
  const rise = Math.max(0, ...cycle.rises.filter((_, index) => begins[index]));
  return rise > slack ? { excess: 'rise', rise, allowed: 1, timeConstant } : undefined;
}

export type StatedOverload = Overload & {
  /** Time after which it may come again, from start to start, s; longer than `duration`. */
  readonly period: number;
  /**
   * Load beside it (ratio). Not given: what keeps the rms of a period at rated, the careful reading. 1 where the maker
   * states the overload on top of lasting rated current.
   */
  readonly base?: number;
};

/**
 * A repeated cycle against a stated overload ("150 % for 60 s every 600 s"): no load above it; within any window of one
 * period, no longer above rated than it lasts, and no more heat (load squared) than the stated cycle makes.
 * Undefined where the statement itself is impossible: no period, or an overload that alone exceeds the rms.
 */
export function judgeByOverload(steps: readonly LoadStep[], stated: StatedOverload): CycleJudgement | undefined {
  const allowedHeat = heatOfStated(stated);
  if (allowedHeat === undefined) return undefined;
  const figures = cycleFigures(steps);
  if (!figures.ok) return figures;
  const { ratio, duration, period } = stated;
  const excesses: Excess[] = [];
  if (figures.highest > ratio * slack) excesses.push({ excess: 'ratio', ratio: figures.highest, allowed: ratio });
  const above = worstWindow(steps, period, load => (load > slack ? 1 : 0));
  if (above > duration * slack) excesses.push({ excess: 'duration', above: 1, duration: above, allowed: duration });
  const heat = worstWindow(steps, period, load => load * load);
  if (heat > allowedHeat * slack * slack) {
    const rms = Math.sqrt(heat / period);
    excesses.push({ excess: 'rms', rms, allowed: Math.sqrt(allowedHeat / period), window: period });
  }
  return { ok: true, covered: excesses.length === 0, excesses, rms: figures.rms };
}

/**
 * Largest integral of `weigh(load)` over any window of a length (s) in a cycle repeated for good. The integral is
 * straight between windows that begin or end where a step does, so only those are tried.
 */
export function worstWindow(steps: readonly LoadStep[], window: number, weigh: (ratio: number) => number): number {
  const period = sum(steps, () => 1);
  const whole = Math.floor(window / period);
  const rest = window - whole * period;
  const starts: number[] = [];
  let at = 0;
  for (const step of steps) {
    starts.push(at, at - rest);
    at += step.duration;
  }
  const parts = starts.map(
    start => integralTo(steps, start + rest, period, weigh) - integralTo(steps, start, period, weigh),
  );
  return whole * sum(steps, weigh) + Math.max(...parts);
}

/** Integral from the cycle's start to a time within one period before or two after it. */
function integralTo(
  steps: readonly LoadStep[],
  time: number,
  period: number,
  weigh: (ratio: number) => number,
): number {
  const turns = Math.floor(time / period);
  let left = time - turns * period;
  let total = turns * sum(steps, weigh);
  for (const step of steps) {
    const taken = Math.min(left, step.duration);
    total += taken * weigh(step.ratio);
    left -= taken;
  }
  return total;
}

/** Longest time in one go above a ratio, in a cycle repeated for good; without end where it never falls below. */
export function longestAbove(steps: readonly LoadStep[], ratio: number): number {
  const held = steps.filter(step => step.duration > 0);
  if (held.every(step => step.ratio > ratio * slack)) return held.length > 0 ? Number.POSITIVE_INFINITY : 0;
  let longest = 0;
  let run = 0;
  // Twice round, so that a run over the end of the cycle counts as one.
  for (const step of [...held, ...held]) {
    run = step.ratio > ratio * slack ? run + step.duration : 0;
    longest = Math.max(longest, run);
  }
  return longest;
}

function heatOfStated({ ratio, duration, period, base }: StatedOverload): number | undefined {
  if (!(ratio >= 1 && duration >= 0 && period > duration && Number.isFinite(period))) return undefined;
  const overload = ratio * ratio * duration;
  if (base === undefined) return overload <= period ? period : undefined;
  return base >= 0 ? overload + base * base * (period - duration) : undefined;
}

const sum = (steps: readonly LoadStep[], weigh: (ratio: number) => number): number =>
  steps.reduce((total, step) => total + step.duration * weigh(step.ratio), 0);
