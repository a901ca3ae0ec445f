// Facts that tell, while somebody watches, which of them are looked at.
import type { Fact } from './plant.ts';

/** Facts by the tag of their component; `everyFact` among them stands for all of it. */
export type SeenFacts = ReadonlyMap<string, ReadonlySet<string>>;

/** Notes the facts that are looked at between `start` and `stop`. One for all facts of a plant. */
export class FactWatch {
  private seen: Map<string, Set<string>> | undefined;

  start(): void {
    this.seen = new Map();
  }

  stop(): SeenFacts {
    const seen = this.seen ?? new Map<string, Set<string>>();
    this.seen = undefined;
    return seen;
  }

  /** Runs something whose looks are accounted for elsewhere. */
  apart<T>(work: () => T): T {
    const seen = this.seen;
    this.seen = undefined;
    try {
      return work();
    } finally {
      this.seen = seen;
    }
  }

  get watching(): boolean {
    return this.seen !== undefined;
  }

  note(tag: string, property: string): void {
    const known = this.seen?.get(tag);
    if (known === undefined) this.seen?.set(tag, new Set([property]));
    else known.add(property);
  }
}

export const everyFact = '*';

/** The facts of one component, or those that a case restates of it. */
export class WatchedFacts extends Map<string, Fact> {
  private readonly tag: string;
  private readonly watch: FactWatch;

  constructor(tag: string, facts: Iterable<readonly [string, Fact]>, watch: FactWatch) {
    super();
    this.tag = tag;
    this.watch = watch;
    for (const [property, fact] of facts) super.set(property, fact);
  }

  override get(property: string): Fact | undefined {
    if (this.watch.watching) this.watch.note(this.tag, property);
    return super.get(property);
  }

  override has(property: string): boolean {
    if (this.watch.watching) this.watch.note(this.tag, property);
    return super.has(property);
  }

  override keys(): MapIterator<string> {
    this.watch.note(this.tag, everyFact);
    return super.keys();
  }

  override values(): MapIterator<Fact> {
    this.watch.note(this.tag, everyFact);
    return super.values();
  }

  override entries(): MapIterator<[string, Fact]> {
    this.watch.note(this.tag, everyFact);
    return super.entries();
  }

  override [Symbol.iterator](): MapIterator<[string, Fact]> {
    return this.entries();
  }

  override forEach(work: (fact: Fact, property: string, facts: Map<string, Fact>) => void): void {
    this.watch.note(this.tag, everyFact);
    super.forEach(work);
  }
}
