// Numbers of a property: form, bounds, tolerances that a standard gives, clauses behind the value.
import type { Expression, Property as PropertyNode } from '../../grammar/ast.ts';
import type { Property, QuantityType } from '../kinds/kind.ts';
import { describe, dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { evaluateNumber } from './evaluate.ts';
import { type EvaluatedNumber, extremes, perWord } from './evaluated.ts';
import { wrong } from './fact-values.ts';
import type { FactContext } from './facts.ts';
import type { NumberFact } from './plant.ts';

export function lowerNumber(
  node: PropertyNode,
  expression: Expression,
  value: EvaluatedNumber,
  property: Property,
  type: QuantityType,
  context: FactContext,
): NumberFact | undefined {
  const { low, nominal, high } = extremes(value);
  if (![low, nominal, high].every(Number.isFinite)) return wrong(context, expression, 'This number is too large.');
  const form =
    value.variables.length === 0
      ? 'exact'
      : value.variables.every(variable => variable.form === 'range')
        ? 'range'
        : 'tolerance';
  const needsRange = type.forms.includes('range') && !type.forms.includes('number');
  if (form === 'range' && !type.forms.includes('range') && !type.forms.includes('tolerance')) {
    return wrong(
      context,
      expression,
      `\`${property.name}\` is one value, such as \`${property.example}\`, not a range.`,
    );
  }
  if (form === 'exact' && needsRange)
    return wrong(context, expression, `\`${property.name}\` is a range, such as \`${property.example}\`.`);
  if (form === 'tolerance' && !type.forms.includes('tolerance'))
    return wrong(
      context,
      expression,
      `\`${property.name}\` takes no tolerance; it is written like \`${property.example}\`.`,
    );
  if (type.whole === true && !(Number.isInteger(low) && Number.isInteger(high)))
    return wrong(context, expression, `\`${property.name}\` is a whole number, such as \`${property.example}\`.`);
  const per = perWord(node.per) ?? value.per;
  if (per !== undefined && type.per !== true)
    return wrong(context, node.per ?? expression, `\`${property.name}\` is not given per ${per}.`);
  const impossible =
    value.dimension === dimensions[type.dimension] ? boundsMessage(low, high, property, type) : undefined;
  if (impossible !== undefined) {
    context.report.add({ code: 'impossible_value', place: context.place(expression), message: impossible });
    return undefined;
  }
  const clauses = lowerClauses(node, property, type, context);
  if (clauses === undefined) return undefined;
  const fact: NumberFact = {
    type: 'number',
    dimension: value.dimension,
    low,
    nominal,
    high,
    form,
    unit: value.unit,
    per,
    clauses,
  };
  return form === 'exact' ? withAssumedTolerance(fact, property) : fact;
}

/** Where a standard or custom gives a nominal value its tolerance, a value stated without one gets that. */
function withAssumedTolerance(fact: NumberFact, property: Property): NumberFact {
  const tolerance = toleranceOf(property, fact.nominal);
  if (tolerance === undefined) return fact;
  const deviation = Math.abs(fact.nominal) * tolerance;
  return { ...fact, low: fact.nominal - deviation, high: fact.nominal + deviation, form: 'assumed_tolerance' };
}

/** What a standard or custom gives a nominal that is stated without a tolerance: in the text of the language, and why. */
export function toleranceFallbackOf(property: Property, nominal: number) {
  const { toleranceFallback: usual } = property;
  return usual?.from !== undefined && nominal >= usual.from.nominal ? usual.from : usual;
}

/** As a ratio: `10 %` is 0.1. */
export function toleranceOf(property: Property, nominal: number): number | undefined {
  const text = toleranceFallbackOf(property, nominal)?.text;
  const number = text === undefined ? undefined : /^([\d.]+) %$/.exec(text)?.[1];
  return number === undefined ? undefined : Number(number) / 100;
}

export function boundsMessage(low: number, high: number, property: Property, type: QuantityType): string | undefined {
  const { least, greatest } = type;
  const what = `\`${property.name}\``;
  const shown = (value: number): string => show(value, dimensions[type.dimension]);
  if (least !== undefined && (low < least.value || (least.exclusive && low === least.value))) {
    if (least.value === 0) return least.exclusive ? `${what} must be greater than zero.` : `${what} can't be negative.`;
    return `${what} can't be as small as that: ${shown(low)} is ${least.exclusive ? 'not above' : 'below'} ${shown(least.value)}.`;
  }
  if (greatest !== undefined && (high > greatest.value || (greatest.exclusive && high === greatest.value)))
    return `${what} can't be as large as that: ${shown(high)} is ${greatest.exclusive ? 'not below' : 'above'} ${shown(greatest.value)}.`;
  return undefined;
}

/** Undefined after a finding. */
export function lowerClauses(
  node: PropertyNode,
  property: Property,
  type: QuantityType,
  context: FactContext,
): Record<string, number> | undefined {
  const clauses: Record<string, number> = {};
  for (const clause of node.clauses) {
    const known = type.clauses !== undefined && Object.hasOwn(type.clauses, clause.word);
    if (!known) return wrong(context, clause, `\`${property.name}\` has no \`${clause.word}\`.`);
    const name = type.clauses![clause.word];
    if (name === undefined) {
      clauses[clause.word] = 1;
      continue;
    }
    if (clause.value === undefined) return undefined;
    const value = evaluateNumber(clause.value, context);
    if (value === undefined) return undefined;
    if (value.dimension !== dimensions[name]) {
      context.report.add({
        code: 'wrong_dimension',
        place: context.place(clause.value),
        message: `\`${clause.word}\` wants ${describe(dimensions[name])}, such as \`${dimensions[name].example}\`, not ${describe(value.dimension)}.`,
      });
      return undefined;
    }
    const number = extremes(value).nominal;
    if (number <= 0) {
      context.report.add({
        code: 'impossible_value',
        place: context.place(clause.value),
        message: `\`${clause.word}\` must be greater than zero.`,
      });
      return undefined;
    }
    clauses[clause.word] = number;
  }
  const lacking = type.clausesNeeded?.find(word => clauses[word] === undefined);
  if (lacking !== undefined)
    return wrong(
      context,
      node.value ?? node,
      `\`${property.name}\` wants \`${lacking}\` behind its value, such as \`${property.example}\`.`,
    );
  return sooner(node, property, clauses, context) ? undefined : clauses;
}

/** What comes again before it has ended. */
function sooner(
  node: PropertyNode,
  property: Property,
  clauses: Readonly<Record<string, number>>,
  context: FactContext,
): boolean {
  const { for: lasting, every } = clauses;
  if (lasting === undefined || every === undefined || every >= lasting) return false;
  const clause = node.clauses.find(({ word }) => word === 'every');
  const [length, period] = [lasting, every].map(seconds => show(seconds, dimensions.time));
  context.report.add({
    code: 'impossible_value',
    place: context.place(clause?.value ?? clause ?? node),
    message: `\`${property.name}\` lasts ${length} and is said to come again every ${period}, before it has ended; \`every\` counts from start to start.`,
  });
  return true;
}
