// Literals, ranges, tolerances and curves to numbers in SI.
import type { CurveExpression, NumberLiteral, RangeExpression, Span, ToleranceExpression } from '../../grammar/ast.ts';
import { makeCurve } from '../units/curve.ts';
import { assignable, type Dimension, describe, dimensions } from '../units/dimension.ts';
import { readUnit, toSI, type Unit } from '../units/read.ts';
import { evaluateNumber } from './evaluate.ts';
import {
  constant,
  type EvaluatedCurve,
  type EvaluatedNumber,
  type EvaluationContext,
  mismatch,
  nominal,
  perWord,
  spreadNumber,
  wrong,
} from './evaluated.ts';
import { replaceFix } from './report.ts';

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
  const value = toSI(literal.value, read.unit);
  if (!Number.isFinite(value)) return wrong(context, literal, 'This number is too large.');
  return { value, dimension: read.unit.dimension, unit: read.unit };
}

export function evaluateLiteral(literal: NumberLiteral, context: EvaluationContext): EvaluatedNumber | undefined {
  const read = literalValue(literal, context);
  return read === undefined ? undefined : constant(read.value, read.dimension, read.unit);
}

export function evaluateRange(expression: RangeExpression, context: EvaluationContext): EvaluatedNumber | undefined {
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

export function evaluateTolerance(
  expression: ToleranceExpression,
  context: EvaluationContext,
): EvaluatedNumber | undefined {
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
      message:
        value.dimension === dimensions.temperature
          ? 'The tolerance of a temperature is given as a difference, such as `± 5 K`.'
          : `The tolerance of ${describe(value.dimension)} is given in per cent or as ${describe(value.dimension)}, such as \`± 10 %\`.`,
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

export function evaluateCurve(expression: CurveExpression, context: EvaluationContext): EvaluatedCurve | undefined {
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
  const xDimension = commonest(xs.map(x => x!.dimension));
  const yDimension = commonest(flat.map(y => y!.dimension));
  for (const [index, x] of xs.entries()) {
    if (x!.dimension !== xDimension) return oddUnit(context, expression.rows[index]!.x, xDimension);
    if (index > 0 && x!.value <= xs[index - 1]!.value)
      return wrong(
        context,
        expression.rows[index]!.x,
        'The first value of each row must be greater than that of the row before.',
      );
    const odd = ys[index]!.findIndex(y => y!.dimension !== yDimension);
    if (odd >= 0) return oddUnit(context, expression.rows[index]!.y[odd]!, yDimension);
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
    axisDimensions: columnDimension === undefined ? [xDimension] : [xDimension, columnDimension],
    curve: built.curve,
    dimension: yDimension,
    per: perWord(expression.per),
  };
}

/** What most rows give, the first of them where two are as common: the others are the mistake. */
function commonest(given: readonly Dimension[]): Dimension {
  const counts = new Map<Dimension, number>();
  for (const dimension of given) counts.set(dimension, (counts.get(dimension) ?? 0) + 1);
  return [...counts].reduce((best, next) => (next[1] > best[1] ? next : best))[0];
}

function oddUnit(context: EvaluationContext, span: Span, dimension: Dimension): undefined {
  context.report.add({
    code: 'wrong_dimension',
    place: context.place(span),
    message: `The other rows give ${describe(dimension)} here.`,
  });
  return undefined;
}
