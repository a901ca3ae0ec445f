// What an expression comes to, and what every evaluation shares: spreads as variables, corners, refusals.
import type { Name, Span } from '../../grammar/ast.ts';
import type { Place } from '../finding.ts';
import type { Curve } from '../units/curve.ts';
import { type Dimension, describe } from '../units/dimension.ts';
import type { Unit } from '../units/read.ts';
import type { Report } from './report.ts';

export type Evaluated = EvaluatedNumber | EvaluatedCurve | EvaluatedText;

export interface EvaluatedNumber {
  readonly type: 'number';
  readonly dimension: Dimension;
  readonly variables: readonly SpreadVariable[];
  /** SI, with each variable at the value that the caller picks. */
  readonly at: (pick: (variable: SpreadVariable) => number) => number;
  /** As the author wrote it, where it is a literal. */
  readonly unit: Unit | undefined;
  /** Of a fact that is given per cell or per string: survives scaling. */
  readonly per?: 'cell' | 'string' | undefined;
  /** How many steps one evaluation takes: bounds what an expression of spreads may cost. */
  readonly steps: number;
}

/** One stated spread, wherever it is used; or, in a requirement, a result that is known only at a point. */
export interface SpreadVariable {
  readonly form: 'range' | 'tolerance';
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
  readonly result?: { readonly tag: string; readonly name: string };
}

export interface EvaluatedCurve {
  readonly type: 'curve';
  readonly axes: readonly string[];
  readonly axisDimensions: readonly Dimension[];
  readonly curve: Curve;
  readonly dimension: Dimension;
  readonly per: 'cell' | 'string' | undefined;
}

export interface EvaluatedText {
  readonly type: 'text';
  readonly text: string;
}

export interface EvaluationContext {
  readonly report: Report;
  readonly place: (span: Span) => Place;
  /** Looks a name up and reports what is wrong with it; undefined is silent from there on. */
  readonly lookup: (path: readonly Name[], span: Span) => Evaluated | undefined;
}

/** More spreads than this in one value, or more steps at all corners together, are a finding. */
const mostSpreads = 8;
const mostSteps = 100_000;

/** Lowest, nominal and highest over all corners of its variables. */
export function extremes(value: EvaluatedNumber): { low: number; nominal: number; high: number } {
  const nominal = value.at(variable => variable.nominal);
  if (value.variables.length === 0) return { low: nominal, nominal, high: nominal };
  const { variables } = value;
  let low = Infinity;
  let high = -Infinity;
  for (let corner = 0; corner < 1 << variables.length; corner++) {
    const result = value.at(variable => {
      const index = variables.indexOf(variable);
      return index < 0 ? variable.nominal : (corner >> index) & 1 ? variable.high : variable.low;
    });
    if (result < low) low = result;
    if (result > high) high = result;
  }
  return { low, nominal, high };
}

export function constant(value: number, dimension: Dimension, unit?: Unit): EvaluatedNumber {
  return { type: 'number', dimension, variables: [], at: () => value, unit, steps: 1 };
}

export function spreadNumber(variable: SpreadVariable, dimension: Dimension, unit: Unit | undefined): EvaluatedNumber {
  return { type: 'number', dimension, variables: [variable], at: pick => pick(variable), unit, steps: 1 };
}

export function combine(
  values: readonly EvaluatedNumber[],
  dimension: Dimension,
  compute: (numbers: readonly number[]) => number,
): EvaluatedNumber {
  const variables = [...new Set(values.flatMap(value => value.variables))];
  const per = values.find(value => value.per !== undefined)?.per;
  const at = (pick: (variable: SpreadVariable) => number): number => compute(values.map(value => value.at(pick)));
  if (variables.length === 0) return { ...constant(at(nominal), dimension), per };
  const steps = values.reduce((sum, value) => sum + value.steps, 1);
  return { type: 'number', dimension, variables, unit: undefined, per, at, steps };
}

export function perWord(name: Name | undefined): 'cell' | 'string' | undefined {
  return name?.text === 'cell' || name?.text === 'string' ? name.text : undefined;
}

/** Infinity and the undefined are stopped where they arise, at every corner; so are more corners than can be looked at. */
export function finite(context: EvaluationContext, span: Span, value: EvaluatedNumber): EvaluatedNumber | undefined {
  const spreads = value.variables.filter(variable => variable.result === undefined).length;
  if (spreads > mostSpreads)
    return wrong(
      context,
      span,
      `More than ${mostSpreads} spreads meet in this value: state some of them as plain values.`,
    );
  if (value.steps * 2 ** spreads > mostSteps)
    return wrong(context, span, 'This is made from its spreads in too many steps: state some of them as plain values.');
  if (spreads < value.variables.length) return value;
  const { low, nominal: middle, high } = extremes(value);
  if (Number.isFinite(low) && Number.isFinite(middle) && Number.isFinite(high)) return value;
  return wrong(context, span, 'This has no finite value: it divides by zero or takes the root of a negative number.');
}

export function mismatch(
  context: EvaluationContext,
  span: Span,
  what: string,
  left: EvaluatedNumber,
  right: EvaluatedNumber,
): undefined {
  const verb =
    what === 'span' ? 'a range can’t run from' : what === 'compare' ? 'nobody can compare' : `nobody can ${what}`;
  const joined =
    what === 'span'
      ? `${describe(left.dimension)} to ${describe(right.dimension)}`
      : `${describe(left.dimension)} and ${describe(right.dimension)}`;
  context.report.add({ code: 'wrong_dimension', place: context.place(span), message: `${sentence(verb)} ${joined}.` });
  return undefined;
}

export function scaleMistake(span: Span, context: EvaluationContext): undefined {
  context.report.add({
    code: 'wrong_dimension',
    place: context.place(span),
    message:
      'A temperature in °C is a point on a scale: only the difference of two can be taken, or a difference in K added.',
  });
  return undefined;
}

export function wrong(context: EvaluationContext, span: Span, message: string): undefined {
  context.report.add({ code: 'wrong_value', place: context.place(span), message });
  return undefined;
}

export function nominal(variable: SpreadVariable): number {
  return variable.nominal;
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
