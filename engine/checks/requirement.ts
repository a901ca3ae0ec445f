// The author's own demands on the results, judged at every operating point.

import type { SpreadVariable } from '../model/evaluated.ts';
import type { Component, Requirement } from '../model/plant.ts';
import { type At, pointsOf, type Result } from '../results/definition.ts';
import { resultOf } from '../results/index.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { type CheckContext, type Spot, spotOf } from './context.ts';
import { pointView } from './point-view.ts';

const messages = {
  fails: (f: { what: string; left: string; right: string; operator: string; where: string; because: string }) =>
    `${f.what} does not hold: ${f.left} is ${f.operator} ${f.right}${f.where}${f.because}.`,
  unknown: (f: { what: string }) => `${f.what} can’t be judged: something that it reads is not known.`,
};

export const requirementCheck = defineCheck({
  code: 'requirement',
  group: 'facts',
  title: 'A requirement does not hold',
  why: 'It was written down because somebody needs it.',
  remedy: 'Change the design, or agree on another requirement.',
  source: 'the plant’s own `require`',
  on: 'plant',
  looksEverywhere: true,
  bad: [['require T1.loading <= 95 %', 'require T1.loading <= 60 %']],
  run: context => {
    context.judgeEach(context.plant.requirements, nameOf, requirement => judge(context, requirement));
  },
});

/** Conditions that mean the same in one text after another are one object; what they mean is not in their words alone. */
const numbers = new WeakMap<Requirement['left'], number>();
let count = 0;

const names = new WeakMap<Requirement, string>();

function nameOf(requirement: Requirement): string {
  const name = names.get(requirement) ?? makeName(requirement);
  names.set(requirement, name);
  return name;
}

function makeName({ left, operator, right, during }: Requirement): string {
  const [one, other] = [left, right].map(side => {
    const number = numbers.get(side) ?? count++;
    numbers.set(side, number);
    return number;
  });
  return `${one} ${operator} ${other} ${during ?? ''}`;
}

/** What is the case where a condition fails. */
const failing: Readonly<Record<Requirement['operator'], string>> = {
  '<=': 'above',
  '<': 'not below',
  '>=': 'below',
  '>': 'not above',
  '==': 'not equal to',
  '!=': 'equal to',
};

interface Judged {
  readonly margin: number;
  readonly left: number;
  readonly right: number;
  readonly spot: Spot;
}

function judge(context: CheckContext, requirement: Requirement): void {
  const variables = [...new Set([...requirement.left.variables, ...requirement.right.variables])];
  const read = variables.filter(variable => variable.result !== undefined);
  const spreads = variables.filter(variable => variable.result === undefined);
  const sources = read.map(({ result }) => sourceOf(context, result!)).filter(source => source !== undefined);
  const what =
    requirement.name === undefined ? `\`${requirement.written}\`` : `${requirement.name} (\`${requirement.written}\`)`;
  const subject = context.component(read[0]?.result?.tag) ?? context.plant.site;
  const worst =
    sources.length < read.length
      ? undefined
      : (atExtreme(context, requirement, sources) ?? overPoints(context, requirement, { read, spreads, sources }));
  if (worst === undefined) {
    context.say({
      severity: 'note',
      component: subject,
      place: requirement.place,
      message: messages.unknown({ what }),
    });
    return;
  }
  if (worst.margin >= 0) return;
  // A bare number has no dimension of its own: it is shown like what it is compared with.
  const dimension = requirement.left.variables.length > 0 ? requirement.left.dimension : requirement.right.dimension;
  context.say({
    severity: 'error',
    component: subject,
    place: requirement.place,
    spot: read.length === 0 ? undefined : worst.spot,
    point: read.length === 0 ? undefined : pointView(context.graph, { ...worst.spot, ...widest(sources) }),
    limit: { name: undefined, number: worst.right, display: show(worst.right, dimension) },
    message: messages.fails({
      what,
      left: show(worst.left, dimension),
      right: show(worst.right, dimension),
      operator: failing[requirement.operator],
      where: read.length === 0 ? '' : context.where({ ...worst.spot, ...widest(sources) }),
      because: requirement.because === undefined ? '' : `; it is wanted because: ${requirement.because}`,
    }),
  });
}

/** A result against a plain number, as most requirements are: its extreme is the worst of all points. */
function atExtreme(
  context: CheckContext,
  { left, right, operator, during }: Requirement,
  [source]: readonly Source[],
): Judged | undefined {
  if (source === undefined || left.steps !== 1 || right.variables.length > 0) return undefined;
  if (operator === '==' || operator === '!=') return undefined;
  const duty = context.component(during);
  const end = operator === '<=' || operator === '<' ? 'highest' : 'lowest';
  const extreme = context.graph.worst(source.component, source.result, end, duty === undefined ? undefined : [duty]);
  if (extreme === undefined) return undefined;
  const bound = right.at(one => one.nominal);
  const margin = marginOf(extreme.value, bound, operator);
  return { margin, left: extreme.value, right: bound, spot: spotOf(source.component, source.result, extreme) };
}

/** Anything else: the first of the points with the least margin; undefined where none is known. */
function overPoints(context: CheckContext, requirement: Requirement, reading: Reading): Judged | undefined {
  const { read, spreads, sources } = reading;
  let worst: Judged | undefined;
  for (const point of pointsFor(context, requirement, sources)) {
    const values = new Map<SpreadVariable, number>();
    for (const [index, variable] of read.entries()) values.set(variable, valueAt(context, sources[index]!, point));
    if ([...values.values()].some(Number.isNaN)) continue;
    const judged = worstCorner(requirement, spreads, values, sources[0], point);
    if (worst === undefined || judged.margin < worst.margin) worst = judged;
  }
  return worst;
}

/** What a condition reads: results at their sources, one each, and facts with a spread. */
interface Reading {
  readonly read: readonly SpreadVariable[];
  readonly spreads: readonly SpreadVariable[];
  readonly sources: readonly Source[];
}

interface Source {
  readonly component: Component;
  readonly result: Result;
}

/** Undefined where a mistake in the text leaves the plant without the component. */
function sourceOf(context: CheckContext, { tag, name }: NonNullable<SpreadVariable['result']>): Source | undefined {
  const component = context.component(tag);
  return component === undefined ? undefined : { component, result: resultOf(component.kind.name, name)! };
}

/** The source that varies with most: its point names every coordinate that mattered. */
function widest(sources: readonly Source[]): Source | undefined {
  return sources.reduce<Source | undefined>(
    (most, source) => (most === undefined || source.result.axes.length > most.result.axes.length ? source : most),
    undefined,
  );
}

interface Point {
  readonly caseIndex: number;
  readonly duty: Component | undefined;
  readonly at: At;
}

/** All points over which any of the results varies. */
function* pointsFor(context: CheckContext, requirement: Requirement, sources: readonly Source[]): Generator<Point> {
  const axes = new Set(sources.flatMap(({ result }) => result.axes));
  const widest = { axes: (['direction', 'voltage', 'soc'] as const).filter(axis => axes.has(axis)) };
  const during = context.component(requirement.during);
  const duties = axes.has('duty') ? (during === undefined ? context.plant.duties : [during]) : [undefined];
  for (const caseIndex of context.cases.keys()) {
    for (const duty of duties) for (const at of pointsOf(widest)) yield { caseIndex, duty, at };
  }
}

function valueAt(context: CheckContext, { component, result }: Source, { caseIndex, duty, at }: Point): number {
  return context.graph.value(component, result, caseIndex, result.underDuty ? duty : undefined, at);
}

function worstCorner(
  requirement: Requirement,
  spreads: readonly SpreadVariable[],
  values: ReadonlyMap<SpreadVariable, number>,
  source: Source | undefined,
  point: Point,
): Judged {
  let worst: Judged | undefined;
  for (let corner = 0; corner < 1 << spreads.length; corner++) {
    const pick = (variable: SpreadVariable): number => {
      const known = values.get(variable);
      if (known !== undefined) return known;
      return (corner >> spreads.indexOf(variable)) & 1 ? variable.high : variable.low;
    };
    const left = requirement.left.at(pick);
    const right = requirement.right.at(pick);
    const margin = marginOf(left, right, requirement.operator);
    const spot = { ...(source as Source), value: values.values().next().value ?? left, ...point };
    if (worst === undefined || margin < worst.margin) worst = { margin, left, right, spot };
  }
  return worst!;
}

/** Negative where the condition fails; a strict comparison fails on equality. */
function marginOf(left: number, right: number, operator: Requirement['operator']): number {
  const slack = 1e-9 * Math.max(Math.abs(left), Math.abs(right));
  switch (operator) {
    case '<=':
      return right - left + slack;
    case '<':
      return left < right ? right - left : Math.min(right - left, -Number.MIN_VALUE);
    case '>=':
      return left - right + slack;
    case '>':
      return left > right ? left - right : Math.min(left - right, -Number.MIN_VALUE);
    case '==':
      return slack - Math.abs(left - right);
    case '!=':
      return Math.abs(left - right) > slack ? 1 : -1;
  }
}
