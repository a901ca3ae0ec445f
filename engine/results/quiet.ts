// What was looked at by somebody who then had nothing to say: nobody need look again while none of it changes.
import { everyFact, type SeenFacts } from '../model/watched-facts.ts';
import type { FactName } from './facts-kept.ts';
import type { Renewal } from './renewal.ts';

export interface Seen {
  readonly facts: SeenFacts;
  /** By number. */
  readonly strips: readonly number[];
}

export interface Looked extends Seen {
  /** Whatever the one who looked wants to remember. */
  readonly remembered: readonly string[];
}

/** Whoever looks: a check, say, and the component that it judges. Two words, since putting them together takes time. */
export interface Looker {
  readonly what: string;
  readonly at: string;
}

/** Of several lookers; without those who remember nothing. */
export type Remembered = readonly (readonly string[])[];

/** What the text before knew, and what has changed since. */
interface Before {
  readonly quiet: ReadonlyMap<string, Group>;
  readonly loud: ReadonlyMap<string, ReadonlySet<string>>;
  readonly changed: readonly FactName[];
  /** By strip: 0 where no changed fact may reach it. */
  readonly reached: Uint8Array;
}

export class Quiet {
  /** By what they look for. */
  private readonly quiet = new Map<string, Group>();
  /** Who had something to say, and likely has again: what they look at is not worth noting. */
  private readonly loud = new Map<string, Set<string>>();
  /** Looked through as somebody asks, which each does once of each text. */
  private before: Before | undefined;

  /** Who does not look at this text is forgotten with the next. */
  takeOver({ quiet, loud }: Quiet, changed: readonly FactName[], reached: Uint8Array): void {
    this.before = { quiet, loud, changed, reached };
  }

  note({ what, at }: Looker, looked: Looked): void {
    const group = this.quiet.get(what) ?? new Group();
    this.quiet.set(what, group);
    group.add(at, looked);
  }

  /** Whether it spoke last time. */
  isLoud({ what, at }: Looker): boolean {
    return this.loud.get(what)?.has(at) === true || this.before?.loud.get(what)?.has(at) === true;
  }

  noteLoud({ what, at }: Looker): void {
    const places = this.loud.get(what) ?? new Set();
    this.loud.set(what, places);
    places.add(at);
  }

  /** `renewal` knows whether strips have come out as before. */
  about(looker: Looker, renewal: Pick<Renewal, 'stay'> | undefined): Looked | undefined {
    const { what, at } = looker;
    const known = this.quiet.get(what)?.get(at);
    if (known !== undefined || this.before === undefined) return known;
    const looked = this.before.quiet.get(what)?.get(at);
    if (looked === undefined || seesAny(looked, this.before) || renewal?.stay(looked.strips) !== true) return undefined;
    this.note(looker, looked);
    return looked;
  }

  /**
   * What all remember who look for one thing in these places, in this order; undefined where one of them has to be asked,
   * or where a strip that one of them looked at may come out different.
   */
  aboutAll(what: string, places: readonly string[]): Remembered | undefined {
    const { before } = this;
    const group = before?.quiet.get(what);
    if (before === undefined || group?.isOf(places) !== true || group.isConcerned(before)) return undefined;
    // There is nobody else who would have to be added.
    if (!this.quiet.has(what)) this.quiet.set(what, group);
    return group.remembered;
  }

  /** Also of those who have not asked yet, where nothing that they look at may have changed. */
  *all(): Generator<Looked> {
    for (const group of this.quiet.values()) for (const [, looked] of group.all()) yield looked;
    const { before } = this;
    if (before === undefined) return;
    for (const [what, group] of before.quiet) {
      const known = this.quiet.get(what);
      if (known === group) continue;
      for (const [at, looked] of group.all())
        if (known?.get(at) === undefined && !seesAny(looked, before) && !touches(looked, before)) yield looked;
    }
  }
}

/** Times that a group is asked before what it looked at is put together: most that change at all do so sooner. */
const settled = 3;

/** All who look for one thing and have nothing to say. Texts share it as long as nothing concerns any of them. */
class Group {
  readonly remembered: (readonly string[])[] = [];
  private readonly byPlace = new Map<string, Looked>();
  private readonly places: string[] = [];
  private asked = 0;
  private together: Seen | undefined;

  get(at: string): Looked | undefined {
    return this.byPlace.get(at);
  }

  all(): Iterable<readonly [string, Looked]> {
    return this.byPlace;
  }

  add(at: string, looked: Looked): void {
    this.byPlace.set(at, looked);
    this.places.push(at);
    if (looked.remembered.length > 0) this.remembered.push(looked.remembered);
  }

  isOf(places: readonly string[]): boolean {
    if (places.length !== this.places.length) return false;
    for (let index = 0; index < places.length; index++) if (places[index] !== this.places[index]) return false;
    return true;
  }

  isConcerned(before: Before): boolean {
    if (this.together === undefined && ++this.asked > settled) this.together = putTogether(this.byPlace.values());
    if (this.together !== undefined) return seesAny(this.together, before) || touches(this.together, before);
    for (const looked of this.byPlace.values()) if (seesAny(looked, before) || touches(looked, before)) return true;
    return false;
  }
}

function putTogether(all: Iterable<Seen>): Seen {
  const facts = new Map<string, Set<string>>();
  const strips = new Set<number>();
  for (const looked of all) {
    for (const [tag, properties] of looked.facts) {
      const known = facts.get(tag) ?? new Set();
      facts.set(tag, known);
      for (const property of properties) known.add(property);
    }
    for (const strip of looked.strips) strips.add(strip);
  }
  return { facts, strips: [...strips] };
}

function seesAny({ facts }: Seen, { changed }: Before): boolean {
  for (const fact of changed) if (sees(facts, fact)) return true;
  return false;
}

function sees(facts: SeenFacts, { tag, property }: FactName): boolean {
  const seen = facts.get(tag);
  return seen !== undefined && (seen.has(property) || seen.has(everyFact));
}

function touches({ strips }: Seen, { reached }: Before): boolean {
  for (const strip of strips) if (reached[strip] !== 0) return true;
  return false;
}
