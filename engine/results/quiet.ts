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

/** Whoever looks: a check, say, and the component that it judges. Two words, since putting them together takes time. */
export interface Looker {
  readonly what: string;
  readonly at: string;
}

/** What the text before knew, and what has changed since. */
interface Before {
  readonly known: ByLooker<Looked>;
  readonly loud: ByLooker<true>;
  readonly changed: readonly FactName[];
  /** By strip: 0 where no changed fact may reach it. */
  readonly reached: Uint8Array;
}

export class Quiet {
  private readonly known = new ByLooker<Looked>();
  /** Looked through as somebody asks, which each does once of each text. */
  private before: Before | undefined;
  /** Who had something to say, and likely has again: what they look at is not worth noting. */
  private readonly loud = new ByLooker<true>();

  /** Who does not look at this text is forgotten with the next. */
  takeOver({ loud, known }: Quiet, changed: readonly FactName[], reached: Uint8Array): void {
    this.before = { known, loud, changed, reached };
  }

  note(looker: Looker, looked: Looked): void {
    this.known.set(looker, looked);
  }

  /** Whether it spoke last time. */
  isLoud(looker: Looker): boolean {
    return (this.loud.get(looker) ?? this.before?.loud.get(looker)) === true;
  }

  noteLoud(looker: Looker): void {
    this.loud.set(looker, true);
  }

  /** `stay`: whether strips have come out as before. */
  about(looker: Looker, stay: (strips: Looked['strips']) => boolean): Looked | undefined {
    const known = this.known.get(looker);
    if (known !== undefined || this.before === undefined) return known;
    const looked = this.before.known.get(looker);
    if (looked === undefined || seesAny(looked, this.before) || !stay(looked.strips)) return undefined;
    this.known.set(looker, looked);
    return looked;
  }

  /** Also of those who have not asked yet, where nothing that they look at may have changed. */
  *all(): Generator<Looked> {
    for (const [, looked] of this.known.all()) yield looked;
    if (this.before === undefined) return;
    for (const [looker, looked] of this.before.known.all())
      if (this.known.get(looker) === undefined && !seesAny(looked, this.before) && !touches(looked, this.before))
        yield looked;
  }
}

class ByLooker<Value> {
  private readonly values = new Map<string, Map<string, Value>>();

  get({ what, at }: Looker): Value | undefined {
    return this.values.get(what)?.get(at);
  }

  set({ what, at }: Looker, value: Value): void {
    const known = this.values.get(what);
    if (known === undefined) this.values.set(what, new Map([[at, value]]));
    else known.set(at, value);
  }

  *all(): Generator<readonly [Looker, Value]> {
    for (const [what, values] of this.values) for (const [at, value] of values) yield [{ what, at }, value];
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

function touches({ strips }: Looked, { reached }: Before): boolean {
  return strips.some(strip => reached[strip] !== 0);
}
