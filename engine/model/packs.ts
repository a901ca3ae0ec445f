// Several batteries side by side on one converter: where their ways part, and which of such arrangements are evaluated.
import { type NetPlan, netOf } from './net.ts';
import type { Report } from './report.ts';
import type { ConnectedNode } from './topology.ts';
import type { Graph } from './ways.ts';

/** What lies behind a point where ways part: tags in line, then one battery or further branches. */
export interface Branch {
  readonly tags: readonly string[];
  readonly battery: string | undefined;
  readonly branches: readonly Branch[];
}

/** The ways from one converter to all of its batteries: what they share, and the branches behind it. */
export interface DcTree {
  readonly converter: string;
  /** The nearest first; none without a way. */
  readonly batteries: readonly string[];
  /** Up to the only battery, or up to where the ways part. */
  readonly trunk: readonly string[];
  /** None for one battery. */
  readonly branches: readonly Branch[];
  /** Each with its battery at its end. */
  readonly ways: readonly (readonly string[])[];
  /** Where converters reach the same batteries by unlike ways: it takes the place of trunk and branches. */
  readonly net?: NetPlan;
}

/** Of ways that start at a converter and end with a battery each. */
export function dcTree(converter: string, ways: readonly (readonly string[])[]): DcTree {
  const batteries = ways.map(way => way.at(-1)!);
  const { tags, branches } = branchOf(ways);
  return { converter, batteries, trunk: tags, branches, ways };
}

function branchOf(ways: readonly (readonly string[])[]): Branch {
  const [first = [], ...others] = ways;
  if (others.length === 0) return { tags: first.slice(0, -1), battery: first.at(-1), branches: [] };
  let shared = 0;
  while (others.every(way => way[shared] === first[shared])) shared++;
  const behind = ways.map(way => way.slice(shared));
  const starts = [...new Set(behind.map(way => way[0]))];
  return {
    tags: first.slice(0, shared),
    battery: undefined,
    branches: starts.map(start => branchOf(behind.filter(way => way[0] === start))),
  };
}

/** All tags of branches, their batteries left out. */
export function tagsOf(branches: readonly Branch[]): readonly string[] {
  return branches.flatMap(branch => [...branch.tags, ...tagsOf(branch.branches)]);
}

/**
 * Those trees that are evaluated as they are, or as a net where converters reach the batteries that they share by unlike
 * ways; any other is cut down to the nearest battery, and that is said.
 */
export function evaluated(
  trees: readonly DcTree[],
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
  report: Report,
): readonly DcTree[] {
  const nets = netsOf(trees, nodes, graph);
  return trees.map(tree => {
    const net = nets.get(tree);
    if (net !== undefined) return onNet(tree, net);
    const kept = cutDown(tree, trees, nodes, report);
    reportInLine(kept, nodes, report);
    return kept;
  });
}

/** Of each tree that shares batteries with others of unlike shape. */
function netsOf(
  trees: readonly DcTree[],
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
): ReadonlyMap<DcTree, NetPlan> {
  const nets = new Map<DcTree, NetPlan>();
  const seen = new Set<DcTree>();
  for (const tree of trees) {
    if (seen.has(tree)) continue;
    const group = joinedWith(tree, trees);
    for (const one of group) seen.add(one);
    const isAlike = new Set(group.map(shapeOf)).size === 1;
    const net =
      isAlike || group.every(({ branches }) => branches.length === 0) ? undefined : netOf(group, nodes, graph);
    if (net !== undefined) for (const one of group) nets.set(one, net);
  }
  return nets;
}

/** Trees that share a battery with it, or with one of those. */
function joinedWith(tree: DcTree, trees: readonly DcTree[]): readonly DcTree[] {
  const group = new Set([tree]);
  for (const one of group)
    for (const other of trees) if (other.batteries.some(tag => one.batteries.includes(tag))) group.add(other);
  return [...group];
}

/** Its own batteries first, the nearest of them foremost. */
function onNet(tree: DcTree, net: NetPlan): DcTree {
  const others = net.batteries.map(({ tag }) => tag).filter(tag => !tree.batteries.includes(tag));
  return { ...tree, batteries: [...tree.batteries, ...others], net };
}

function cutDown(
  tree: DcTree,
  trees: readonly DcTree[],
  nodes: ReadonlyMap<string, ConnectedNode>,
  report: Report,
): DcTree {
  const because = obstacle(tree, trees, nodes);
  if (because === undefined) return tree;
  const [first, second] = tree.batteries;
  report.add({
    code: 'not_evaluated',
    severity: 'note',
    place: nodes.get(second!)!.place,
    subject: second!,
    message: `${because} is read but not evaluated yet: ${tree.converter} is judged with ${first} alone.`,
  });
  return { ...tree, batteries: [first!], trunk: wayTo(first!, tree), branches: [], ways: [tree.ways[0]!] };
}

/** Only the first of choppers in line counts yet: said where there is another one. */
function reportInLine({ converter, trunk }: DcTree, nodes: ReadonlyMap<string, ConnectedNode>, report: Report): void {
  const [first, second] = trunk.filter(tag => nodes.get(tag)?.kind === 'chopper');
  if (second === undefined) return;
  report.add({
    code: 'not_evaluated',
    severity: 'note',
    place: nodes.get(second)!.place,
    subject: second,
    message: `A chopper behind another one is read but not evaluated yet: ${converter} is judged with ${first} alone.`,
  });
}

function obstacle(
  tree: DcTree,
  trees: readonly DcTree[],
  nodes: ReadonlyMap<string, ConnectedNode>,
): string | undefined {
  if (tree.branches.length === 0) return undefined;
  const counts = tree.branches.flatMap(choppersIn(nodes));
  const before = countChoppers(tree.trunk, nodes);
  if (Math.max(...counts) > Math.min(...counts)) return 'A DC link with choppers before some of its batteries only';
  if (Math.max(...counts) > (before > 0 ? 0 : 1)) return 'A chopper behind another one';
  const shape = shapeOf(tree);
  const alike = trees
    .filter(other => other.batteries.some(battery => tree.batteries.includes(battery)))
    .every(other => shapeOf(other) === shape);
  return alike ? undefined : 'A net of batteries that not all of their converters reach alike';
}

/** Of each battery, how many choppers lie between it and where the ways part. */
function choppersIn(nodes: ReadonlyMap<string, ConnectedNode>) {
  return ({ tags, battery, branches }: Branch): readonly number[] => {
    const own = countChoppers(tags, nodes);
    return battery === undefined ? branches.flatMap(choppersIn(nodes)).map(count => own + count) : [own];
  };
}

function countChoppers(tags: readonly string[], nodes: ReadonlyMap<string, ConnectedNode>): number {
  return tags.filter(tag => nodes.get(tag)?.kind === 'chopper').length;
}

/** Equal for trees that part alike, in whatever order their branches were found. */
function shapeOf({ batteries, branches }: DcTree): string {
  return branches.length === 0 ? JSON.stringify(batteries) : shapeOfAll(branches);
}

function shapeOfAll(branches: readonly Branch[]): string {
  return JSON.stringify(
    branches.map(({ tags, battery, branches: inner }) => [...tags, battery ?? shapeOfAll(inner)].join(' ')).sort(),
  );
}

function wayTo(battery: string, tree: DcTree): readonly string[] {
  const within = (branches: readonly Branch[]): readonly string[] | undefined => {
    for (const branch of branches) {
      if (branch.battery === battery) return branch.tags;
      const further = within(branch.branches);
      if (further !== undefined) return [...branch.tags, ...further];
    }
    return undefined;
  };
  return [...tree.trunk, ...(within(tree.branches) ?? [])];
}
