// Who looks at what, for the graphs of texts with the same components, duties and cases: what an edit reaches, and what it
// leaves.
import type { Case } from '../model/plant.ts';
import { type FactName, shapeItself, topologyItself, topologyParts } from './facts-kept.ts';
import type { Slab } from './graph.ts';
import type { LookedAt } from './looks.ts';
import { Restated } from './restated.ts';

/** Strips that a change may reach: by number marked, and as a list. */
export interface Reached {
  /** 0 where it does not. */
  readonly marks: Uint8Array;
  readonly strips: readonly number[];
}

/** The mark of a strip that may look at what changed itself, and not only at what was made of it. */
export const atFirstHand = 2;

export class Lineage {
  /** A curve was asked beyond its ends somewhere: only then does anybody have to look for it. */
  outside = false;
  private readonly readersOfFacts = new Map<string, Map<string, Readers>>();
  /** By number. */
  private readersOfStrips: (Readers | undefined)[] = [];
  /** Looked at when the next text comes, if one comes. */
  private waiting: { readonly strip: number; readonly looked: LookedAt }[] = [];
  /** From the second text on. */
  private restated: Restated | undefined;

  /** A strip has a slab that looked at these. */
  record(strip: number, slab: Slab): void {
    if (this.restated === undefined) this.waiting.push({ strip, looked: slab.looked });
    else this.digest(strip, slab.looked);
    if (slab.outside.length > 0) this.outside = true;
  }

  /**
   * Another text of the lineage has come, of the same cases, in which some facts say something else; `size`: how many
   * strips there are.
   */
  goOn(cases: readonly Case[], changed: readonly FactName[], size: number): Reached {
    if (this.restated === undefined) this.readersOfStrips = new Array<undefined>(size).fill(undefined);
    for (const { strip, looked } of this.waiting) this.digest(strip, looked);
    this.waiting = [];
    this.restated ??= new Restated(cases.length, size, this.readersOfStrips);
    this.restated.note(cases, (tag, property) => this.readersOfFacts.get(tag)?.get(property) ?? []);
    return this.reachedFrom(changed, size);
  }

  /** Nothing that a strip looks at, directly or through others, is restated in a case: it has what the base case has. */
  alike(strip: number, caseIndex: number): boolean {
    return this.restated?.reaches(strip, caseIndex) === false;
  }

  private digest(strip: number, looked: LookedAt): void {
    for (const { tag, property } of factsOf(looked)) {
      const byProperty = this.readersOfFacts.get(tag) ?? new Map<string, Readers>();
      this.readersOfFacts.set(tag, byProperty);
      const readers = withReader(byProperty.get(property), strip);
      if (readers === undefined) continue;
      byProperty.set(property, readers);
      this.restated?.reachFromFact(tag, property, strip);
    }
    for (const seen of looked.slabs) {
      const readers = withReader(this.readersOfStrips[seen.strip], strip);
      if (readers === undefined) continue;
      this.readersOfStrips[seen.strip] = readers;
      this.restated?.reachFromStrip(seen.strip, strip);
    }
  }

  /** Marks the strips that look at a fact or, through others, at what was made of it. Rather too many than too few. */
  private reachedFrom(facts: readonly FactName[], size: number): Reached {
    const marks = new Uint8Array(size);
    const strips: number[] = [];
    const mark = (readers: Readers | undefined, as: number): void => {
      for (const strip of readers ?? []) {
        if (marks[strip] !== 0) continue;
        marks[strip] = as;
        strips.push(strip);
      }
    };
    for (const { tag, property } of facts) mark(this.readersOfFacts.get(tag)?.get(property), atFirstHand);
    for (let next = 0; next < strips.length; next++) mark(this.readersOfStrips[strips[next]!], 1);
    return { marks, strips };
  }
}

/** With what stands for what was seen of the topology. */
function factsOf({ facts, topology }: LookedAt): readonly FactName[] {
  if (topology === topologyParts.none) return facts;
  return [...facts, topology === topologyParts.shape ? shapeItself : topologyItself];
}

/** Mostly few: a set of its own for each would take more room than all columns. */
export type Readers = readonly number[] | ReadonlySet<number>;

const few = 12;

/** The readers with another one; undefined where it is known already. */
function withReader(known: Readers | undefined, strip: number): Readers | undefined {
  if (known === undefined) return [strip];
  if (known instanceof Set) return known.has(strip) ? undefined : known.add(strip);
  const list = known as number[];
  if (list.includes(strip)) return undefined;
  if (list.length >= few) return new Set(list).add(strip);
  list.push(strip);
  return list;
}
