// Computes one slab: point by point through a reader that records every look, or at once from the slabs of others.
import type { Component } from '../model/plant.ts';
import { type Definition, pointsIn, pointsOf, sameColumn, type Taken } from './definition.ts';
import type { Graph, Slab } from './graph.ts';
import { Looks } from './looks.ts';
import { Read } from './read.ts';

export interface Computing {
  readonly graph: Graph;
  readonly component: Component;
  readonly definition: Definition;
  readonly caseIndex: number;
  readonly duty: Component | undefined;
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
  const read = new Read(graph, component, caseIndex, duty, undefined, undefined, known?.dependencies);
  const points = pointsOf(definition);
  const values = definition.type === 'result' ? new Float64Array(points.length) : new Array<unknown>(points.length);
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
  const slab = { values: keptIfEqual(computing, values), dependencies: read.dependencies, outside: read.outside };
  return { slab, recorded: read.looksAsBefore && slab.outside.length === 0 };
}

/** What was not understood is unknown in the sources already. */
function fromOthers(computing: Computing, { of, by }: Taken): Computed {
  const { graph, component, definition, caseIndex, duty, known } = computing;
  const looks = new Looks(known?.dependencies);
  const handed = (index: number) => {
    const source = of[index];
    if (source === undefined) return undefined;
    const under = source.axes.includes('duty') ? duty : undefined;
    const slab = graph.slab(component, source, caseIndex, under);
    looks.addSlab(component.tag, source, under?.tag, graph.placeOf(component, source, under), slab);
    return { values: slab.values, places: pointsIn(source, definition) };
  };
  const [first, second, third] = [handed(0), handed(1), handed(2)];
  const values = new Float64Array(pointsOf(definition).length);
  for (let index = 0; index < values.length; index++) {
    const value = by(
      first?.values[first.places[index]!],
      second?.values[second.places[index]!],
      third?.values[third.places[index]!],
    );
    values[index] = Number.isFinite(value) ? value : Number.NaN;
  }
  const slab = { values: keptIfEqual(computing, values), dependencies: looks.dependencies, outside: nothingOutside };
  return { slab, recorded: looks.asBefore };
}

const nothingOutside: Slab['outside'] = [];

function keptIfEqual({ before, base, definition }: Computing, values: Slab['values']): Slab['values'] {
  const equal = [before, base].find(one => one !== undefined && sameColumn(one.values, values, definition));
  return equal?.values ?? values;
}
