// What arrives at a converter with another winding in the transformer before it than the stated one.
import type { Component } from '../model/plant.ts';
import { sharedElement } from '../physics/ladder.ts';
import { type Terminals, terminalsByWinding } from '../physics/other-winding.ts';
import { type AcPart, type AcPath, acPathAt } from './ac-path.ts';
import { directions } from './definition.ts';
import { demand, networkVoltage, solveFor } from './flow.ts';
import { cornerAt, type PathCorner } from './path-corner.ts';
import type { Read } from './read.ts';
import { transformerLadders } from './transformer-circuit.ts';
import { boundary, type Wanted } from './winding-boundary.ts';

export interface Winding {
  readonly transformer: Component;
  /** V, of the winding. */
  readonly stated: number;
  /** What feeds the converter. */
  readonly grid: Component;
}

/** The transformer whose converter-side winding is asked for: the one nearest to the converter, not reversed. */
export function windingOf(read: Read): Winding | undefined {
  const route = read.route(read.self);
  const grid = route?.grid === undefined ? undefined : read.component(route.grid);
  const passed = route?.ac.findLast(element => element.kind === 'transformer');
  const transformer = passed === undefined || passed.reversed ? undefined : read.component(passed.tag);
  if (transformer === undefined || grid === undefined) return undefined;
  return { transformer, stated: read.number(transformer, 'secondary_voltage'), grid };
}

type Ladder = Pick<AcPath, 'elements' | 'parts'>;

/**
 * The ladder by the winding's voltage, V, at the corner of which `path` is the one with the stated voltage: all but the
 * transformer stays. Undefined where a fact is missing or impossible.
 */
export function ladderByWinding(
  read: Read,
  { transformer }: Winding,
  path: AcPath | undefined,
  corner: PathCorner,
): (voltage: number) => Ladder | undefined {
  const part = partOf(path, transformer);
  if (path === undefined || part === undefined) return () => undefined;
  const { elements, parts } = path;
  const ahead = elements.slice(0, part.from);
  const behind = elements.slice(part.to);
  const before = ahead.reduce((ratio, element) => (element.kind === 'ratio' ? ratio * element.ratio : ratio), 1);
  const ownAt = transformerLadders(read, transformer, false, corner, before);
  return voltage => {
    const own = ownAt(voltage)?.map(element => sharedElement(element, part.share));
    return own && { elements: [...ahead, ...own, ...behind], parts };
  };
}

/** What arrives with no load, by the winding's voltage, V; nothing of it is known where a fact is missing. */
export function unloadedByWinding(
  { transformer, stated }: Winding,
  path: AcPath | undefined,
  network: number,
): (voltage: number) => Terminals | undefined {
  const part = partOf(path, transformer);
  if (path === undefined || part === undefined) return () => undefined;
  const arriving = terminalsByWinding(path.elements, part.to, network, 0, 0);
  return voltage => arriving(voltage / stated);
}

const partOf = (path: AcPath | undefined, transformer: Component): AcPart | undefined =>
  path?.parts.find(({ tag }) => tag === transformer.tag);

/** Where a condition on what arrives under a duty is just met, by the place of the direction. */
export type BoundaryAt = (direction: number, excess: (arriving: Terminals) => number, wanted?: Wanted) => number;

/** For the duty at hand, at the network's `voltage` by its place. What several conditions try is solved once. */
export function boundariesUnderDuty(read: Read, voltage: number): BoundaryAt {
  const winding = windingOf(read);
  if (winding === undefined) return () => Number.NaN;
  const arriving = directions.map((_, direction) => arrivingUnderDuty(read, winding, { direction, voltage, soc: 0 }));
  return (direction, excess, wanted) => {
    const excessAt = (tried: number): number => {
      const terminals = arriving[direction]!(tried);
      if (terminals === undefined) return Number.NaN;
      // Too little voltage to carry the power at all.
      return terminals === 'collapse' ? Number.NEGATIVE_INFINITY : excess(terminals);
    };
    return boundary(winding.stated, excessAt, wanted);
  };
}

type Arriving = Terminals | 'collapse' | undefined;

/** By the winding's voltage, V. */
function arrivingUnderDuty(
  read: Read,
  winding: Winding,
  at: { readonly direction: number; readonly voltage: number; readonly soc: 0 },
): (voltage: number) => Arriving {
  const { grid, transformer, stated } = winding;
  const asked = read.step(read.self, demand, at);
  if (asked === undefined) return () => undefined;
  const network = networkVoltage(read, grid, read.demand, at);
  const path = acPathAt(read, network, at);
  const part = partOf(path, transformer);
  if (path === undefined || part === undefined) return () => undefined;
  if (asked.place === 'grid') {
    const terminals = terminalsByWinding(path.elements, part.to, network, asked.active, asked.reactive);
    return voltage => terminals(voltage / stated);
  }
  // Elsewhere than at the network the current there depends on the winding.
  const ladderAt = ladderByWinding(read, winding, path, cornerAt(network, at));
  return remembered(voltage => {
    const ladder = ladderAt(voltage);
    const solved = ladder && solveFor(read, asked, ladder, network);
    if (solved?.ok === false) return solved.problem === 'no_solution' ? 'collapse' : undefined;
    return solved;
  });
}

/** Works it out once for each number. */
function remembered<T>(of: (number: number) => T): (number: number) => T {
  const known = new Map<number, T>();
  return number => {
    if (!known.has(number)) known.set(number, of(number));
    return known.get(number)!;
  };
}
