// Expressions to numbers: dimensions checked, every stated spread kept as one variable, so that x − x is nothing.
import type {
  BinaryExpression,
  CallExpression,
  CompareExpression,
  CurveExpression,
  Expression,
  Name,
  NumberLiteral,
  RangeExpression,
  Span,
  ToleranceExpression,
} from '../../grammar/ast.ts';
import type { Place } from '../finding.ts';
import { type Curve, makeCurve, scaleCurve } from '../units/curve.ts';
import {
  assignable,
  type Dimension,
  describe,
  dimensions,
  divide,
  isPlain,
  multiply,
  power,
} from '../units/dimension.ts';
import { readUnit, toSI, type Unit } from '../units/read.ts';
import { type Report, replaceFix } from './report.ts';

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

/** More corners than this and only the extremes of each variable alone are looked at. */
const mostVariables = 10;

export function evaluate(expression: Expression, context: EvaluationContext): Evaluated | undefined {
  switch (expression.type) {
    case 'number':
      return evaluateLiteral(expression, context);
    case 'range':
      return evaluateRange(expression, context);
    case 'tolerance':
      return evaluateTolerance(expression, context);
    case 'string':
      return { type: 'text', text: expression.value };
    case 'reference':
      return context.lookup(expression.path, expression);
    case 'call':
      return evaluateCall(expression, context);
    case 'binary':
      return evaluateBinary(expression, context);
    case 'negate': {
      const operand = evaluateNumber(expression.operand, context);
      if (operand === undefined) return undefined;
      if (operand.dimension === dimensions.temperature) return scaleMistake(expression, context);
      return { ...operand, at: pick => -operand.at(pick) };
    }
    case 'group':
      return evaluate(expression.inner, context);
    case 'curve':
      return evaluateCurve(expression, context);
    case 'compare':
      return wrong(context, expression, 'A comparison belongs into `require`; here a value is wanted.');
    case 'pick':
      return wrong(context, expression, '`pick` stands alone: it is the whole value of a property.');
  }
}

/** As `evaluate`, but only a number will do. */
export function evaluateNumber(expression: Expression, context: EvaluationContext): EvaluatedNumber | undefined {
  const value = evaluate(expression, context);
  if (value === undefined || value.type === 'number') return value;
  return wrong(
    context,
    expression,
    `A number with its unit is wanted here, not a ${value.type === 'curve' ? 'curve' : 'text'}.`,
  );
}

/** Lowest, nominal and highest over all corners of its variables. */
export function extremes(value: EvaluatedNumber): { low: number; nominal: number; high: number } {
  const nominal = value.at(variable => variable.nominal);
  if (value.variables.length === 0) return { low: nominal, nominal, high: nominal };
  const variables = value.variables.slice(0, mostVariables);
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

/** The two sides of a comparison, of one dimension; undefined after a finding. */
export function evaluateComparison(
  expression: CompareExpression,
  context: EvaluationContext,
): { left: EvaluatedNumber; right: EvaluatedNumber } | undefined {
  const left = evaluateNumber(expression.left, context);
  const right = evaluateNumber(expression.right, context);
  if (left === undefined || right === undefined) return undefined;
  if (assignable(left.dimension, right.dimension) || assignable(right.dimension, left.dimension))
    return { left, right };
  return mismatch(context, expression, 'compare', left, right);
}

export function constant(value: number, dimension: Dimension, unit?: Unit): EvaluatedNumber {
  return { type: 'number', dimension, variables: [], at: () => value, unit };
}

export function spreadNumber(variable: SpreadVariable, dimension: Dimension, unit: Unit | undefined): EvaluatedNumber {
  return { type: 'number', dimension, variables: [variable], at: pick => pick(variable), unit };
}

/** SI value of a literal; undefined after a finding about its unit. */
function literalValue(
  literal: NumberLiteral,
  context: EvaluationContext,
): { value: number; dimension: Dimension; unit: Unit | undefined } | undefined {
  if (literal.unit === undefined) return { value: literal.value, dimension: dimensions.ratio, unit: undefined };
  const read = readUnit(literal.unit.text);
  if (!read.ok) {
    const place = context.place(literal.unit);
    const near = read.near === undefined ? '' : `: did you mean \`${read.near}\`?`;
    context.report.add({
      code: 'unknown_unit',
      place,
      message: `\`${literal.unit.text}\` is no unit that this language knows${near || '.'}`,
      fixes: read.near === undefined ? [] : [replaceFix(place, read.near)],
    });
    return undefined;
  }
  return { value: toSI(literal.value, read.unit), dimension: read.unit.dimension, unit: read.unit };
}

function evaluateLiteral(literal: NumberLiteral, context: EvaluationContext): EvaluatedNumber | undefined {
  const read = literalValue(literal, context);
  return read === undefined ? undefined : constant(read.value, read.dimension, read.unit);
}

function evaluateRange(expression: RangeExpression, context: EvaluationContext): EvaluatedNumber | undefined {
  const low = evaluateNumber(expression.low, context);
  const high = evaluateNumber(expression.high, context);
  if (low === undefined || high === undefined) return undefined;
  if (!assignable(high.dimension, low.dimension)) return mismatch(context, expression, 'span', low, high);
  if (low.variables.length > 0 || high.variables.length > 0)
    return wrong(context, expression, 'The end of a range is a spread already; spreads do not nest.');
  const ends = { low: low.at(nominal), high: high.at(nominal) };
  if (ends.low > ends.high) {
    context.report.add({
      code: 'reversed_range',
      place: context.place(expression),
      message: 'This range runs downwards: the lower end is written first, as in `9 MVA .. 14 MVA`.',
    });
    return undefined;
  }
  return spreadNumber(
    { form: 'range', ...ends, nominal: (ends.low + ends.high) / 2 },
    low.dimension,
    low.unit ?? high.unit,
  );
}

function evaluateTolerance(expression: ToleranceExpression, context: EvaluationContext): EvaluatedNumber | undefined {
  const value = evaluateNumber(expression.nominal, context);
  const plus = literalValue(expression.plus, context);
  const minus = literalValue(expression.minus, context);
  if (value === undefined || plus === undefined || minus === undefined) return undefined;
  if (value.variables.length > 0)
    return wrong(context, expression, 'The nominal value is a spread already; spreads do not nest.');
  const centre = value.at(nominal);
  const up = deviation(plus, value.dimension, centre);
  const down = deviation(minus, value.dimension, centre);
  if (up === undefined || down === undefined) {
    const offender = up === undefined ? expression.plus : expression.minus;
    context.report.add({
      code: 'wrong_dimension',
      place: context.place(offender),
      message: `The tolerance of ${describe(value.dimension)} is given in per cent or as ${describe(value.dimension)}, such as \`± 10 %\`.`,
    });
    return undefined;
  }
  const variable = { form: 'tolerance' as const, low: centre - down, nominal: centre, high: centre + up };
  return spreadNumber(variable, value.dimension, value.unit);
}

/** A deviation in per cent counts of the nominal value, whatever that is; of a ratio itself too. */
function deviation(
  literal: { value: number; dimension: Dimension; unit: Unit | undefined },
  dimension: Dimension,
  centre: number,
): number | undefined {
  if (literal.dimension === dimensions.ratio && literal.unit !== undefined && dimension !== dimensions.temperature)
    return Math.abs(literal.value * centre);
  if (dimension === dimensions.temperature)
    return literal.dimension === dimensions.temperature_difference ? literal.value : undefined;
  return literal.dimension === dimension ? literal.value : undefined;
}

const functions: Readonly<Record<string, { least: number; most: number; of: (values: readonly number[]) => number }>> =
  {
    min: { least: 1, most: Infinity, of: values => Math.min(...values) },
    max: { least: 1, most: Infinity, of: values => Math.max(...values) },
    abs: { least: 1, most: 1, of: values => Math.abs(values[0]!) },
    sqrt: { least: 1, most: 1, of: values => Math.sqrt(values[0]!) },
  };

/** For completion and signature help. */
export const functionNames: readonly string[] = Object.keys(functions);

function evaluateCall(expression: CallExpression, context: EvaluationContext): EvaluatedNumber | undefined {
  const call = functions[expression.name.text];
  if (call === undefined) {
    context.report.add({
      code: 'unknown_name',
      place: context.place(expression.name),
      message: `\`${expression.name.text}\` is no function; there are ${functionNames.map(name => `\`${name}\``).join(', ')}.`,
    });
    return undefined;
  }
  const count = expression.arguments.length;
  if (count < call.least || count > call.most)
    return wrong(
      context,
      expression,
      `\`${expression.name.text}\` takes ${call.most === 1 ? 'one value' : 'one or more values'}.`,
    );
  const values = expression.arguments.map(argument => evaluateNumber(argument, context));
  if (!values.every(value => value !== undefined)) return undefined;
  const first = values[0]!;
  const odd = values.find(value => !assignable(value.dimension, first.dimension));
  if (odd !== undefined) return mismatch(context, expression, 'compare', first, odd);
  const dimension = expression.name.text === 'sqrt' ? power(first.dimension, 0.5) : first.dimension;
  if (dimension === undefined)
    return wrong(context, expression, `There is no square root of ${describe(first.dimension)}.`);
  return finite(
    context,
    expression,
    combine(values, dimension, numbers => call.of(numbers)),
  );
}

function evaluateBinary(expression: BinaryExpression, context: EvaluationContext): Evaluated | undefined {
  const left = evaluate(expression.left, context);
  const right = evaluate(expression.right, context);
  if (left === undefined || right === undefined) return undefined;
  if (left.type === 'curve' || right.type === 'curve') return evaluateCurveScaling(expression, left, right, context);
  if (left.type !== 'number' || right.type !== 'number')
    return wrong(context, expression, 'A text is no number to calculate with.');
  switch (expression.operator) {
    case '+':
    case '-':
      return evaluateSum(expression, left, right, context);
    case '*':
    case '/': {
      if (left.dimension === dimensions.temperature || right.dimension === dimensions.temperature)
        return scaleMistake(expression, context);
      const dimension =
        expression.operator === '*'
          ? multiply(left.dimension, right.dimension)
          : divide(left.dimension, right.dimension);
      const times = expression.operator === '*';
      return finite(
        context,
        expression,
        combine([left, right], dimension, ([a, b]) => (times ? a! * b! : a! / b!)),
      );
    }
    case '^': {
      if (left.dimension === dimensions.temperature) return scaleMistake(expression, context);
      if (!isPlain(right.dimension) || right.variables.length > 0)
        return wrong(context, expression.right, 'The exponent is a plain number.');
      const exponent = right.at(nominal);
      const dimension = power(left.dimension, exponent);
      if (dimension === undefined)
        return wrong(context, expression, `${describe(left.dimension)} can't be raised to ${exponent}.`);
      return finite(
        context,
        expression,
        combine([left], dimension, ([a]) => a! ** exponent),
      );
    }
  }
}

function evaluateSum(
  expression: BinaryExpression,
  left: EvaluatedNumber,
  right: EvaluatedNumber,
  context: EvaluationContext,
): EvaluatedNumber | undefined {
  const minus = expression.operator === '-';
  const dimension = sumDimension(left.dimension, right.dimension, minus);
  if (dimension === 'scale') return scaleMistake(expression, context);
  if (dimension === undefined) return mismatch(context, expression, minus ? 'subtract' : 'add', left, right);
  return combine([left, right], dimension, ([a, b]) => (minus ? a! - b! : a! + b!));
}

/** Points on a temperature scale: point − point is a difference, point ± difference a point, nothing else. */
function sumDimension(left: Dimension, right: Dimension, minus: boolean): Dimension | 'scale' | undefined {
  const { temperature, temperature_difference: difference } = dimensions;
  if (left !== temperature && right !== temperature) return assignable(right, left) ? left : undefined;
  if (left === temperature && right === temperature) return minus ? difference : 'scale';
  if (left === temperature && right === difference) return temperature;
  return right === temperature && left === difference && !minus ? temperature : 'scale';
}

function evaluateCurveScaling(
  expression: BinaryExpression,
  left: Evaluated,
  right: Evaluated,
  context: EvaluationContext,
): EvaluatedCurve | undefined {
  const curve = left.type === 'curve' ? left : right.type === 'curve' ? right : undefined;
  const factor = left.type === 'curve' ? right : left;
  const allowed = expression.operator === '*' || (expression.operator === '/' && left.type === 'curve');
  if (
    curve === undefined ||
    !allowed ||
    factor.type !== 'number' ||
    !isPlain(factor.dimension) ||
    factor.variables.length > 0
  ) {
    return wrong(context, expression, 'A curve can be scaled by a plain factor, and nothing else.');
  }
  const by = factor.at(nominal);
  if (expression.operator === '/' && by === 0) return wrong(context, expression, 'This divides by zero.');
  return { ...curve, curve: scaleCurve(curve.curve, expression.operator === '*' ? by : 1 / by) };
}

function evaluateCurve(expression: CurveExpression, context: EvaluationContext): EvaluatedCurve | undefined {
  const xs = expression.rows.map(row => literalValue(row.x, context));
  const ys = expression.rows.map(row => row.y.map(y => literalValue(y, context)));
  const columns = expression.columns?.map(column => literalValue(column, context));
  if (!xs.every(x => x !== undefined) || !(columns ?? []).every(x => x !== undefined)) return undefined;
  if (xs.length < 2) return wrong(context, expression, 'A curve needs at least two rows.');
  const wide = columns?.length ?? 1;
  const crooked = expression.rows.findIndex(row => row.y.length !== wide);
  if (crooked >= 0)
    return wrong(
      context,
      expression.rows[crooked]!,
      `This row has ${ys[crooked]!.length} values where ${wide} ${wide === 1 ? 'is' : 'are'} wanted.`,
    );
  const flat = ys.flat();
  if (!flat.every(y => y !== undefined)) return undefined;
  const x0 = xs[0]!;
  const y0 = flat[0]!;
  for (const [index, x] of xs.entries()) {
    if (x!.dimension !== x0.dimension) return oddUnit(context, expression.rows[index]!.x, x0.dimension);
    if (index > 0 && x!.value <= xs[index - 1]!.value)
      return wrong(
        context,
        expression.rows[index]!.x,
        'The first value of each row must be greater than that of the row before.',
      );
    const odd = ys[index]!.findIndex(y => y!.dimension !== y0.dimension);
    if (odd >= 0) return oddUnit(context, expression.rows[index]!.y[odd]!, y0.dimension);
  }
  const built = makeCurve({
    shape: expression.shape,
    x: xs.map(x => x!.value),
    y: flat.map(y => y!.value),
    columns: columns?.map(column => column!.value),
  });
  if (!built.ok) return wrong(context, expression, built.message);
  const columnDimension = columns?.[0]?.dimension;
  return {
    type: 'curve',
    axes: expression.axes.map(axis => axis.text),
    axisDimensions: columnDimension === undefined ? [x0.dimension] : [x0.dimension, columnDimension],
    curve: built.curve,
    dimension: y0.dimension,
    per: perWord(expression.per),
  };
}

function oddUnit(context: EvaluationContext, span: Span, dimension: Dimension): undefined {
  context.report.add({
    code: 'wrong_dimension',
    place: context.place(span),
    message: `The other rows give ${describe(dimension)} here.`,
  });
  return undefined;
}

function combine(
  values: readonly EvaluatedNumber[],
  dimension: Dimension,
  compute: (numbers: readonly number[]) => number,
): EvaluatedNumber {
  const variables = [...new Set(values.flatMap(value => value.variables))];
  const per = values.find(value => value.per !== undefined)?.per;
  return {
    type: 'number',
    dimension,
    variables,
    unit: undefined,
    per,
    at: pick => compute(values.map(value => value.at(pick))),
  };
}

export function perWord(name: Name | undefined): 'cell' | 'string' | undefined {
  return name?.text === 'cell' || name?.text === 'string' ? name.text : undefined;
}

/** Infinity and the undefined are stopped where they arise, at every corner. */
function finite(context: EvaluationContext, span: Span, value: EvaluatedNumber): EvaluatedNumber | undefined {
  if (value.variables.some(variable => variable.result !== undefined)) return value;
  const { low, nominal: middle, high } = extremes(value);
  if (Number.isFinite(low) && Number.isFinite(middle) && Number.isFinite(high)) return value;
  return wrong(context, span, 'This has no finite value: it divides by zero or takes the root of a negative number.');
}

function mismatch(
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

function scaleMistake(span: Span, context: EvaluationContext): undefined {
  context.report.add({
    code: 'wrong_dimension',
    place: context.place(span),
    message:
      'A temperature in °C is a point on a scale: only the difference of two can be taken, or a difference in K added.',
  });
  return undefined;
}

function wrong(context: EvaluationContext, span: Span, message: string): undefined {
  context.report.add({ code: 'wrong_value', place: context.place(span), message });
  return undefined;
}

function nominal(variable: SpreadVariable): number {
  return variable.nominal;
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
