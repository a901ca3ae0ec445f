// Properties to facts: each value checked against what its kind wants of it.
import type { Expression, PickExpression, Property as PropertyNode } from '../../grammar/ast.ts';
import { parse } from '../../grammar/parse.ts';
import type { Place } from '../finding.ts';
import type { Kind, Property, QuantityType } from '../kinds/kind.ts';
import { assignable, type Dimension, describe, dimensions, isMoney } from '../units/dimension.ts';
import {
  type EvaluatedCurve,
  type EvaluatedNumber,
  type EvaluationContext,
  evaluate,
  evaluateNumber,
  extremes,
  perWord,
} from './evaluate.ts';
import { nearest } from './nearest.ts';
import type { CurveFact, Fact, FactValue, NumberFact, ProvenanceClass } from './plant.ts';
import { Report, replaceFix } from './report.ts';

/** What the lowering of one block's properties may look at. */
export interface FactContext extends EvaluationContext {
  /** The tag of a component of one of the kinds, or the name of a practice; reports what is wrong with it. */
  readonly reference: (expression: Expression, property: Property) => string | undefined;
  /** The text of a place, for "as written". */
  readonly text: (place: Place) => string;
  readonly inherited: boolean;
  /** The value in SI that was picked for a `pick` at this place; undefined as long as it is open. */
  readonly pick: (place: Place, property: Property) => number | undefined;
  /** The class of a plain statement here: a catalogue's row may inherit its file's source. */
  readonly stated: { readonly class: ProvenanceClass; readonly text: string | undefined };
}

export interface LoweredFacts {
  readonly facts: Map<string, Fact>;
  /** Written, but not understood. */
  readonly failed: Set<string>;
}

/** Lowers a block's properties with `lower`; the first of two with one name counts. */
export function lowerProperties(
  nodes: readonly PropertyNode[],
  kind: Kind,
  context: FactContext,
  lower: (node: PropertyNode, property: Property) => Fact | undefined,
): LoweredFacts {
  const facts = new Map<string, Fact>();
  const failed = new Set<string>();
  const first = new Map<string, PropertyNode>();
  for (const node of nodes) {
    const name = node.target[0];
    if (name === undefined) continue;
    const property = kind.properties.find(candidate => candidate.name === name.text);
    if (property === undefined || node.target.length > 1) {
      reportUnknownProperty(node, kind, context);
      continue;
    }
    const earlier = first.get(property.name);
    if (earlier !== undefined) {
      context.report.add({
        code: 'duplicate',
        place: context.place(name),
        message: `\`${property.name}\` is stated twice in this block; the first one counts.`,
        related: [{ place: context.place(earlier.target[0]!), message: 'It is stated here first.' }],
      });
      continue;
    }
    first.set(property.name, node);
    const fact = lower(node, property);
    if (fact === undefined) failed.add(property.name);
    else facts.set(property.name, fact);
  }
  spreadSugar(facts, kind);
  return { facts, failed };
}

/** One property; undefined after a finding, or where its value is not written yet. */
export function lowerProperty(node: PropertyNode, property: Property, context: FactContext): Fact | undefined {
  if (node.value === undefined) return undefined;
  const value = lowerValue(node, node.value, property, context);
  if (value === undefined) return undefined;
  const place = context.place(node.value);
  const provenance =
    node.value.type === 'pick'
      ? { class: 'picked' as const, text: undefined }
      : node.provenance === undefined
        ? context.stated
        : {
            class: node.provenance.word === 'from' ? ('sourced' as const) : ('assumed' as const),
            text: node.provenance.text,
          };
  return {
    property,
    value,
    provenance,
    place,
    whole: context.place(node),
    inherited: context.inherited,
    written: context.text(place),
  };
}

const fallbacks = new Map<Property, Fact | undefined>();

/** What the tool assumes where the author says nothing; undefined where nothing can be. */
export function fallbackFact(property: Property): Fact | undefined {
  if (fallbacks.has(property)) return fallbacks.get(property);
  const fact = makeFallback(property);
  fallbacks.set(property, fact);
  return fact;
}

function makeFallback(property: Property): Fact | undefined {
  if (property.fallback === undefined) return undefined;
  const report = new Report();
  const text = `let fallback = ${property.fallback.text}\n`;
  const declaration = parse(text).chunks[0]?.chunk.declaration;
  const expression = declaration?.type === 'let' ? declaration.value : undefined;
  if (expression === undefined)
    throw new Error(`the fallback of ${property.name} is not in the language: ${property.fallback.text}`);
  const nowhere = { path: '', start: 0, end: 0 };
  const context: FactContext = {
    report,
    place: () => nowhere,
    lookup: () => undefined,
    reference: () => undefined,
    text: () => property.fallback!.text,
    inherited: false,
    pick: () => undefined,
    stated: { class: 'tool', text: property.fallback.reason },
  };
  const node: PropertyNode = {
    target: [],
    value: expression,
    per: undefined,
    clauses: [],
    provenance: undefined,
    doc: undefined,
    start: 0,
    end: 0,
  };
  const fact = lowerProperty(node, property, context);
  if (fact === undefined)
    throw new Error(
      `the fallback of ${property.name} does not fit: ${report.findings.map(finding => finding.message).join(' ')}`,
    );
  return { ...fact, place: undefined, whole: undefined, provenance: context.stated, written: property.fallback.text };
}

function lowerValue(
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
      `\`${property.name}\` can’t be picked; state it, such as \`${property.example}\`.`,
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

function lowerNumber(
  node: PropertyNode,
  expression: Expression,
  value: EvaluatedNumber,
  property: Property,
  type: QuantityType,
  context: FactContext,
): NumberFact | undefined {
  const { low, nominal, high } = extremes(value);
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
  const tolerance = toleranceOf(property);
  if (tolerance === undefined) return fact;
  const deviation = Math.abs(fact.nominal) * tolerance;
  return { ...fact, low: fact.nominal - deviation, high: fact.nominal + deviation, form: 'assumed_tolerance' };
}

/** As a ratio: `10 %` is 0.1. */
export function toleranceOf(property: Property): number | undefined {
  const text = property.toleranceFallback?.text;
  const number = text === undefined ? undefined : /^([\d.]+) %$/.exec(text)?.[1];
  return number === undefined ? undefined : Number(number) / 100;
}

function boundsMessage(low: number, high: number, property: Property, type: QuantityType): string | undefined {
  const { least, greatest } = type;
  const what = `\`${property.name}\``;
  if (least !== undefined && (low < least.value || (least.exclusive && low === least.value))) {
    if (least.value === 0) return least.exclusive ? `${what} must be greater than zero.` : `${what} can't be negative.`;
    return `${what} can't be as small as that.`;
  }
  if (greatest !== undefined && (high > greatest.value || (greatest.exclusive && high === greatest.value))) {
    return greatest.value === 1 && type.dimension === 'ratio'
      ? `${what} can't be more than 100 %.`
      : `${what} can't be as large as that.`;
  }
  return undefined;
}

function lowerClauses(
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
  return clauses;
}

function lowerCurve(
  node: PropertyNode,
  value: EvaluatedCurve,
  property: Property,
  type: QuantityType,
  context: FactContext,
): CurveFact | undefined {
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
    if (given === undefined || given === dimensions[known.dimension]) continue;
    context.report.add({
      code: 'wrong_dimension',
      place: context.place(at),
      message: `The curve runs over \`${axis}\`, ${describe(dimensions[known.dimension])}; its first column gives ${describe(given)}.`,
    });
    return undefined;
  }
  if (value.axes.length > 1 || value.curve.shape === 'surface') {
    context.report.add({
      code: 'not_evaluated',
      severity: 'note',
      place: context.place(at),
      message: `A curve over two axes is read but not evaluated yet: \`${property.name}\` counts as unknown.`,
    });
    return undefined;
  }
  const per = value.per ?? perWord(node.per);
  if (per !== undefined && type.per !== true)
    return wrong(context, at, `\`${property.name}\` is not given per ${per}.`);
  const least = Math.min(...value.curve.y);
  const greatest = Math.max(...value.curve.y);
  const message = boundsMessage(least, greatest, property, type);
  if (message !== undefined) {
    context.report.add({ code: 'impossible_value', place: context.place(at), message });
    return undefined;
  }
  return { type: 'curve', axes: value.axes, curve: value.curve, dimension: value.dimension, per };
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

export function reportUnknownProperty(node: PropertyNode, kind: Kind, context: FactContext): void {
  const written = node.target.map(name => name.text).join('.');
  const first = node.target[0]!;
  const last = node.target[node.target.length - 1]!;
  const place = context.place({ start: first.start, end: last.end });
  const near = nearest(
    written,
    kind.properties.map(property => property.name),
  );
  context.report.add({
    code: 'unknown_property',
    place,
    message:
      near === undefined
        ? `A ${kind.name} has no property \`${written}\`.`
        : `A ${kind.name} has no property \`${written}\`: did you mean \`${near}\`?`,
    fixes: near === undefined ? [] : [replaceFix(place, near, true)],
  });
}

/** `discharge = 400 kW for 45 min every 2 h` states duration and repeat as well. */
function spreadSugar(facts: Map<string, Fact>, kind: Kind): void {
  if (kind.name !== 'duty') return;
  for (const source of ['discharge', 'charge']) {
    const fact = facts.get(source);
    if (fact?.value.type !== 'number') continue;
    for (const [word, target] of [
      ['for', 'duration'],
      ['every', 'repeat'],
    ] as const) {
      const seconds = fact.value.clauses[word];
      const property = kind.properties.find(candidate => candidate.name === target);
      if (seconds === undefined || property === undefined || facts.has(target)) continue;
      const value: NumberFact = {
        type: 'number',
        dimension: dimensions.time,
        low: seconds,
        nominal: seconds,
        high: seconds,
        form: 'exact',
        unit: undefined,
        per: undefined,
        clauses: {},
      };
      facts.set(target, { ...fact, property, value });
    }
  }
}

function wrong(context: FactContext, span: { start: number; end: number }, message: string): undefined {
  context.report.add({ code: 'wrong_value', place: context.place(span), message });
  return undefined;
}
