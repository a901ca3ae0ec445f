// Computes one slab: point by point through a reader that records every look, or at once from the slabs of others.
import type { Component } from '../model/plant.ts';
import {
  type Definition,
  directions,
  pointsIn,
  pointsOf,
  sameColumn,
  socEnds,
  type Taken,
  voltages,
} from './definition.ts';
import type { Graph, Slab } from './graph.ts';
import type { LookedAt, LookedSlab } from './looks.ts';
import { Read } from './read.ts';

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
  const taken = definition.type === 'result' ? definition.taken : undefined;
  return taken === undefined ? throughReader(computing) : fromOthers(computing, taken);
}

function throughReader(computing: Computing): Computed {
  const { graph, component, definition, caseIndex, duty, known } = computing;
  const read = new Read(graph, component, caseIndex, duty, undefined, undefined, known?.looked);
  const points = pointsOf(definition);
  const values = definition.type === 'result' ? unknownNumbers(points.length) : new Array<unknown>(points.length);
  const column = definition.column?.(read);
  const unknown = read.absorbed;
  read.markStart();
  for (let index = 0; index < points.length; index++) {
    read.startAgain();
    const value = column === undefined ? definition.compute(read, points[index]!) : column(points[index]!);
    const understood = !unknown && !read.absorbed;
    if (definition.type === 'step') values[index] = understood ? value : undefined;
    else values[index] = understood && Number.isFinite(value as number) ? value : Number.NaN;
  }
  read.close();
  return computed(computing, values, read.lookedAt(), read.outside);
}

/** What was not understood is unknown in the sources already. */
function fromOthers(computing: Computing, taken: Taken): Computed {
  const { graph, definition, known } = computing;
  // Which values these are never changes.
  const looked = known?.looked.lineage === graph.lineage ? known.looked : lookedAtOf(computing, taken.of);
  const columns = taken.of.map((source, index) => columnOf(computing, source, looked.slabs[index]!));
  return computed(computing, takenColumn(taken, pointsTaken(definition, taken), columns), looked, nothingOutside);
}

/** Of each source of a value, where its numbers stand for the points of the value. */
export function pointsTaken(definition: Definition, { of }: Taken): readonly (readonly number[])[] {
  return of.map(source => pointsIn(source, definition));
}

/** `columns`: those of its sources. */
export function takenColumn(
  { by }: Taken,
  [inFirst, inSecond, inThird, inFourth]: readonly (readonly number[])[],
  [first, second, third, fourth]: readonly Slab['values'][],
): number[] {
  const values = unknownNumbers(inFirst!.length);
  for (let index = 0; index < values.length; index++) {
    const value = by(
      first![inFirst![index]!],
      second?.[inSecond![index]!],
      third?.[inThird![index]!],
      fourth?.[inFourth![index]!],
    );
    if (Number.isFinite(value)) values[index] = value;
  }
  return values;
}

function lookedAtOf({ graph, component, duty }: Computing, of: readonly Definition[]): LookedAt {
  const slabs = of.map(definition => {
    const under = definition.underDuty ? duty?.tag : undefined;
    return { tag: component.tag, definition, duty: under, strip: graph.numberOf(component.tag, definition, under) };
  });
  return { facts: [], slabs, topology: false, duties: false, lineage: graph.lineage };
}

function columnOf({ graph, component, caseIndex, duty }: Computing, source: Definition, seen: LookedSlab) {
  const under = seen.duty === undefined ? undefined : duty;
  return graph.slabAt(seen.strip, component, source, caseIndex, under).values;
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
  return unknownColumns[count]!.slice();
}

const most = directions.length * voltages.length * socEnds.length;
const unknownColumns = Array.from({ length: most + 1 }, (_, count) => Array.from({ length: count }, () => Number.NaN));

const nothingOutside: Slab['outside'] = [];

function keptIfEqual(
  { before, base, definition }: Pick<Computing, 'before' | 'base' | 'definition'>,
  values: Slab['values'],
): Slab['values'] {
  if (before !== undefined && sameColumn(before.values, values, definition)) return before.values;
  return base !== undefined && sameColumn(base.values, values, definition) ? base.values : values;
}
