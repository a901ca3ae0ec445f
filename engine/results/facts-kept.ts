// What a text has in common with the one before: its outline, and the facts that still say the same.
import { type Component, type Fact, type Plant, sameValue } from '../model/plant.ts';
import type { WatchedFacts } from '../model/watched-facts.ts';

export interface FactName {
  readonly tag: string;
  readonly property: string;
}

/** What two plants have in common apart from their facts. */
export function sameOutline(a: Plant, b: Plant) {
  return {
    components: sameComponents(a.components, b.components),
    topology: a.topology.signature === b.topology.signature,
    shape: a.topology.shape === b.topology.shape,
    duties: sameComponents(a.duties, b.duties),
    cases: a.cases.length === b.cases.length && a.cases.every(({ name }, index) => name === b.cases[index]!.name),
  };
}

/** Stand among the facts for all that a computation may see of how the plant hangs together, and for its shape alone. */
export const topologyItself: FactName = { tag: '', property: 'topology' };
export const shapeItself: FactName = { tag: '', property: 'shape' };

/** How much of the topology a computation looked at, or a text has changed: what it is in all is more than its shape. */
export const topologyParts = { none: 0, shape: 1, all: 2 } as const;
export type TopologyPart = (typeof topologyParts)[keyof typeof topologyParts];

/**
 * What a text has changed of the topology: `all` where only those see it who looked at more than its shape; the shape
 * where there is no earlier text to compare it with.
 */
export function newTopologyIn(same: ReturnType<typeof sameOutline> | undefined): TopologyPart {
  if (same?.components !== true || !same.shape) return topologyParts.shape;
  return same.topology ? topologyParts.none : topologyParts.all;
}

/** Whoever looked at the shape alone does not see that other parts are carried. */
export function seesNewTopology(looked: TopologyPart, changed: TopologyPart): boolean {
  if (looked === topologyParts.none || changed === topologyParts.none) return false;
  return changed === topologyParts.shape || looked === topologyParts.all;
}

/** How the facts of a text differ from those of the one before. */
export interface FactChanges {
  /** The facts that say something else, in any case; complete only for plants of the same outline. */
  readonly changed: readonly FactName[];
  /** Those that say the same on another's word: from another source, or no longer assumed. */
  readonly retold: readonly FactName[];
  /** The cases whose own statements changed; undefined where the base case says something else, which may reach all. */
  readonly inCases: ReadonlySet<number> | undefined;
  /** Every component and case has facts of the same names, and the same ones that were not understood. */
  readonly sameNames: boolean;
}

/** Where a fact says the same as before, the old value object stays, so that comparing is a matter of identity. */
export function keepEqualFacts(plant: Plant, earlier: Plant): FactChanges {
  const changes: Changes = { changed: [], retold: [], sameNames: true };
  for (const component of plant.components) {
    const old = earlier.byTag.get(component.tag);
    if (old === undefined || old === component) continue;
    keep(component.tag, component.facts, old.facts, changes);
    noteDifferent(component.tag, component.failed, old.failed, changes);
  }
  const base = changes.changed.length;
  const inCases = new Set<number>();
  const oldCases = new Map(earlier.cases.map(plantCase => [plantCase.name, plantCase]));
  for (const [index, plantCase] of plant.cases.entries()) {
    const old = oldCases.get(plantCase.name);
    if (old === undefined || (plantCase.facts === old.facts && plantCase.failed === old.failed)) continue;
    const before = changes.changed.length;
    for (const [tag, facts] of plantCase.facts) keep(tag, facts, old.facts.get(tag) ?? noFacts, changes);
    for (const [tag, facts] of old.facts) if (!plantCase.facts.has(tag)) keep(tag, noFacts, facts, changes);
    for (const [tag, names] of plantCase.failed) noteDifferent(tag, names, old.failed.get(tag) ?? noNames, changes);
    for (const [tag, names] of old.failed) if (!plantCase.failed.has(tag)) noteDifferent(tag, noNames, names, changes);
    if (changes.changed.length > before) inCases.add(index);
  }
  const { changed, retold, sameNames } = changes;
  return { changed, retold, sameNames, inCases: base === 0 ? inCases : undefined };
}

interface Changes {
  readonly changed: FactName[];
  readonly retold: FactName[];
  sameNames: boolean;
}

const noFacts: ReadonlyMap<string, Fact> = new Map();
const noNames: ReadonlySet<string> = new Set();

function keep(tag: string, facts: ReadonlyMap<string, Fact>, old: ReadonlyMap<string, Fact>, changes: Changes): void {
  if ((facts as Partial<WatchedFacts>).isSame?.(old) === true) return;
  for (const [property, fact] of facts) {
    const before = old.get(property);
    if (before === fact) continue;
    if (before === undefined) changes.sameNames = false;
    else if (!sameWord(fact, before)) changes.retold.push({ tag, property });
    if (before?.value === fact.value) continue;
    // The facts are this plant's own; the fact itself may be a default that all plants share.
    if (before !== undefined && sameValue(before.value, fact.value) && unitOf(before) === unitOf(fact))
      (facts as WatchedFacts).replace(property, { ...fact, value: before.value });
    else changes.changed.push({ tag, property });
  }
  for (const property of old.keys()) {
    if (facts.has(property)) continue;
    changes.sameNames = false;
    changes.changed.push({ tag, property });
  }
}

/** In which it is shown. */
function unitOf({ value }: Fact): string | undefined {
  return value.type === 'number' ? value.unit?.text : undefined;
}

function sameWord(a: Fact, b: Fact): boolean {
  return (
    a.provenance.class === b.provenance.class &&
    a.provenance.text === b.provenance.text &&
    a.inherited === b.inherited &&
    (a.place === undefined) === (b.place === undefined)
  );
}

function noteDifferent(tag: string, names: ReadonlySet<string>, old: ReadonlySet<string>, changes: Changes): void {
  for (const [some, others] of [
    [names, old],
    [old, names],
  ] as const) {
    for (const property of some) {
      if (others.has(property)) continue;
      changes.sameNames = false;
      changes.changed.push({ tag, property });
    }
  }
}

function sameComponents(a: readonly Component[], b: readonly Component[]): boolean {
  return (
    a.length === b.length &&
    a.every((component, index) => component.tag === b[index]!.tag && component.kind === b[index]!.kind)
  );
}
