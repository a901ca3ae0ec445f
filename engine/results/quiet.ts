// What was looked at by somebody who then had nothing to say: nobody need look again while none of it changes.
import { everyFact, type SeenFacts } from '../model/watched-facts.ts';
import type { FactName } from './facts-kept.ts';

export interface Looked {
  readonly facts: SeenFacts;
  /** By number. */
  readonly strips: ReadonlySet<number>;
  /** Whatever the one who looked wants to remember. */
  readonly remembered: readonly string[];
}

/** By the name of whoever looked. */
export class Quiet {
  private readonly known = new Map<string, Looked>();
  /** Of the earlier text: strips were looked at that a changed fact may reach. */
  private readonly doubtful = new Map<string, Looked>();
  /** Who had something to say lately, and likely has again: what they look at is not worth noting. */
  private readonly loud = new Set<string>();

  /** Takes over from an earlier text what no changed fact was looked at for, in doubt where one may reach a strip. */
  takeOver(earlier: Quiet, changed: readonly FactName[], reached: Uint8Array): void {
    for (const name of earlier.loud) this.loud.add(name);
    for (const [name, looked] of earlier.known) {
      if (changed.some(fact => sees(looked.facts, fact))) continue;
      (touches(looked.strips, reached) ? this.doubtful : this.known).set(name, looked);
    }
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
    const doubtful = this.doubtful.get(name);
    if (doubtful === undefined) return this.known.get(name);
    this.doubtful.delete(name);
    if (!stay(doubtful.strips)) return undefined;
    this.known.set(name, doubtful);
    return doubtful;
  }

  all(): Iterable<Looked> {
    return this.known.values();
  }
}

function sees(facts: SeenFacts, { tag, property }: FactName): boolean {
  const seen = facts.get(tag);
  return seen !== undefined && (seen.has(property) || seen.has(everyFact));
}

function touches(strips: ReadonlySet<number>, reached: Uint8Array): boolean {
  for (const strip of strips) if (reached[strip] === 1) return true;
  return false;
}
