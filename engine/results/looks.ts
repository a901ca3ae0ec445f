// What one computation has looked at: kept as dependencies, and found again quickly, since its points look alike.
import type { Component, Fact } from '../model/plant.ts';
import type { Definition } from './definition.ts';
import type { Slab } from './graph.ts';

/** What a computation saw of a fact: its value, that there is none, or that it was not understood. */
export type SeenFact = Fact['value'] | 'failed' | undefined;

/** Dependencies of a slab, as names and the values seen under them. */
export interface Dependencies {
  readonly facts: { readonly tag: string; readonly property: string; readonly value: SeenFact }[];
  readonly slabs: {
    readonly tag: string;
    readonly definition: Definition;
    readonly duty: string | undefined;
    readonly values: Slab['values'];
  }[];
  topology: boolean;
  duties: boolean;
}

export class Looks {
  readonly dependencies: Dependencies = { facts: [], slabs: [], topology: false, duties: false };
  private readonly facts: (Fact | undefined)[] = [];
  private readonly slabs: Slab[] = [];
  /** Where the next look is expected: the points of a value mostly look at the same things in the same order. */
  private nextFact = 0;
  private nextSlab = 0;

  /** Another point is computed. */
  startAgain(): void {
    this.nextFact = 0;
    this.nextSlab = 0;
  }

  /** What is kept under the names; `find` is asked the first time. */
  fact(tag: string, property: string, find: () => { readonly fact: Fact | undefined; readonly seen: SeenFact }) {
    const { facts } = this.dependencies;
    let index = this.nextFact;
    const expected = facts[index];
    if (expected?.property !== property || expected.tag !== tag)
      index = facts.findIndex(known => known.property === property && known.tag === tag);
    if (index < 0) {
      const { fact, seen } = find();
      index = this.facts.push(fact) - 1;
      facts.push({ tag, property, value: seen });
    }
    this.nextFact = index + 1;
    return { fact: this.facts[index], understood: facts[index]!.value !== 'failed' };
  }

  slab(component: Component, definition: Definition, duty: string | undefined, find: () => Slab): Slab {
    const { slabs } = this.dependencies;
    const { tag } = component;
    let index = this.nextSlab;
    const expected = slabs[index];
    if (expected?.definition !== definition || expected.tag !== tag || expected.duty !== duty)
      index = slabs.findIndex(known => known.definition === definition && known.tag === tag && known.duty === duty);
    if (index < 0) {
      const slab = find();
      index = this.slabs.push(slab) - 1;
      slabs.push({ tag, definition, duty, values: slab.values });
    }
    this.nextSlab = index + 1;
    return this.slabs[index]!;
  }
}
