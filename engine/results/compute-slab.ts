// Computes one slab: point by point through a reader that records every look, or at once from the slabs of others.
import type { Component } from '../model/plant.ts';
import { type Definition, pointsOf, sameColumn } from './definition.ts';
import { topologyParts } from './facts-kept.ts';
import type { Graph, Slab } from './graph.ts';
import type { LookedAt } from './looks.ts';
import { Read } from './read.ts';
import { type Formula, formulaOf, orUnknown, whereOf } from './taken.ts';

/** A value in one case under one duty. */
export interface Wanted {
  /** Of its strip. */
  readonly number: number;
  readonly component: Component;
  readonly definition: Definition;
  readonly caseIndex: number;
  readonly duty: Component | undefined;
}

interface Computing extends Wanted {
  readonly graph: Graph;
  /** Of the earlier text, and of the base case: if the column comes out equal, theirs stays. */
  readonly before: Slab | undefined;
  readonly base: Slab | undefined;
  /** The one of them that likely looked at the same. */
  readonly known: Slab | undefined;
}

export interface Computed {
  readonly slab: Slab;
  /** The lineage knows already that the strip looks at what this slab looked at. */
  readonly recorded: boolean;
}

export function computeSlab(computing: Computing): Computed {
  const { definition } = computing;
  if (definition.taken === undefined) return throughReader(computing);
  const where = whereOf(definition);
  return where === undefined ? fromOthers(computing) : fromElsewhere(computing, where);
}

function throughReader(computing: Computing): Computed {
  const { graph, component, definition, caseIndex, duty, known } = computing;
  const read = new Read(graph, component, caseIndex, duty, undefined, undefined, known?.looked);
  const points = pointsOf(definition);
  const values = unknownColumn(definition, points.length);
  const column = definition.column?.(read);
  const unknown = read.absorbed;
  read.markStart();
  for (let index = 0; index < points.length; index++) {
    read.startAgain();
    const value = column === undefined ? definition.compute(read, points[index]!) : column(points[index]!);
    if (unknown || read.absorbed) continue;
    if (definition.type === 'step') values[index] = value;
    else if (definition.type === 'figures') putAll(values, index * definition.width, value as readonly number[]);
    else values[index] = orUnknown(value as number);
  }
  read.close();
  return computed(computing, values, read.lookedAt(), read.outside);
}

/** What was not understood is unknown in the sources already. */
function fromOthers(computing: Computing): Computed {
  const { graph, component, definition, caseIndex, duty, known } = computing;
  const formula = formulaOf(definition, false)!;
  // Which values these are never changes.
  const looked = known?.looked.lineage === graph.lineage ? known.looked : lookedAtOf(computing, formula);
  const columns = looked.slabs.map(seen => {
    return graph.slabAt(seen.strip, component, seen.definition, caseIndex, seen.duty === undefined ? undefined : duty)
      .values;
  });
  return computed(computing, formulaColumn(formula, columns), looked, nothingOutside);
}

function lookedAtOf({ graph, component, duty }: Computing, formula: Formula): LookedAt {
  const slabs = formula.needs.map(({ definition }) => {
    const under = definition.underDuty ? duty?.tag : undefined;
    return { tag: component.tag, definition, duty: under, strip: graph.numberOf(component.tag, definition, under) };
  });
  return { facts: [], slabs, topology: topologyParts.none, duties: false, formula, lineage: graph.lineage };
}

/** By a formula that another component tells of, where there is one. */
function fromElsewhere(computing: Computing, where: (read: Read) => Component | undefined): Computed {
  const { graph, component, definition, caseIndex, duty, known } = computing;
  const read = new Read(graph, component, caseIndex, duty, undefined, undefined, known?.looked);
  const other = where(read);
  const formula = formulaOf(definition, other !== undefined);
  if (formula === undefined || read.absorbed) return throughReader(computing);
  const columns = formula.needs.map(need => read.column(need.there ? other! : component, need.definition));
  read.close();
  return computed(computing, formulaColumn(formula, columns), read.lookedAt(formula), nothingOutside);
}

export function columnCount({ needs, stages }: Formula): number {
  return needs.length + stages.length - 1;
}

/** `columns`: those that the formula needs, with room behind them for those of its stages. */
export function formulaColumn({ needs, stages }: Formula, columns: Slab['values'][]): number[] {
  const last = stages.length - 1;
  for (let index = 0; index < last; index++) {
    const { fill, meanwhile, columns: of, places } = stages[index]!;
    fill(meanwhile, columns, of, places);
    columns[needs.length + index] = meanwhile;
  }
  const { fill, size, columns: of, places } = stages[last]!;
  const values = unknownNumbers(size);
  fill(values, columns, of, places);
  return values;
}

function putAll(values: unknown[], place: number, figures: readonly number[]): void {
  for (let index = 0; index < figures.length; index++) values[place + index] = orUnknown(figures[index]!);
}

/** Of a value that is taken from others, with new numbers. */
export function takenSlab(definition: Definition, values: number[], before: Slab, base: Slab | undefined): Slab {
  return { values: keptIfEqual({ before, base, definition }, values), looked: before.looked, outside: nothingOutside };
}

function computed(computing: Computing, values: Slab['values'], looked: LookedAt, outside: Slab['outside']): Computed {
  const slab = { values: keptIfEqual(computing, values), looked, outside };
  return { slab, recorded: looked === computing.known?.looked && outside.length === 0 };
}

/**
 * A column in which nothing is known yet. Copied from a list of fractions, it stays one that holds its numbers unboxed; a
 * typed array of more than eight would be allocated outside the heap, at forty times the cost.
 */
function unknownNumbers(count: number): number[] {
  unknownColumns[count] ??= Array.from({ length: count }, () => Number.NaN);
  return unknownColumns[count].slice();
}

const unknownColumns: number[][] = [];

/** Nothing is known of a step where it is undefined. */
function unknownColumn({ type, width }: Definition, points: number): unknown[] {
  return type === 'step' ? new Array<unknown>(points).fill(undefined) : unknownNumbers(points * width);
}

const nothingOutside: Slab['outside'] = [];

function keptIfEqual(
  { before, base, definition }: Pick<Computing, 'before' | 'base' | 'definition'>,
  values: Slab['values'],
): Slab['values'] {
  if (before !== undefined && sameColumn(before.values, values, definition)) return before.values;
  return base !== undefined && sameColumn(base.values, values, definition) ? base.values : values;
}
