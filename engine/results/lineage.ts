// Who looks at what, for the graphs of texts that differ in their facts alone: what an edit reaches, and what it leaves.
import type { Slab } from './graph.ts';
import type { LookedAt } from './looks.ts';

/** Strips that a change may reach: by number marked with 1, and as a list. */
export interface Reached {
  readonly marks: Uint8Array;
  readonly strips: readonly number[];
}

export class Lineage {
  /** A curve was asked beyond its ends somewhere: only then does anybody have to look for it. */
  outside = false;
  private readonly readersOfFacts = new Map<string, Map<string, Readers>>();
  private readonly readersOfStrips = new Map<number, Readers>();
  /** Looked at when the next text comes, if one comes. */
  private waiting: { readonly strip: number; readonly looked: LookedAt }[] = [];

  /** A strip has a slab that looked at these. */
  record(strip: number, slab: Slab): void {
    this.waiting.push({ strip, looked: slab.looked });
    if (slab.outside.length > 0) this.outside = true;
  }

  /** Marks the strips that look at a fact or, through others, at what was made of it. Rather too many than too few. */
  reached(facts: Iterable<{ readonly tag: string; readonly property: string }>, size: number): Reached {
    this.digest();
    const marks = new Uint8Array(size);
    const strips: number[] = [];
    const mark = (readers: Readers | undefined): void => {
      for (const strip of readers ?? []) {
        if (marks[strip] === 1) continue;
        marks[strip] = 1;
        strips.push(strip);
      }
    };
    for (const { tag, property } of facts) mark(this.readersOfFacts.get(tag)?.get(property));
    for (let next = 0; next < strips.length; next++) mark(this.readersOfStrips.get(strips[next]!));
    return { marks, strips };
  }

  private digest(): void {
    for (const { strip, looked } of this.waiting) {
      for (const { tag, property } of looked.facts) {
        const byProperty = this.readersOfFacts.get(tag) ?? new Map<string, Readers>();
        this.readersOfFacts.set(tag, byProperty);
        addReader(byProperty, property, strip);
      }
      for (const seen of looked.slabs) addReader(this.readersOfStrips, seen.strip, strip);
    }
    this.waiting = [];
  }
}

/** Mostly few: a set of its own for each would take more room than all columns. */
type Readers = number[] | Set<number>;

const few = 12;

function addReader<Key>(map: Map<Key, Readers>, key: Key, strip: number): void {
  const known = map.get(key);
  if (known === undefined) map.set(key, [strip]);
  else if (known instanceof Set) known.add(strip);
  else if (known.includes(strip)) return;
  else if (known.length < few) known.push(strip);
  else map.set(key, new Set([...known, strip]));
}
