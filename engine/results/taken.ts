// A value that is nothing but a formula of others at the same point, where a chain of such formulas counts as one: computed
// a column at a time and without a reader, which makes it several times as quick.
import type { Component } from '../model/plant.ts';
import { type At, type Definition, type Figure, pointIndex, pointsOf, type Result, type Step } from './definition.ts';
import type { Read } from './read.ts';

/** What a value is taken from: its axes hold all those of its sources. */
export type Source = Here | There<Here>;

type Here = Result | Step<unknown> | Figure;

/** A source of another component than the value's own. */
export interface There<Of> {
  readonly type: 'there';
  readonly of: Of;
}

export function there<Of>(of: Of): There<Of> {
  return { type: 'there', of };
}

/** Sources, or formulas of such, and what makes a column of theirs. */
export interface Taken {
  readonly type: 'taken';
  readonly of: readonly (Source | Taken)[];
  readonly fill: Fill;
  /** The component that `there` is; where it is none, the value comes about as `otherwise` says, or through a reader. */
  readonly where: Where | undefined;
  readonly otherwise: Taken | undefined;
}

/**
 * `of`: which of the columns are those of the sources, in which the numbers for the points stand at `places`. NaN stands in
 * `into`; not so where it is part of another formula, and is used again: then all of it has to be written.
 */
export type Fill = (
  into: number[],
  columns: readonly (readonly unknown[])[],
  of: readonly number[],
  places: readonly (readonly number[])[],
) => void;

type Where = (read: Read) => Component | undefined;

type Outcome<T> = { readonly type: 'step'; readonly compute: (read: Read, at: At) => T };
type AnySource = AnyHere | There<AnyHere>;
type AnyHere = Result | Outcome<unknown> | Figure;

/** What it is handed: a number, or a step's whole outcome. */
type Handed<From> = From extends There<infer Of> ? Handed<Of> : From extends Outcome<infer T> ? T | undefined : number;

export function takenFrom<A extends AnySource>(first: A, by: (first: Handed<A>) => number): Taken;
export function takenFrom<A extends AnySource, B extends AnySource>(
  first: A,
  second: B,
  by: (first: Handed<A>, second: Handed<B>) => number,
): Taken;
export function takenFrom<A extends AnySource, B extends AnySource, C extends AnySource>(
  first: A,
  second: B,
  third: C,
  by: (first: Handed<A>, second: Handed<B>, third: Handed<C>) => number,
): Taken;
export function takenFrom<A extends AnySource, B extends AnySource, C extends AnySource, D extends AnySource>(
  first: A,
  second: B,
  third: C,
  fourth: D,
  by: (first: Handed<A>, second: Handed<B>, third: Handed<C>, fourth: Handed<D>) => number,
): Taken;
export function takenFrom(...all: readonly unknown[]): Taken {
  return takenBy(all.slice(0, -1) as AnySource[], pointwise(all.at(-1) as By));
}

type By = (first: unknown, second: unknown, third: unknown, fourth: unknown) => number;

function pointwise(by: By): Fill {
  return (into, columns, of, [inFirst, inSecond, inThird, inFourth]) => {
    const first = columns[of[0]!];
    const second = columns[of[1]!];
    const third = columns[of[2]!];
    const fourth = columns[of[3]!];
    for (let index = 0; index < into.length; index++) {
      const one = first![inFirst![index]!];
      const two = second?.[inSecond![index]!];
      const three = third?.[inThird![index]!];
      const four = fourth?.[inFourth![index]!];
      into[index] = orUnknown(by(one, two, three, four));
    }
  };
}

/** A number that is not finite is none. */
export function orUnknown(value: number): number {
  // As `Number.isFinite`, which young code calls with a number that it has to allocate.
  return value - value === 0 ? value : Number.NaN;
}

export function takenBy(of: readonly (AnySource | Taken)[], fill: Fill): Taken {
  return { type: 'taken', of: of as Taken['of'], fill, where: undefined, otherwise: undefined };
}

/** Only where there is such a component. */
export function where(which: Where, taken: Taken, otherwise?: Taken): Taken {
  return { ...taken, where: which, otherwise };
}

/** A chain of formulas as one: what it needs in the end, and what is made of it stage by stage; the last is the value. */
export interface Formula {
  /** Columns, each once. */
  readonly needs: readonly Need[];
  readonly stages: readonly Stage[];
}

interface Need {
  readonly definition: Definition;
  readonly there: boolean;
}

interface Stage {
  readonly fill: Fill;
  /** Numbers in its column. */
  readonly size: number;
  /** Where those of an earlier stage stand only until the last one is made. */
  readonly meanwhile: number[];
  /** Of each source: which column it is of, among those that are needed and then those of the earlier stages. */
  readonly columns: readonly number[];
  /** Of each source: where in its column the number for each point of the value stands. */
  readonly places: readonly (readonly number[])[];
}

/** What tells where `there` is, for a value and those that its formula takes in: one way at most. */
export function whereOf(definition: Definition): Where | undefined {
  const { taken } = definition;
  if (taken === undefined) return undefined;
  if (!wheres.has(definition)) {
    const all = new Set(wheresIn(taken));
    all.delete(undefined);
    if (all.size > 1) throw new Error(`${definition.on}.${definition.name} is taken from two other components`);
    wheres.set(definition, [...all][0]);
  }
  return wheres.get(definition);
}

const wheres = new WeakMap<Definition, Where | undefined>();

function wheresIn({ of, where: own, otherwise }: Taken): readonly (Where | undefined)[] {
  const parts = of.flatMap(source =>
    source.type === 'taken' ? wheresIn(source) : source.type === 'result' ? [whereOf(source)] : [],
  );
  return [own, ...parts, ...(otherwise === undefined ? [] : wheresIn(otherwise))];
}

/** The formula of a value where there is another component, or none; undefined where it needs a reader then. */
export function formulaOf(definition: Definition, other: boolean): Formula | undefined {
  const known = other ? formulas.with : formulas.without;
  if (!known.has(definition)) known.set(definition, makeFormula(definition, other));
  return known.get(definition);
}

const formulas = {
  with: new WeakMap<Definition, Formula | undefined>(),
  without: new WeakMap<Definition, Formula | undefined>(),
};

function wayOf({ taken }: Definition, other: boolean): Taken | undefined {
  return taken?.where === undefined || other ? taken : taken.otherwise;
}

function makeFormula(whole: Definition, other: boolean): Formula | undefined {
  const needs: Need[] = [];
  const stages: Stage[] = [];
  const need = (definition: Definition, isThere: boolean): number => {
    const known = needs.findIndex(each => each.definition === definition && each.there === isThere);
    return known >= 0 ? known : needs.push({ definition, there: isThere }) - 1;
  };
  // The columns of stages count from the end, since what is needed is not counted yet.
  const add = (definition: Definition, { of, fill }: Taken): number => {
    const points = pointsOf(definition);
    const columns = of.map(source => {
      if (source.type === 'taken') return add({ ...definition, width: 1 }, source);
      if (source.type !== 'result') return need(definitionOf(source), source.type === 'there');
      const way = wayOf(source, other);
      const isPart = way !== undefined && (source.underDuty === whole.underDuty || whereOf(source) === undefined);
      return isPart ? add(source, way) : need(source, false);
    });
    const places = of.map(source => points.map((at, index) => (source.type === 'taken' ? index : placeIn(source, at))));
    const size = points.length * definition.width;
    return -stages.push({ fill, size, meanwhile: new Array<number>(size).fill(Number.NaN), columns, places });
  };
  const way = wayOf(whole, other);
  if (way === undefined) return undefined;
  add(whole, way);
  const counted = stages.map(stage => {
    return { ...stage, columns: stage.columns.map(column => (column < 0 ? needs.length - column - 1 : column)) };
  });
  return { needs, stages: counted };
}

/** Of which value a source is a number. */
function definitionOf(source: Source): Definition {
  const of = source.type === 'there' ? source.of : source;
  return of.type === 'figure' ? of.of : of;
}

/** Where in a column of its value the number of a source for a point stands. */
export function placeIn(source: Source, at: At): number {
  const of = source.type === 'there' ? source.of : source;
  return of.type === 'figure' ? pointIndex(of.of, at) * of.of.width + of.place : pointIndex(of, at);
}

/** The numbers of a result, or of one figure, among those of their column. */
export function numbersOf(source: Result | Figure): { definition: Definition; step: number; first: number } {
  return source.type === 'figure'
    ? { definition: source.of, step: source.of.width, first: source.place }
    : { definition: source, step: 1, first: 0 };
}

/** At one point by its formula, or through the reader where it has none. */
export function takenAt<T>(
  taken: Taken,
  width: number,
  column: ((read: Read) => (at: At) => T) | undefined,
  outcome: (numbers: readonly number[]) => T,
): (read: Read, at: At) => T {
  return (read, at) => {
    const other = taken.where?.(read);
    const way = taken.where === undefined || other !== undefined ? taken : taken.otherwise;
    return way === undefined ? column!(read)(at) : outcome(numbersAt(way, width, read, at, other));
  };
}

function numbersAt({ of, fill }: Taken, width: number, read: Read, at: At, other: Component | undefined): number[] {
  const columns = of.map(source => {
    if (source.type === 'taken') return numbersAt(source, 1, read, at, other);
    return [source.type === 'there' ? seen(read, other!, source.of, at) : seen(read, read.self, source, at)];
  });
  const numbers = new Array<number>(width).fill(Number.NaN);
  const first = of.map(() => [0]);
  fill(numbers, columns, [...of.keys()], first);
  return numbers;
}

function seen(read: Read, component: Component, source: Here, at: At): unknown {
  if (source.type === 'result') return read.value(component, source, at);
  return source.type === 'step' ? read.step(component, source, at) : read.figure(component, source, at);
}
