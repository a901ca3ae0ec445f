// Expressions to numbers: dimensions checked, every stated spread kept as one variable, so that x − x is nothing.
import type { BinaryExpression, CallExpression, CompareExpression, Expression } from '../../grammar/ast.ts';
import { scaleCurve } from '../units/curve.ts';
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
import { evaluateCurve, evaluateLiteral, evaluateRange, evaluateTolerance } from './evaluate-values.ts';
import {
  combine,
  type Evaluated,
  type EvaluatedCurve,
  type EvaluatedNumber,
  type EvaluationContext,
  finite,
  mismatch,
  nominal,
  scaleMistake,
  wrong,
} from './evaluated.ts';
import { nearest } from './nearest.ts';
import { replaceFix } from './report.ts';

/** Names that lead to names are followed this far: what needs more is no plant, and would exhaust the stack. */
const deepest = 400;
let depth = 0;

export function evaluate(expression: Expression, context: EvaluationContext): Evaluated | undefined {
  if (depth >= deepest)
    return wrong(context, expression, `This leads through more than ${deepest} values, each made from the next.`);
  depth++;
  try {
    return evaluateAny(expression, context);
  } finally {
    depth--;
  }
}

function evaluateAny(expression: Expression, context: EvaluationContext): Evaluated | undefined {
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
      return { ...combine([operand], operand.dimension, ([value]) => -value!), unit: operand.unit };
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
    const near = nearest(expression.name.text, functionNames);
    const place = context.place(expression.name);
    context.report.add({
      code: 'unknown_name',
      place,
      message: `\`${expression.name.text}\` is no function; there are ${functionNames.map(name => `\`${name}\``).join(', ')}.`,
      fixes: near === undefined ? [] : [replaceFix(place, near)],
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
        return wrong(context, expression, `There is no power ${exponent} of ${describe(left.dimension)}.`);
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
  return finite(
    context,
    expression,
    combine([left, right], dimension, ([a, b]) => (minus ? a! - b! : a! + b!)),
  );
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
  const scale = expression.operator === '*' ? by : 1 / by;
  const largest = Math.max(
    ...(curve.curve.shape === 'surface' ? curve.curve.values.flat() : curve.curve.y).map(Math.abs),
  );
  if (!Number.isFinite(largest * scale))
    return wrong(context, expression, 'Scaled like this, the curve has no finite values.');
  return { ...curve, curve: scaleCurve(curve.curve, scale) };
}
