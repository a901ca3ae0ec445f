// How a load step or a motor start on an island is judged: current against a limit, voltage to spare, and the dip.
import type { RelatedPlace, Severity } from '../finding.ts';
import { type Case, type Component, factIn, type Plant } from '../model/plant.ts';
import type { Result } from '../results/definition.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import type { CheckContext, Spot } from './context.ts';

export interface IslandResults {
  readonly current: Result;
  readonly limit: Result;
  readonly dip: Result;
  readonly reserve: Result;
}

export interface IslandJudgement {
  readonly severity: Severity;
  readonly spot: Spot;
  readonly limit: { readonly name: string | undefined; readonly number: number; readonly display: string };
  /** What is wrong, to follow the name of the converter and what is asked of it. */
  readonly words: string;
  /** How grave: first the severity, then what is passed, then by how much; higher is graver, position by position. */
  readonly rank: readonly [severity: number, passed: number, excess: number];
}

/** Current is told before voltage to spare, and that before the dip, which is the mildest. */
const passes = { current: 2, reserve: 1, dip: 0 };

/**
 * The gravest that is wrong in any case and duty; of several as grave the one furthest past its limit. Beyond its current limit a converter gives no more and the voltage
 * falls with the current: of a load step always an error, since what keeps its power pulls it down without end; of a
 * motor that starts only where the dip is too deep to start against.
 */
export function judgeIsland(
  context: CheckContext,
  converter: Component,
  results: IslandResults,
  isMotor: boolean,
): IslandJudgement | undefined {
  let worst: IslandJudgement | undefined;
  for (const spot of context.spots(converter, results.current)) {
    const found = judgeAt(context, converter, results, spot, isMotor);
    if (found !== undefined && (worst === undefined || isGraver(found, worst))) worst = found;
  }
  return worst;
}

function isGraver({ rank }: IslandJudgement, than: IslandJudgement): boolean {
  const index = rank.findIndex((value, position) => value !== than.rank[position]);
  return index >= 0 && rank[index]! > than.rank[index]!;
}

function judgeAt(
  context: CheckContext,
  converter: Component,
  results: IslandResults,
  spot: Spot,
  isMotor: boolean,
): IslandJudgement | undefined {
  const limit = context.beside(spot, converter, results.limit);
  const dip = context.beside(spot, converter, results.dip);
  const reserve = context.beside(spot, converter, results.reserve);
  const deepest = context.practice('voltage_dip', spot.caseIndex);
  const wanted = context.practice('control_margin_worst', spot.caseIndex);
  const fall = `the voltage dips by ${ratio(dip)}, ${dip > deepest.number ? 'more than' : 'within'} the ${deepest.display} allowed`;
  if (spot.value > limit) {
    const severity = !isMotor || dip > deepest.number ? 'error' : 'warning';
    const words = `needs ${context.show(spot)} where it can carry ${show(limit, dimensions.current)}: at that limit ${fall}`;
    return {
      severity,
      spot,
      limit: {
        name: `${converter.tag}.${results.limit.name}`,
        number: limit,
        display: show(limit, dimensions.current),
      },
      words,
      rank: rank(severity, 'current', spot.value - limit),
    };
  }
  const besideSpot = (result: Result, value: number): Spot => ({ ...spot, result, value });
  if (reserve < wanted.number) {
    const short =
      reserve < 0
        ? `lacks ${ratio(-reserve)} of the voltage that it needs`
        : `has ${ratio(reserve)} of voltage to spare, less than the ${wanted.display} wanted`;
    const severity = reserve < 0 ? 'error' : 'warning';
    return {
      severity,
      spot: besideSpot(results.reserve, reserve),
      limit: wanted,
      words: `${short}, with the battery at the bottom of its span (${context.show(spot)})`,
      rank: rank(severity, 'reserve', wanted.number - reserve),
    };
  }
  if (!(dip > deepest.number)) return undefined;
  return {
    severity: 'warning',
    spot: besideSpot(results.dip, dip),
    limit: deepest,
    words: `can carry its ${context.show(spot)}, but over filter, transformer and cables ${fall}`,
    rank: rank('warning', 'dip', dip - deepest.number),
  };
}

function rank(severity: Severity, passed: keyof typeof passes, excess: number): IslandJudgement['rank'] {
  return [severity === 'error' ? 1 : 0, passes[passed], excess];
}

/** What the converter may carry for a short time: its overload, or that of its class, and its rating. */
export function shortTimeRating(
  context: CheckContext,
  converter: Component,
  caseIndex: number,
): readonly RelatedPlace[] {
  const overload = context.fact(converter, 'overload', caseIndex) === undefined ? 'overload_class' : 'overload';
  return context.related(
    caseIndex,
    [converter, overload, 'The overload of the converter.'],
    [converter, 'ac_current', 'The rating of the converter.'],
  );
}

const ratio = (value: number): string => show(value, dimensions.ratio);

/** Duties that form an island, in some case, and state a property in none, for what was not checked. */
export function formingWithout(plant: Plant, property: string): readonly string[] {
  const states = (duty: Component): boolean => plant.cases.some(each => factIn(each, duty, property) !== undefined);
  return plant.duties.filter(duty => isForming(plant, duty) && !states(duty)).map(({ tag }) => tag);
}

/** Duties that form an island in some case and state this word in one such. */
export function formingWith(plant: Plant, property: string, word: string): readonly string[] {
  const says = (duty: Component, each: Case): boolean => {
    const value = factIn(each, duty, property)?.value;
    return formsIn(each, duty) && value?.type === 'word' && value.word === word;
  };
  return plant.duties.filter(duty => plant.cases.some(each => says(duty, each))).map(({ tag }) => tag);
}

export function isForming(plant: Plant, duty: Component): boolean {
  return plant.cases.some(each => formsIn(each, duty));
}

/** In that case the duty makes the voltage itself. */
export function formsIn(each: Case, duty: Component): boolean {
  const mode = factIn(each, duty, 'mode')?.value;
  return mode?.type === 'word' && mode.word === 'forming';
}
