// What one computation has looked at: kept as names, and found again quickly, since its points look alike.
import { type Fact, factIn, failedIn, type Plant } from '../model/plant.ts';
import type { Definition } from './definition.ts';
import { type FactName, type TopologyPart, topologyParts } from './facts-kept.ts';
import type { Slab } from './graph.ts';
import type { Lineage } from './lineage.ts';
import type { Formula } from './taken.ts';

/** What a computation saw of a fact: its value, that there is none, or that it was not understood. */
type SeenFact = Fact['value'] | 'failed' | undefined;

export function factSeen(plant: Plant, caseIndex: number, tag: string, property: string): SeenFact | 'gone' {
  const component = plant.byTag.get(tag);
  if (component === undefined) return 'gone';
  const plantCase = plant.cases[caseIndex]!;
  const value = factIn(plantCase, component, property)?.value;
  return value ?? (failedIn(plantCase, component, property) ? 'failed' : undefined);
}

/** Dependencies of a slab, as names. Slabs whose computations looked at the same share one list. */
export interface LookedAt {
  readonly facts: readonly FactName[];
  readonly slabs: readonly LookedSlab[];
  readonly topology: TopologyPart;
  readonly duties: boolean;
  /** What was made of the slabs, in their order, where that is all that was looked at for it. */
  readonly formula: Formula | undefined;
  /** Of the graphs in which the numbers of the strips count. */
  readonly lineage: Lineage | undefined;
}

export interface LookedSlab {
  readonly tag: string;
  readonly definition: Definition;
  readonly duty: string | undefined;
  /** The number of the strip, in the graphs of the lineage. */
  readonly strip: number;
}

export class Looks {
  topology: TopologyPart = topologyParts.none;
  duties = false;
  /** What a computation of the same value looked at, which this one likely looks at too. */
  private readonly before: LookedAt | undefined;
  private readonly lineage: Lineage;
  /** Names of what was looked at, from the list of before as long as that agrees: then it holds more than `facts`. */
  private factNames: FactName[];
  private slabNames: LookedSlab[];
  private ownFacts: boolean;
  private ownSlabs: boolean;
  private readonly facts: (Fact | undefined)[] = [];
  /** Of these: places of facts that the author stated, but nobody understood. */
  private doubtful: Set<number> | undefined;
  private readonly slabs: Slab[] = [];
  /** Where the next look is expected: the points of a value mostly look at the same things in the same order. */
  private nextFact = 0;
  private nextSlab = 0;
  private firstFact = 0;
  private firstSlab = 0;

  /** `before` counts only where it is of the same lineage. */
  constructor(lineage: Lineage, before?: LookedAt) {
    this.lineage = lineage;
    this.before = before?.lineage === lineage ? before : undefined;
    // Never changed as long as it is not this one's own.
    this.factNames = (this.before?.facts as FactName[] | undefined) ?? [];
    this.slabNames = (this.before?.slabs as LookedSlab[] | undefined) ?? [];
    this.ownFacts = this.ownSlabs = this.before === undefined;
  }

  /** The list of before itself where this computation has looked at the same, whatever it saw there. */
  lookedAt(formula: Formula | undefined): LookedAt {
    const { before, topology, duties, lineage } = this;
    const facts =
      this.factNames.length === this.facts.length ? this.factNames : this.factNames.slice(0, this.facts.length);
    const slabs =
      this.slabNames.length === this.slabs.length ? this.slabNames : this.slabNames.slice(0, this.slabs.length);
    const same = before !== undefined && facts === before.facts && slabs === before.slabs;
    if (same && before.formula === formula && before.topology === topology && before.duties === duties) return before;
    return { facts, slabs, topology, duties, formula, lineage };
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
    const { factNames } = this;
    const count = this.facts.length;
    let index = this.nextFact;
    const expected = factNames[index];
    if (expected?.property === property && expected.tag === tag) {
      if (index < count) {
        this.nextFact = index + 1;
        return index;
      }
      // A list names nothing twice.
      if (index === count) return -1;
    }
    for (index = 0; index < count; index++) {
      const known = factNames[index]!;
      if (known.property === property && known.tag === tag) {
        this.nextFact = index + 1;
        return index;
      }
    }
    this.nextFact = count;
    return -1;
  }

  factAt(place: number): Fact | undefined {
    return this.facts[place];
  }

  understoodAt(place: number): boolean {
    return this.doubtful?.has(place) !== true;
  }

  addFact(tag: string, property: string, fact: Fact | undefined, understood: boolean): number {
    const place = this.facts.length;
    if (!this.ownFacts) {
      const known = this.factNames[place];
      if (known === undefined || known.property !== property || known.tag !== tag) {
        this.factNames = this.factNames.slice(0, place);
        this.ownFacts = true;
      }
    }
    if (this.ownFacts) this.factNames.push({ tag, property });
    if (!understood) this.doubtful = (this.doubtful ?? new Set()).add(place);
    this.facts.push(fact);
    this.nextFact = place + 1;
    return place;
  }

  /** As kept; undefined where nobody has looked yet. */
  slab(tag: string, definition: Definition, duty: string | undefined): Slab | undefined {
    const { slabNames, slabs } = this;
    let index = this.nextSlab;
    const expected = slabNames[index];
    if (expected?.definition === definition && expected.tag === tag && expected.duty === duty) {
      if (index < slabs.length) {
        this.nextSlab = index + 1;
        return slabs[index];
      }
      if (index === slabs.length) return undefined;
    }
    for (index = 0; index < slabs.length; index++) {
      const known = slabNames[index]!;
      if (known.definition === definition && known.tag === tag && known.duty === duty) {
        this.nextSlab = index + 1;
        return slabs[index];
      }
    }
    this.nextSlab = slabs.length;
    return undefined;
  }

  /** The number of the strip where the computation before looked at the same; undefined where it did not. */
  stripExpected(tag: string, definition: Definition, duty: string | undefined): number | undefined {
    if (this.ownSlabs) return undefined;
    const known = this.slabNames[this.slabs.length];
    const same = known !== undefined && known.definition === definition && known.tag === tag && known.duty === duty;
    return same ? known.strip : undefined;
  }

  addSlab(tag: string, definition: Definition, duty: string | undefined, strip: number, slab: Slab): void {
    const place = this.slabs.length;
    if (!this.ownSlabs && this.slabNames[place]?.strip !== strip) {
      this.slabNames = this.slabNames.slice(0, place);
      this.ownSlabs = true;
    }
    if (this.ownSlabs) this.slabNames.push({ tag, definition, duty, strip });
    this.slabs.push(slab);
    this.nextSlab = place + 1;
  }
}
