// What was looked at by somebody who then had nothing to say: nobody need look again while none of it changes.
import { everyFact, type SeenFacts } from '../model/watched-facts.ts';
import type { FactName } from './facts-kept.ts';

export interface Looked {
  readonly facts: SeenFacts;
  /** By number. */
  readonly strips: readonly number[];
  /** Whatever the one who looked wants to remember. */
  readonly remembered: readonly string[];
}

/** What the text before knew, and what has changed since. */
interface Before {
  readonly known: ReadonlyMap<string, Looked>;
  readonly changed: readonly FactName[];
  /** By strip: 0 where no changed fact may reach it. */
  readonly reached: Uint8Array;
}

/** By the name of whoever looked. */
export class Quiet {
  private readonly known = new Map<string, Looked>();
  /** Looked through as somebody asks, which each does once of each text. */
  private before: Before | undefined;
  /** Who had something to say lately, and likely has again: what they look at is not worth noting. */
  private readonly loud = new Set<string>();

  takeOver({ loud, known }: Quiet, changed: readonly FactName[], reached: Uint8Array): void {
    for (const name of loud) this.loud.add(name);
    this.before = { known, changed, reached };
  }

  note(name: string, looked: Looked): void {
    this.known.set(name, looked);
  }

  /** Whether it spoke last time. */
  isLoud(name: string): boolean {
    return this.loud.has(name);
  }

  noteLoud(name: string, speaks: boolean): void {
    if (speaks) this.loud.add(name);
    else this.loud.delete(name);
  }

  /** `stay`: whether strips have come out as before. */
  about(name: string, stay: (strips: Looked['strips']) => boolean): Looked | undefined {
    const known = this.known.get(name);
    if (known !== undefined || this.before === undefined) return known;
    const looked = this.before.known.get(name);
    if (looked === undefined || seesAny(looked, this.before) || !stay(looked.strips)) return undefined;
    this.known.set(name, looked);
    return looked;
  }

  /** Also of those who have not asked yet, where nothing that they look at may have changed. */
  *all(): Generator<Looked> {
    yield* this.known.values();
    for (const [name, looked] of this.before?.known ?? [])
      if (!this.known.has(name) && !seesAny(looked, this.before!) && !touches(looked.strips, this.before!.reached))
        yield looked;
  }
}

function seesAny({ facts }: Looked, { changed }: Before): boolean {
  for (const fact of changed) if (sees(facts, fact)) return true;
  return false;
}

function sees(facts: SeenFacts, { tag, property }: FactName): boolean {
  const seen = facts.get(tag);
  return seen !== undefined && (seen.has(property) || seen.has(everyFact));
}

function touches(strips: readonly number[], reached: Uint8Array): boolean {
  for (const strip of strips) if (reached[strip] !== 0) return true;
  return false;
}
