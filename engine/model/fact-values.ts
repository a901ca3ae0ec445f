// The value of a property, checked against what its kind wants: choice, text, reference, quantity or curve.
import type { Expression, PickExpression, Property as PropertyNode } from '../../grammar/ast.ts';
import type { CurveAxis, Property, QuantityType } from '../kinds/kind.ts';
import { assignable, type Dimension, describe, dimensions, isMoney } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { evaluate, evaluateNumber } from './evaluate.ts';
import { type EvaluatedCurve, perWord } from './evaluated.ts';
import { boundsMessage, lowerClauses, lowerNumber } from './fact-numbers.ts';
import type { FactContext } from './facts.ts';
import { nearest } from './nearest.ts';
import type { CurveFact, FactValue, NumberFact, SurfaceFact } from './plant.ts';
import { replaceFix } from './report.ts';

export function lowerValue(
  node: PropertyNode,
  expression: Expression,
  property: Property,
  context: FactContext,
): FactValue | undefined {
  switch (property.type.is) {
    case 'choice':
      return lowerChoice(expression, property, property.type.choices, context);
    case 'text': {
      if (expression.type === 'string') return { type: 'text', text: expression.value };
      context.report.add({
        code: 'wrong_value',
        place: context.place(expression),
        message: `\`${property.name}\` is a text in quotes, such as \`${property.example}\`.`,
      });
      return undefined;
    }
    case 'reference': {
      const word = context.reference(expression, property);
      return word === undefined ? undefined : { type: 'word', word };
    }
    case 'quantity':
      return lowerQuantity(node, expression, property, property.type, context);
  }
}

function lowerChoice(
  expression: Expression,
  property: Property,
  choices: readonly string[],
  context: FactContext,
): FactValue | undefined {
  const word = expression.type === 'reference' && expression.path.length === 1 ? expression.path[0]!.text : undefined;
  if (word !== undefined && choices.includes(word)) return { type: 'word', word };
  const place = context.place(expression);
  const near = word === undefined ? undefined : nearest(word, choices);
  const list = choices.map(choice => `\`${choice}\``).join(', ');
  context.report.add({
    code: 'wrong_value',
    place,
    message:
      near === undefined
        ? `\`${property.name}\` is one of ${list}.`
        : `\`${word}\` is no choice for \`${property.name}\`: did you mean \`${near}\`? It is one of ${list}.`,
    fixes: near === undefined ? [] : [replaceFix(place, near)],
  });
  return undefined;
}

function lowerQuantity(
  node: PropertyNode,
  expression: Expression,
  property: Property,
  type: QuantityType,
  context: FactContext,
): FactValue | undefined {
  if (expression.type === 'pick') return lowerPick(expression, property, type, context);
  const value = evaluate(expression, context);
  if (value === undefined) return undefined;
  if (value.type === 'text') {
    context.report.add({
      code: 'wrong_value',
      place: context.place(expression),
      message: `\`${property.name}\` wants ${wanted(type)}, such as \`${property.example}\`, not a text.`,
    });
    return undefined;
  }
  const allowed = [type.dimension, ...(type.or ?? [])].map(name => dimensions[name] as Dimension);
  const dimension = allowed.find(candidate => assignable(value.dimension, candidate));
  if (dimension === undefined) return reportDimension(expression, value.dimension, property, type, context);
  if (value.type === 'curve')
    return lowerCurve(
      node,
      { ...value, dimension: isMoney(value.dimension) ? value.dimension : dimension },
      property,
      type,
      context,
    );
  // A bare number reads as a ratio; here it becomes what the property counts. Money keeps its currency.
  return lowerNumber(
    node,
    expression,
    { ...value, dimension: isMoney(value.dimension) ? value.dimension : dimension },
    property,
    type,
    context,
  );
}

/** An open choice: what was picked for it, or unknown until somebody has. */
function lowerPick(
  expression: PickExpression,
  property: Property,
  type: QuantityType,
  context: FactContext,
): NumberFact | undefined {
  const place = context.place(expression);
  if (!type.forms.includes('pick'))
    return wrong(
      context,
      expression,
      `\`${property.name}\` can't be picked; state it, such as \`${property.example}\`.`,
    );
  if (expression.from?.every(candidate => fitsCandidate(candidate, property, type, context)) === false)
    return undefined;
  if (expression.from === undefined && type.dimension !== 'apparent_power')
    return wrong(
      context,
      expression,
      `There are no preferred values of \`${property.name}\`: list the candidates, such as \`pick from (${property.example})\`.`,
    );
  if (expression.from !== undefined || type.dimension !== 'apparent_power') {
    context.report.add({
      code: 'not_evaluated',
      severity: 'note',
      place,
      message:
        'Picking from a list of values is read but not evaluated yet: state the value, and what does not hold will show.',
    });
    return undefined;
  }
  const value = context.pick(place, property);
  if (value === undefined) return undefined;
  return {
    type: 'number',
    dimension: dimensions[type.dimension],
    low: value,
    nominal: value,
    high: value,
    form: 'exact',
    unit: undefined,
    per: undefined,
    clauses: {},
  };
}

/** Whether a candidate of a pick is of the right dimension; reports where it is not. */
function fitsCandidate(candidate: Expression, property: Property, type: QuantityType, context: FactContext): boolean {
  const value = evaluateNumber(candidate, context);
  if (value === undefined) return false;
  if (assignable(value.dimension, dimensions[type.dimension])) return true;
  reportDimension(candidate, value.dimension, property, type, context);
  return false;
}

function reportDimension(
  expression: Expression,
  given: Dimension,
  property: Property,
  type: QuantityType,
  context: FactContext,
): undefined {
  const literal = expression.type === 'number' ? expression : undefined;
  const bare = literal !== undefined && literal.unit === undefined;
  const shown = context.text(context.place(expression));
  const quoted = shown.length <= 40 && !shown.includes('\n') ? `\`${shown}\`` : 'This';
  context.report.add({
    code: 'wrong_dimension',
    place: context.place(expression),
    message: bare
      ? `${quoted} has no unit; \`${property.name}\` wants ${wanted(type)}, such as \`${property.example}\`.`
      : `${quoted} is ${describe(given)}; \`${property.name}\` wants ${wanted(type)}, such as \`${property.example}\`.`,
  });
  return undefined;
}

function wanted(type: QuantityType): string {
  return [type.dimension, ...(type.or ?? [])].map(name => describe(dimensions[name])).join(' or ');
}

function lowerCurve(
  node: PropertyNode,
  value: EvaluatedCurve,
  property: Property,
  type: QuantityType,
  context: FactContext,
): CurveFact | SurfaceFact | undefined {
  const at = node.value ?? node;
  if (!type.forms.includes('curve'))
    return wrong(context, at, `\`${property.name}\` is one value, such as \`${property.example}\`, not a curve.`);
  for (const [index, axis] of value.axes.entries()) {
    const known = type.axes?.find(candidate => candidate.name === axis);
    if (known === undefined) {
      const list = (type.axes ?? []).map(candidate => `\`${candidate.name}\``).join(' or ');
      return wrong(context, at, `The curve of \`${property.name}\` runs over ${list}, not over \`${axis}\`.`);
    }
    const given = value.axisDimensions[index];
    if (given === undefined || assignable(given, dimensions[known.dimension])) continue;
    context.report.add({
      code: 'wrong_dimension',
      place: context.place(at),
      message: `The curve runs over \`${axis}\`, ${describe(dimensions[known.dimension])}; its first column gives ${describe(given)}.`,
    });
    return undefined;
  }
  const per = value.per ?? perWord(node.per);
  if (per !== undefined && type.per !== true)
    return wrong(context, at, `\`${property.name}\` is not given per ${per}.`);
  const points = value.curve.shape === 'surface' ? value.curve.values.flat() : value.curve.y;
  const least = Math.min(...points);
  const greatest = Math.max(...points);
  const message = boundsMessage(least, greatest, property, type);
  if (message !== undefined) {
    context.report.add({ code: 'impossible_value', place: context.place(at), message });
    return undefined;
  }
  const impossible = placeMessage(value, property, type) ?? fallMessage(value, property, type);
  if (impossible !== undefined) {
    context.report.add({ code: 'impossible_value', place: context.place(at), message: impossible });
    return undefined;
  }
  const clauses = lowerClauses(node, property, type, context);
  if (clauses === undefined) return undefined;
  if (value.curve.shape === 'surface') {
    const [first, second] = value.axes;
    if (first === undefined || second === undefined || first === second || value.axes.length > 2)
      return wrong(context, at, 'A curve with columns runs over two different axes, such as `curve soc, temperature`.');
    return { type: 'surface', axes: [first, second], surface: value.curve, dimension: value.dimension, per, clauses };
  }
  if (value.axes.length > 1)
    return wrong(context, at, 'A curve over two axes needs a row of `columns` for the second one.');
  return { type: 'curve', axes: value.axes, curve: value.curve, dimension: value.dimension, per, clauses };
}

/** A point of a curve where there is no such place: a state of charge above 100 %. */
function placeMessage({ axes, curve }: EvaluatedCurve, property: Property, type: QuantityType): string | undefined {
  for (const [index, name] of axes.entries()) {
    const axis = type.axes?.find(candidate => candidate.name === name);
    const points = index === 0 ? curve.x : curve.shape === 'surface' ? curve.columns : [];
    if (axis === undefined) continue;
    const outside = points.find(x => x < (axis.least ?? x) || x > (axis.greatest ?? x));
    if (outside === undefined) continue;
    const end =
      outside < (axis.least ?? outside)
        ? `below ${shownOn(axis, axis.least!)}`
        : `above ${shownOn(axis, axis.greatest!)}`;
    return `\`${property.name}\` has a point at ${shownOn(axis, outside)} \`${name}\`: there is nothing ${end}.`;
  }
  return undefined;
}

function shownOn(axis: CurveAxis, x: number): string {
  return show(x, dimensions[axis.dimension]);
}

/** A curve that falls where what it describes never does. */
function fallMessage({ axes, curve }: EvaluatedCurve, property: Property, type: QuantityType): string | undefined {
  const axis = type.axes?.find(candidate => candidate.name === axes[0]);
  if (type.neverFalls !== true || axis === undefined || curve.shape === 'surface') return undefined;
  const index = curve.y.findIndex((y, at) => at > 0 && y < curve.y[at - 1]!);
  if (index < 0) return undefined;
  const [from, to] = [index - 1, index].map(at => show(curve.y[at]!, dimensions[type.dimension]));
  const [first, second] = [index - 1, index].map(at => shownOn(axis, curve.x[at]!));
  return `\`${property.name}\` falls from ${from} at ${first} to ${to} at ${second}: it never falls with \`${axis.name}\`, so two numbers were exchanged or misread.`;
}

export function wrong(context: FactContext, span: { start: number; end: number }, message: string): undefined {
  context.report.add({ code: 'wrong_value', place: context.place(span), message });
  return undefined;
}
