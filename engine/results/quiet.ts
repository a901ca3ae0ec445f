// What was looked at by somebody who then had nothing to say: nobody need look again while none of it changes.
import { everyFact, factKey } from '../model/watched-facts.ts';
import type { FactName } from './facts-kept.ts';

export interface Looked {
  readonly facts: ReadonlySet<string>;
  /** By number. */
  readonly strips: ReadonlySet<number>;
  /** Whatever the one who looked wants to remember. */
  readonly remembered: readonly string[];
}

/** By the name of whoever looked. */
export class Quiet {
  private readonly known = new Map<string, Looked>();

  /** Takes over from an earlier text what neither a changed fact nor a strip that one reaches was looked at for. */
  takeOver(earlier: Quiet, changed: readonly FactName[], reached: Uint8Array): void {
    const keys = changed.flatMap(({ tag, property }) => [factKey(tag, property), factKey(tag, everyFact)]);
    for (const [name, looked] of earlier.known) {
      if (!keys.some(key => looked.facts.has(key)) && !touches(looked.strips, reached)) this.known.set(name, looked);
    }
  }

  note(name: string, looked: Looked): void {
    this.known.set(name, looked);
  }

  about(name: string): Looked | undefined {
    return this.known.get(name);
  }

  all(): Iterable<Looked> {
    return this.known.values();
  }
}

function touches(strips: ReadonlySet<number>, reached: Uint8Array): boolean {
  for (const strip of strips) if (reached[strip] === 1) return true;
  return false;
}
