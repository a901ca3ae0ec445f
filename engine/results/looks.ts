// What one computation has looked at: kept as dependencies, and found again quickly, since its points look alike.
import { type Case, type Component, type Fact, factIn, failedIn } from '../model/plant.ts';
import type { Definition } from './definition.ts';
import type { Slab } from './graph.ts';
import type { Lineage } from './lineage.ts';

/** What a computation saw of a fact: its value, that there is none, or that it was not understood. */
export type SeenFact = Fact['value'] | 'failed' | undefined;

export function seenFact(plantCase: Case, component: Component, property: string): SeenFact {
  const value = factIn(plantCase, component, property)?.value;
  return value ?? (failedIn(plantCase, component, property) ? 'failed' : undefined);
}

/** Dependencies of a slab, as names and the values seen under them. */
export interface Dependencies {
  readonly facts: { readonly tag: string; readonly property: string; readonly value: SeenFact }[];
  readonly slabs: {
    readonly tag: string;
    readonly definition: Definition;
    readonly duty: string | undefined;
    /** The number of the strip, in the graphs of that lineage. */
    readonly strip: number;
    readonly lineage: Lineage;
    readonly values: Slab['values'];
  }[];
  topology: boolean;
  duties: boolean;
}

/** Where the graphs of a lineage keep a slab. */
export interface SlabPlace {
  readonly strip: number;
  readonly lineage: Lineage;
}

export class Looks {
  /** What a computation of the same value looked at, which this one likely looks at too: what agrees is kept once. */
  private readonly before: Dependencies | undefined;
  private sameNames = true;
  readonly dependencies: Dependencies = { facts: [], slabs: [], topology: false, duties: false };
  private readonly facts: (Fact | undefined)[] = [];
  private readonly slabs: Slab[] = [];
  /** Where the next look is expected: the points of a value mostly look at the same things in the same order. */
  private nextFact = 0;
  private nextSlab = 0;

  private firstFact = 0;
  private firstSlab = 0;

  constructor(before?: Dependencies) {
    this.before = before;
  }

  /** Whether it has looked at the same facts and values as the computation before, whatever they said. */
  get asBefore(): boolean {
    const { before, dependencies } = this;
    return (
      before !== undefined &&
      this.sameNames &&
      before.facts.length === dependencies.facts.length &&
      before.slabs.length === dependencies.slabs.length
    );
  }

  /** The points begin to look here. */
  markStart(): void {
    this.firstFact = this.nextFact;
    this.firstSlab = this.nextSlab;
  }

  /** Another point is computed. */
  startAgain(): void {
    this.nextFact = this.firstFact;
    this.nextSlab = this.firstSlab;
  }

  /** Where a fact is among those that were looked at; -1 where nobody has yet. */
  placeOfFact(tag: string, property: string): number {
    const { facts } = this.dependencies;
    let index = this.nextFact;
    const expected = facts[index];
    if (expected?.property !== property || expected.tag !== tag)
      index = facts.findIndex(known => known.property === property && known.tag === tag);
    this.nextFact = index < 0 ? facts.length + 1 : index + 1;
    return index;
  }

  factAt(place: number): Fact | undefined {
    return this.facts[place];
  }

  understoodAt(place: number): boolean {
    return this.dependencies.facts[place]!.value !== 'failed';
  }

  addFact(tag: string, property: string, fact: Fact | undefined, seen: SeenFact): number {
    const known = this.before?.facts[this.dependencies.facts.length];
    const same = known !== undefined && known.property === property && known.tag === tag;
    if (!same) this.sameNames = false;
    this.dependencies.facts.push(same && known.value === seen ? known : { tag, property, value: seen });
    return this.facts.push(fact) - 1;
  }

  /** As kept; undefined where nobody has looked yet. */
  slab(tag: string, definition: Definition, duty: string | undefined): Slab | undefined {
    const { slabs } = this.dependencies;
    let index = this.nextSlab;
    const expected = slabs[index];
    if (expected?.definition !== definition || expected.tag !== tag || expected.duty !== duty)
      index = slabs.findIndex(known => known.definition === definition && known.tag === tag && known.duty === duty);
    this.nextSlab = index < 0 ? slabs.length + 1 : index + 1;
    return this.slabs[index];
  }

  addSlab(tag: string, definition: Definition, duty: string | undefined, place: SlabPlace, slab: Slab): void {
    const { strip, lineage } = place;
    const known = this.before?.slabs[this.dependencies.slabs.length];
    const same = known !== undefined && known.strip === strip && known.lineage === lineage;
    if (!same) this.sameNames = false;
    const agrees = same && known.values === slab.values;
    this.dependencies.slabs.push(agrees ? known : { tag, definition, duty, strip, lineage, values: slab.values });
    this.slabs.push(slab);
  }
}
