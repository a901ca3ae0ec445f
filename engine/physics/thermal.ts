// First-order heating: the temperature rise of an element under a load that changes in steps, relative to rated.
//
// One heat capacity behind one thermal resistance: dθ/dt = (h(load) − θ)/T. θ = 1 is the rise in lasting rated use.

import type { Citation } from '../tables/evidence.ts';

/** A load held for a time. */
export type LoadStep = {
  /** Load as a ratio of rated, not negative. */
  readonly ratio: number;
  /** s. */
  readonly duration: number;
};

/** How an element's heat follows its load: h = s + (1 − s)·load^n, one at rated load. */
export type HeatLaw = {
  /** Share s of the heat at rated load that is there without load: P0/(P0 + Pk) for a transformer; 0 if not given. */
  readonly standing?: number;
  /** Exponent n of the rest: 2 if not given (resistance). */
  readonly exponent?: number;
};

export type ThermalElement = {
  /** T, s. */
  readonly timeConstant: number;
  readonly heat?: HeatLaw;
};

export type ThermalProblem =
  | { readonly ok: false; readonly problem: 'no_step' }
  /** A ratio below zero, a time that is negative or not finite; `index` counts the steps. */
  | { readonly ok: false; readonly problem: 'impossible_step'; readonly index: number }
  | { readonly ok: false; readonly problem: 'impossible_element' };

export type SteadyCycle = {
  readonly ok: true;
  /** Highest and lowest relative rise over the cycle. */
  readonly peak: number;
  readonly least: number;
  /** Mean relative rise: the mean of the heat, whatever the time constant. */
  readonly mean: number;
  /** Relative rise at the start of each step; the cycle comes back to the first. */
  readonly rises: readonly number[];
  /** The step at whose end the peak lies. */
  readonly peakStep: number;
};

/**
 * Customary time constants (s), for an element whose maker states none. A range, because nothing else is honest: judge
 * with the lower end.
 */
export const customaryTimeConstants = {
  heatSink: { from: 60, to: 600, source: 'air-cooled heat sink: minutes', evidence: 'from memory' },
  dryTransformer: { from: 1800, to: 3600, source: 'winding of a dry transformer', evidence: 'from memory' },
  oilTransformer: { from: 7200, to: 10_800, source: 'oil of an oil-immersed transformer', evidence: 'from memory' },
} as const satisfies Readonly<Record<string, Citation & { readonly from: number; readonly to: number }>>;

/** Heat relative to rated at a load ratio; undefined for a negative load or an impossible law. */
export function relativeHeat(ratio: number, law: HeatLaw = {}): number | undefined {
  if (!(isPossible(law) && ratio >= 0)) return undefined;
  const { standing = 0, exponent = 2 } = law;
  return standing + (1 - standing) * ratio ** exponent;
}

/**
 * Periodic steady state of a load cycle that has been repeated for good. Exact for the first-order model: within a step
 * the rise goes straight from its start towards the step's heat, so its extremes lie at the ends of steps.
 */
export function steadyCycle(steps: readonly LoadStep[], element: ThermalElement): SteadyCycle | ThermalProblem {
  const checked = heats(steps, element);
  if (!checked.ok) return checked;
  const period = steps.reduce((sum, step) => sum + step.duration, 0);
  const start = startOfCycle(steps, checked.heats, element.timeConstant, period);
  const rises: number[] = [];
  const ends: number[] = [];
  let rise = start;
  for (const [index, step] of steps.entries()) {
    rises.push(rise);
    rise = approach(rise, checked.heats[index]!, step.duration, element.timeConstant);
    ends.push(rise);
  }
  const peak = Math.max(...ends);
  const mean = steps.reduce((sum, step, index) => sum + step.duration * checked.heats[index]!, 0) / period;
  return { ok: true, peak, least: Math.min(...ends), mean, rises, peakStep: ends.indexOf(peak) };
}

/** Relative rise a time (s) after it was `from`, at a constant relative heat. */
export const approach = (from: number, heat: number, time: number, timeConstant: number): number =>
  time === Number.POSITIVE_INFINITY ? heat : heat - (heat - from) * Math.exp(-time / timeConstant);

/**
 * True where the time constant is so long against the period that the rms stands for the peak within `share` of it; 5 %
 * is common practice, no source.
 */
export function rmsStandsForPeak(
  steps: readonly LoadStep[],
  element: ThermalElement,
  share = 0.05,
): boolean | undefined {
  const cycle = steadyCycle(steps, element);
  return cycle.ok ? cycle.peak - cycle.mean <= share * cycle.mean : undefined;
}

const isPossible = ({ standing = 0, exponent = 2 }: HeatLaw): boolean => standing >= 0 && standing < 1 && exponent > 0;

function heats(
  steps: readonly LoadStep[],
  element: ThermalElement,
): { readonly ok: true; readonly heats: readonly number[] } | ThermalProblem {
  const { timeConstant, heat } = element;
  if (!(timeConstant > 0 && Number.isFinite(timeConstant) && isPossible(heat ?? {}))) {
    return { ok: false, problem: 'impossible_element' };
  }
  const problem = stepProblem(steps);
  return problem ?? { ok: true, heats: steps.map(step => relativeHeat(step.ratio, heat)!) };
}

/** What makes a list of steps no load cycle; undefined where nothing does. */
export function stepProblem(steps: readonly LoadStep[]): ThermalProblem | undefined {
  const index = steps.findIndex(({ ratio, duration }) => !(ratio >= 0 && duration >= 0 && ratio + duration < Infinity));
  if (index >= 0) return { ok: false, problem: 'impossible_step', index };
  return steps.some(step => step.duration > 0) ? undefined : { ok: false, problem: 'no_step' };
}

/**
 * The rise θ that comes back after one period: θ = θ·e^(−p/T) + Σ h·(1 − e^(−d/T))·e^(−rest/T). `expm1` keeps it exact
 * for a period that is short against the time constant.
 */
function startOfCycle(
  steps: readonly LoadStep[],
  heat: readonly number[],
  timeConstant: number,
  period: number,
): number {
  let gained = 0;
  let rest = period;
  for (const [index, step] of steps.entries()) {
    rest = Math.max(0, rest - step.duration);
    gained += heat[index]! * -Math.expm1(-step.duration / timeConstant) * Math.exp(-rest / timeConstant);
  }
  return gained / -Math.expm1(-period / timeConstant);
}
