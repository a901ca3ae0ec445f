// Properties to facts: a block's properties lowered, and what the tool assumes where nothing is stated.
import type { Expression, Name, Property as PropertyNode, Span } from '../../grammar/ast.ts';
import { detached } from '../../grammar/detached.ts';
import type { Place } from '../finding.ts';
import { propertyOf } from '../kinds/index.ts';
import type { Kind, Property } from '../kinds/kind.ts';
import { dimensions } from '../units/dimension.ts';
import type { EvaluationContext } from './evaluated.ts';
import { lowerValue } from './fact-values.ts';
import { fallbackExpression } from './fallback-expression.ts';
import type { Asking } from './kept-entities.ts';
import { Memory } from './kept-properties.ts';
import { nearest } from './nearest.ts';
import type { Fact, NumberFact, ProvenanceClass } from './plant.ts';
import { Report, replaceFix } from './report.ts';

/** What the lowering of one block's properties may look at. */
export interface FactContext extends EvaluationContext {
  /** The tag of a component of one of the kinds, or the name of a practice; reports what is wrong with it. */
  readonly reference: (expression: Expression, property: Property) => string | undefined;
  /** The text of a place, for "as written". */
  readonly text: (place: Place) => string;
  readonly inherited: boolean;
  /** Whether the text there could not be read with certainty: what it says is unknown, and silent. */
  readonly doubtful: (span: Span) => boolean;
  /** The value in SI that was picked for a `pick` at this place; undefined as long as it is open. */
  readonly pick: (place: Place, property: Property) => number | undefined;
  /** The class of a plain statement here: a catalogue's row may inherit its file's source. */
  readonly stated: { readonly class: ProvenanceClass; readonly text: string | undefined };
}

export interface LoweredFacts {
  readonly facts: Map<string, Fact>;
  /** Written, but not understood. */
  readonly failed: Set<string>;
  /** What the same declaration came to where it stood first. */
  readonly origin?: LoweredFacts;
}

/** One object for all places in which a declaration says the same. */
export const originOf = (lowered: LoweredFacts): LoweredFacts => lowered.origin ?? lowered;

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
  const misspelt: string[] = [];
  for (const node of nodes) {
    const name = node.target[0];
    if (name === undefined) continue;
    const property = propertyOf(kind, name.text);
    if (property === undefined || node.target.length > 1) {
      const meant = reportUnknownProperty(node, kind, context);
      if (meant !== undefined) misspelt.push(meant);
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
  spreadSugar(facts, kind, context);
  for (const name of misspelt) if (!facts.has(name)) failed.add(name);
  return { facts, failed };
}

/** One property; undefined after a finding, or where its value is not written yet. */
export function lowerProperty(node: PropertyNode, property: Property, context: FactContext): Fact | undefined {
  const expression = node.value;
  if (expression === undefined || context.doubtful(node)) return undefined;
  // A choice that is open is made anew for each analysis.
  if (expression.type === 'pick') return lowerAnew(node, expression, property, context);
  const fact = kept.recallOrMake(node, context, asking => lowerAnew(node, expression, property, asking));
  if (fact === undefined) return undefined;
  if (fact.property !== property) return lowerAnew(node, expression, property, context);
  const whole = context.place(node);
  if (samePlace(fact.whole, whole)) return fact;
  // The same text has moved, or stands in another file.
  const moved = { ...fact, place: context.place(expression), whole };
  kept.replace(node, moved);
  return moved;
}

/** Those of the properties whose facts follow from more than their own text; undefined where one is made anew each time. */
export function askingAmong(
  nodes: readonly PropertyNode[],
  factOf: (node: PropertyNode) => Fact | undefined,
): readonly Asking[] | undefined {
  const asking: Asking[] = [];
  for (const node of nodes) {
    const asks = kept.asks(node);
    if (asks === false) continue;
    const fact = asks === undefined ? undefined : factOf(node);
    if (fact === undefined) return undefined;
    asking.push({ node, fact });
  }
  return asking;
}

/** The paths of names that a property's fact was made from; undefined where it was made from more, or nothing is known. */
export function askedPaths(node: PropertyNode): readonly (readonly Name[])[] | undefined {
  return kept.askedPaths(node);
}

const kept = new Memory<FactContext, Fact>();

/** Whether the same text begins in both. */
export function samePlace(a: Place | undefined, b: Place): boolean {
  return a?.start === b.start && a.path === b.path;
}

function lowerAnew(
  node: PropertyNode,
  expression: Expression,
  property: Property,
  context: FactContext,
): Fact | undefined {
  const value = lowerValue(node, expression, property, context);
  if (value === undefined) return undefined;
  const place = context.place(expression);
  const provenance =
    expression.type === 'pick'
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
    written: detached(context.text(place)),
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
  const expression = fallbackExpression(property.fallback.text);
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
    doubtful: () => false,
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

/** Returns the property that was probably meant. */
export function reportUnknownProperty(node: PropertyNode, kind: Kind, context: FactContext): string | undefined {
  const written = node.target.map(name => name.text).join('.');
  const near = nearest(
    written,
    kind.properties.map(property => property.name),
  );
  if (context.doubtful(node)) return near;
  const place = context.place({ start: node.target[0]!.start, end: node.target.at(-1)!.end });
  context.report.add({
    code: 'unknown_property',
    place,
    message:
      near === undefined
        ? `A ${kind.name} has no property \`${written}\`.`
        : `A ${kind.name} has no property \`${written}\`: did you mean \`${near}\`?`,
    fixes: near === undefined ? [] : [replaceFix(place, near, true)],
  });
  return near;
}

const sugar = [
  ['for', 'duration'],
  ['every', 'repeat'],
] as const;

/** Whether values of its kind state other facts as well. */
export const hasSugar = ({ name }: Kind): boolean => name === 'duty';

/** `discharge = 400 kW for 45 min every 2 h` states duration and repeat as well. */
export function spreadSugar(facts: Map<string, Fact>, kind: Kind, context: FactContext): void {
  if (!hasSugar(kind)) return;
  const stated = new Map(facts);
  for (const source of ['discharge', 'charge']) {
    const fact = facts.get(source);
    if (fact?.value.type !== 'number') continue;
    for (const [word, target] of sugar) {
      const seconds = fact.value.clauses[word];
      const property = propertyOf(kind, target);
      if (seconds === undefined || property === undefined) continue;
      const twice = stated.get(target);
      if (twice === undefined) facts.set(target, { ...fact, property, value: exactly(seconds) });
      else if (twice.whole !== undefined)
        context.report.add({
          code: 'duplicate',
          place: twice.whole,
          message: `\`${word}\` behind \`${source}\` says the same as \`${target}\`, which counts: write one of them.`,
        });
    }
  }
}

function exactly(seconds: number): NumberFact {
  return {
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
}
