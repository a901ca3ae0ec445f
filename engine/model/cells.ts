// Choppers of a route: what lies between each of them and the DC link, and the batteries behind it.
import type { Route, RouteBranch, RouteElement } from './topology.ts';

/** A chopper with what it keeps apart from the DC link. */
export interface RouteCell {
  readonly chopper: string;
  /** Between the point where the ways to several choppers part and this one; what several share is in each of them. */
  readonly before: readonly RouteElement[];
  /** From the chopper to its battery, or to where the ways to several batteries part. */
  readonly behind: readonly RouteElement[];
  readonly branches: readonly RouteBranch[];
  readonly batteries: readonly string[];
}

/** The chopper before all batteries, or those on a common DC link; none where the batteries are the link. */
export function cellsOf({
  dc,
  branches,
  batteries,
}: Pick<Route, 'dc' | 'branches' | 'batteries'>): readonly RouteCell[] {
  const at = dc.findIndex(isChopper);
  if (at >= 0) return [{ chopper: dc[at]!.tag, before: [], behind: dc.slice(at + 1), branches, batteries }];
  return branches.flatMap(branch => cellsIn(branch, []));
}

function cellsIn(branch: RouteBranch, passed: readonly RouteElement[]): readonly RouteCell[] {
  const { elements, branches } = branch;
  const at = elements.findIndex(isChopper);
  const before = [...passed, ...(at < 0 ? elements : elements.slice(0, at))];
  if (at < 0) return branches.flatMap(inner => cellsIn(inner, before));
  const behind = elements.slice(at + 1);
  return [{ chopper: elements[at]!.tag, before, behind, branches, batteries: batteriesOf(branch) }];
}

function isChopper({ kind }: RouteElement): boolean {
  return kind === 'chopper';
}

/** The place among a route's choppers of the one behind which an element lies; −1 for what lies on the DC link. */
export function cellBehind({ cells }: Pick<Route, 'cells'>, tag: string): number {
  const holds = (branch: RouteBranch): boolean =>
    branch.elements.some(element => element.tag === tag) || branch.branches.some(holds);
  return cells.findIndex(({ behind, branches }) => behind.some(element => element.tag === tag) || branches.some(holds));
}

/** All batteries to which a branch leads. */
export function batteriesOf({ battery, branches }: RouteBranch): readonly string[] {
  return battery === undefined ? branches.flatMap(batteriesOf) : [battery];
}
