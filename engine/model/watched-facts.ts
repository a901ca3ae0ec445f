// Facts that tell, while somebody watches, which of them are looked at.
import type { Fact } from './plant.ts';

/** Facts by the tag of their component; `everyFact` among them stands for all of it. */
export type SeenFacts = ReadonlyMap<string, ReadonlySet<string>>;

/** Notes the facts that are looked at between `start` and `stop`. */
class FactWatch {
  /** What was looked at so far; undefined while nobody watches, as when looks are accounted for elsewhere. */
  seen: Map<string, Set<string>> | undefined;

  start(): void {
    this.seen = new Map();
  }

  stop(): SeenFacts {
    const seen = this.seen ?? new Map<string, Set<string>>();
    this.seen = undefined;
    return seen;
  }

  note(tag: string, property: string): void {
    const known = this.seen?.get(tag);
    if (known === undefined) this.seen?.set(tag, new Set([property]));
    else known.add(property);
  }
}

/** One for all facts of all plants, so that texts may share them: nobody looks at two plants at once. */
export const factWatch = new FactWatch();

export const everyFact = '*';

/** The facts of one component, or those that a case restates of it. */
export class WatchedFacts implements ReadonlyMap<string, Fact> {
  private readonly tag: string;
  private readonly facts: Map<string, Fact>;
  private readonly says: object;

  /** Whoever shares the map says the same of a component, and so does `before`; `replace` puts in what says the same. */
  constructor(tag: string, facts: Map<string, Fact>, before?: ReadonlyMap<string, Fact>) {
    this.tag = tag;
    this.facts = facts;
    this.says = before instanceof WatchedFacts ? before.says : facts;
  }

  get(property: string): Fact | undefined {
    if (factWatch.seen !== undefined) factWatch.note(this.tag, property);
    return this.facts.get(property);
  }

  has(property: string): boolean {
    if (factWatch.seen !== undefined) factWatch.note(this.tag, property);
    return this.facts.has(property);
  }

  /** Whether they are the same facts, and not only alike; they may have moved. */
  isSame(other: ReadonlyMap<string, Fact>): boolean {
    return other instanceof WatchedFacts && other.says === this.says;
  }

  /** One object for all that say the same of a component: for what is made of all its facts. */
  get whole(): object {
    factWatch.note(this.tag, everyFact);
    return this.says;
  }

  /** Puts another fact that says the same in the place of one. */
  replace(property: string, fact: Fact): void {
    this.facts.set(property, fact);
  }

  get size(): number {
    return this.every.size;
  }

  keys(): MapIterator<string> {
    return this.every.keys();
  }

  values(): MapIterator<Fact> {
    return this.every.values();
  }

  entries(): MapIterator<[string, Fact]> {
    return this.every.entries();
  }

  [Symbol.iterator](): MapIterator<[string, Fact]> {
    return this.every.entries();
  }

  forEach(work: (fact: Fact, property: string, facts: ReadonlyMap<string, Fact>) => void): void {
    for (const [property, fact] of this.every) work(fact, property, this);
  }

  private get every(): Map<string, Fact> {
    factWatch.note(this.tag, everyFact);
    return this.facts;
  }
}
