// What a text has in common with the one before: its outline, and the facts that still say the same.
import { type Component, type Fact, type Plant, sameValue } from '../model/plant.ts';

export interface FactName {
  readonly tag: string;
  readonly property: string;
}

/** What two plants have in common apart from their facts. */
export function sameOutline(a: Plant, b: Plant): { topology: boolean; duties: boolean; cases: boolean } {
  return {
    topology: a.topology.signature === b.topology.signature && sameComponents(a.components, b.components),
    duties: sameComponents(a.duties, b.duties),
    cases: a.cases.length === b.cases.length && a.cases.every(({ name }, index) => name === b.cases[index]!.name),
  };
}

/**
 * Where a fact says the same as before, the old value object stays, so that comparing is a matter of identity. Returns
 * the facts that do not, in any case; complete only for plants of the same outline.
 */
export function keepEqualFacts(plant: Plant, before: Plant): readonly FactName[] {
  const changed: FactName[] = [];
  for (const component of plant.components) {
    const old = before.byTag.get(component.tag);
    if (old === undefined) continue;
    keep(component.tag, component.facts, old.facts, changed);
    noteDifferent(component.tag, component.failed, old.failed, changed);
  }
  for (const plantCase of plant.cases) {
    const old = before.cases.find(candidate => candidate.name === plantCase.name);
    if (old === undefined) continue;
    for (const tag of new Set([...plantCase.facts.keys(), ...old.facts.keys()]))
      keep(tag, plantCase.facts.get(tag) ?? noFacts, old.facts.get(tag) ?? noFacts, changed);
    for (const tag of new Set([...plantCase.failed.keys(), ...old.failed.keys()]))
      noteDifferent(tag, plantCase.failed.get(tag) ?? noNames, old.failed.get(tag) ?? noNames, changed);
  }
  return changed;
}

const noFacts: ReadonlyMap<string, Fact> = new Map();
const noNames: ReadonlySet<string> = new Set();

function keep(
  tag: string,
  facts: ReadonlyMap<string, Fact>,
  old: ReadonlyMap<string, Fact>,
  changed: FactName[],
): void {
  for (const [property, fact] of facts) {
    const before = old.get(property);
    if (before?.value === fact.value) continue;
    // The map is this plant's own; the fact may be a default that all plants share.
    if (before !== undefined && sameValue(before.value, fact.value))
      (facts as Map<string, Fact>).set(property, { ...fact, value: before.value });
    else changed.push({ tag, property });
  }
  for (const property of old.keys()) if (!facts.has(property)) changed.push({ tag, property });
}

function noteDifferent(tag: string, names: ReadonlySet<string>, old: ReadonlySet<string>, changed: FactName[]): void {
  for (const property of names) if (!old.has(property)) changed.push({ tag, property });
  for (const property of old) if (!names.has(property)) changed.push({ tag, property });
}

function sameComponents(a: readonly Component[], b: readonly Component[]): boolean {
  return (
    a.length === b.length &&
    a.every((component, index) => component.tag === b[index]!.tag && component.kind === b[index]!.kind)
  );
}
