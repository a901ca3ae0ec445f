// The worst of a value over all that it varies with, where a bound that is quicker to know leaves most of it aside.
import type { Component } from '../model/plant.ts';
import { type Figure, pointsOf, type Result } from './definition.ts';
import { dischargeTime } from './energy.ts';
import type { Graph } from './graph.ts';
import { surelyLasts } from './surely-lasts.ts';
import type { Worst } from './worst.ts';

/** By result, what no number of a column is worse than. */
const bounds: ReadonlyMap<Result, Figure> = new Map([[dischargeTime, surelyLasts.figure.time]]);

/** Of what rounding may put a bound on the wrong side. */
const slack = 1e-9;

interface Column {
  readonly duty: Component;
  /** Of the duty, in the order of the text. */
  readonly place: number;
  readonly caseIndex: number;
  /** NaN where nothing is known of the column. */
  readonly bound: number;
}

/** As `Graph.worst`, which works out every column. */
export function boundedWorst(graph: Graph, component: Component, result: Result): Worst | undefined {
  const figure = bounds.get(result);
  if (figure === undefined) return graph.worst(component, result);
  const sense = result.worst === 'highest' ? 1 : -1;
  let worst: (Worst & { readonly column: Column }) | undefined;
  for (const column of columnsByBound(graph, component, figure, sense)) {
    const { duty, caseIndex, bound } = column;
    if (worst !== undefined && sense * bound < sense * worst.value - slack * Math.abs(bound)) break;
    const { values } = graph.slab(component, result, caseIndex, duty);
    for (const [point, at] of pointsOf(result).entries()) {
      const value = values[point] as number;
      if (Number.isNaN(value)) continue;
      const isWorst =
        worst === undefined ||
        sense * value > sense * worst.value ||
        (value === worst.value && comesFirst(column, worst.column));
      if (isWorst) worst = { value, caseIndex, duty, at, column };
    }
  }
  return worst;
}

/** What is not bounded first, then from the worst bound on. */
function columnsByBound(graph: Graph, component: Component, figure: Figure, sense: 1 | -1): readonly Column[] {
  const columns = graph.plant.duties.flatMap((duty, place) =>
    graph
      .columns(component, figure.of, duty)
      .map(({ values }, caseIndex): Column => ({ duty, place, caseIndex, bound: values[figure.place] as number })),
  );
  const key = ({ bound }: Column): number => (Number.isNaN(bound) ? Number.NEGATIVE_INFINITY : -sense * bound);
  return columns.toSorted((a, b) => (key(a) === key(b) ? 0 : key(a) - key(b)));
}

/** Of the same number the first case counts, then the first duty. */
function comesFirst(one: Column, other: Column): boolean {
  return one.caseIndex < other.caseIndex || (one.caseIndex === other.caseIndex && one.place < other.place);
}
