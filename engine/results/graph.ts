// The derived-value graph: numbers in columns, computed when asked for, kept while nothing that they looked at changes.
//
// A slab holds all points of one value of one component in one case and duty. Its dependencies are names with the
// values seen under them, so a slab of an earlier text, or of the base case, serves again wherever those still agree.
// If a recomputed slab comes out equal, the old column stays: whoever depends on it is not touched. The graph of an
// earlier text is read, never changed.
import { type Component, type Fact, factIn, failedIn, type Plant, sameValue } from '../model/plant.ts';
import type { Route } from '../model/topology.ts';
import { type At, type Definition, idOf, pointIndex, pointsOf, type Result } from './definition.ts';
import { type Dependencies, type Noted, type OutsideCurve, Read } from './read.ts';

export interface Slab {
  readonly values: Float64Array | readonly unknown[];
  readonly dependencies: Dependencies;
  readonly outside: readonly OutsideCurve[];
}

const underWay: Slab = {
  values: [],
  dependencies: { facts: [], slabs: [], topology: false, duties: false },
  outside: [],
};

export class Graph {
  readonly plant: Plant;
  /** Slabs computed anew for this text; the rest were taken over. */
  computed = 0;
  private earlier: Graph | undefined;
  private readonly sameTopology: boolean;
  private readonly sameDuties: boolean;
  private readonly componentIndex = new Map<string, number>();
  private readonly dutyIndex = new Map<string, number>();
  private readonly caseIndex = new Map<string, number>();
  private readonly slabs: (Slab | undefined)[][] = [];
  private readonly routes = new Map<string, Route[]>();

  constructor(plant: Plant, earlier?: Graph) {
    this.plant = plant;
    for (const [index, component] of plant.components.entries()) this.componentIndex.set(component.tag, index);
    for (const [index, duty] of plant.duties.entries()) this.dutyIndex.set(duty.tag, index);
    for (const [index, { name }] of plant.cases.entries()) this.caseIndex.set(name, index);
    for (const route of plant.topology.routes) this.collectRoute(route);
    this.earlier = earlier;
    this.sameTopology = earlier?.plant.topology.signature === plant.topology.signature;
    this.sameDuties = earlier !== undefined && sameTags(earlier.plant.duties, plant.duties);
    if (earlier !== undefined) {
      keepEqualFacts(plant, earlier.plant);
      earlier.forget();
    }
  }

  routesOf(tag: string): readonly Route[] {
    return this.routes.get(tag) ?? [];
  }

  /** The column of a value; never undefined, but its numbers may be NaN. */
  slab(component: Component, definition: Definition, caseIndex: number, duty: Component | undefined): Slab {
    const row = this.row(component.tag, definition);
    const column = this.column(caseIndex, duty);
    const known = row[column];
    if (known === underWay) throw new Error(`${component.tag}.${definition.name} depends on itself`);
    if (known !== undefined) return known;
    row[column] = underWay;
    const candidates = this.candidates(component, definition, caseIndex, duty);
    const slab =
      candidates.find(candidate => this.stillHolds(candidate, caseIndex)) ??
      this.compute(component, definition, caseIndex, duty, candidates);
    row[column] = slab;
    return slab;
  }

  /** The value at a point; NaN where it is unknown. */
  value(component: Component, result: Result, caseIndex: number, duty: Component | undefined, at: At): number {
    return this.slab(component, result, caseIndex, duty).values[pointIndex(result, at)] as number;
  }

  /** Computes one point again and lists what it looked at, steps opened up to what they looked at in turn. */
  trace(
    component: Component,
    definition: Definition,
    caseIndex: number,
    duty: Component | undefined,
    at: At,
  ): readonly Noted[] {
    const notes: Noted[] = [];
    definition.compute(new Read(this, component, caseIndex, duty, notes, definition), at);
    return notes;
  }

  /** Curves that were asked for a point beyond their ends, by the slabs in use. */
  outsideCurves(): readonly (OutsideCurve & { readonly caseIndex: number })[] {
    const found: (OutsideCurve & { caseIndex: number })[] = [];
    const perCase = this.plant.duties.length + 1;
    for (const row of this.slabs) {
      for (const [column, slab] of (row ?? []).entries()) {
        for (const outside of slab?.outside ?? []) found.push({ ...outside, caseIndex: Math.floor(column / perCase) });
      }
    }
    return found;
  }

  /** The graph before the last one is no longer needed. */
  private forget(): void {
    this.earlier = undefined;
  }

  private collectRoute(route: Route): void {
    const tags = [
      route.converter,
      route.grid,
      route.battery,
      ...route.ac.map(element => element.tag),
      ...route.dc.map(element => element.tag),
    ];
    for (const tag of tags) {
      if (tag === undefined) continue;
      const list = this.routes.get(tag) ?? [];
      this.routes.set(tag, list);
      list.push(route);
    }
  }

  private row(tag: string, definition: Definition): (Slab | undefined)[] {
    const index = idOf(definition) * this.plant.components.length + this.componentIndex.get(tag)!;
    const row = this.slabs[index] ?? [];
    this.slabs[index] = row;
    return row;
  }

  private column(caseIndex: number, duty: Component | undefined): number {
    return caseIndex * (this.plant.duties.length + 1) + (duty === undefined ? 0 : this.dutyIndex.get(duty.tag)! + 1);
  }

  /** Slabs that may serve again: the base case's, and the one of the earlier text. */
  private candidates(
    component: Component,
    definition: Definition,
    caseIndex: number,
    duty: Component | undefined,
  ): readonly Slab[] {
    const candidates: Slab[] = [];
    const before = this.earlier?.known(component, definition, this.plant.cases[caseIndex]!.name, duty);
    if (before !== undefined) candidates.push(before);
    if (caseIndex > 0) candidates.push(this.slab(component, definition, 0, duty));
    return candidates;
  }

  private known(
    component: Component,
    definition: Definition,
    caseName: string,
    duty: Component | undefined,
  ): Slab | undefined {
    const caseIndex = this.caseIndex.get(caseName);
    const same = this.plant.byTag.get(component.tag);
    if (caseIndex === undefined || same === undefined || same.kind !== component.kind) return undefined;
    if (duty !== undefined && !this.dutyIndex.has(duty.tag)) return undefined;
    const index = idOf(definition) * this.plant.components.length + this.componentIndex.get(component.tag)!;
    const slab = this.slabs[index]?.[this.column(caseIndex, duty)];
    return slab === underWay ? undefined : slab;
  }

  private stillHolds(slab: Slab, caseIndex: number): boolean {
    const { facts, slabs, topology, duties } = slab.dependencies;
    if (this.earlier !== undefined && ((topology && !this.sameTopology) || (duties && !this.sameDuties))) return false;
    const plantCase = this.plant.cases[caseIndex]!;
    for (const { tag, property, value } of facts) {
      const component = this.componentOf(tag);
      if (component === undefined) return false;
      const seen = factIn(plantCase, component, property)?.value;
      if ((seen ?? (failedIn(plantCase, component, property) ? 'failed' : undefined)) !== value) return false;
    }
    for (const { tag, definition, duty, values } of slabs) {
      const component = this.componentOf(tag);
      if (component === undefined || component.kind.name !== definition.on) return false;
      const dutyNow = duty === undefined ? undefined : this.plant.byTag.get(duty);
      if (duty !== undefined && dutyNow?.kind.name !== 'duty') return false;
      if (this.slab(component, definition, caseIndex, dutyNow).values !== values) return false;
    }
    return true;
  }

  private componentOf(tag: string): Component | undefined {
    return this.plant.byTag.get(tag);
  }

  private compute(
    component: Component,
    definition: Definition,
    caseIndex: number,
    duty: Component | undefined,
    candidates: readonly Slab[],
  ): Slab {
    this.computed++;
    const read = new Read(this, component, caseIndex, duty);
    const points = pointsOf(definition);
    const values = definition.type === 'result' ? new Float64Array(points.length) : new Array<unknown>(points.length);
    for (let index = 0; index < points.length; index++) {
      read.absorbed = false;
      const value = definition.compute(read, points[index]!);
      if (definition.type === 'step') values[index] = read.absorbed ? undefined : value;
      else values[index] = read.absorbed || !Number.isFinite(value as number) ? Number.NaN : value;
    }
    const equal = candidates.find(candidate => sameColumn(candidate.values, values, definition));
    return { values: equal?.values ?? values, dependencies: read.dependencies, outside: read.outside };
  }
}

function sameColumn(a: Slab['values'], b: Slab['values'], definition: Definition): boolean {
  if (a.length !== b.length) return false;
  for (let index = 0; index < a.length; index++) {
    if (definition.type === 'result' ? !Object.is(a[index], b[index]) : !definition.equal(a[index], b[index]))
      return false;
  }
  return true;
}

/** Where a fact says the same as before, the old value object stays, so that comparing is a matter of identity. */
function keepEqualFacts(plant: Plant, before: Plant): void {
  for (const component of plant.components) {
    const old = before.byTag.get(component.tag);
    if (old !== undefined) keep(component.facts, old.facts);
  }
  for (const plantCase of plant.cases) {
    const old = before.cases.find(candidate => candidate.name === plantCase.name);
    for (const [tag, facts] of plantCase.facts) {
      const oldFacts = old?.facts.get(tag);
      if (oldFacts !== undefined) keep(facts, oldFacts);
    }
  }
}

function keep(facts: ReadonlyMap<string, Fact>, old: ReadonlyMap<string, Fact>): void {
  for (const [name, fact] of facts) {
    const before = old.get(name);
    if (before !== undefined && before.value !== fact.value && sameValue(before.value, fact.value)) {
      // The map is this plant's own; the fact may be a default that all plants share.
      (facts as Map<string, Fact>).set(name, { ...fact, value: before.value });
    }
  }
}

function sameTags(a: readonly Component[], b: readonly Component[]): boolean {
  return a.length === b.length && a.every((component, index) => component.tag === b[index]!.tag);
}
