// What was made of a declaration, for the same declaration in another place: the facts say the same, from where they now
// stand. Typing above it moves all that follows, at every keystroke.
import type { Place } from '../finding.ts';
import { type LoweredFacts, originOf } from './facts.ts';
import type { Component, Fact } from './plant.ts';
import { WatchedFacts } from './watched-facts.ts';

/** Facts of a declaration that now begins `by` characters later; `inheritedNow`: a fact of the part that it is made from. */
export function movedFacts(
  lowered: LoweredFacts,
  by: number,
  inheritedNow: (property: string, fact: Fact) => Fact,
): LoweredFacts {
  const facts = new Map<string, Fact>();
  for (const [name, fact] of lowered.facts)
    facts.set(name, fact.inherited ? inheritedNow(name, fact) : movedFact(fact, by));
  return { facts, failed: lowered.failed, origin: originOf(lowered) };
}

/** `lowered`: its facts, which have moved with it. */
export function movedComponent(component: Component, lowered: LoweredFacts, by: number): Component {
  const { place, whole, insertAt, basePlace } = component;
  const facts = new Map<string, Fact>();
  for (const [name, fact] of component.facts) {
    const now = lowered.facts.get(name);
    // The value stays the object that earlier texts know.
    facts.set(name, now === undefined || now.value === fact.value ? (now ?? fact) : { ...now, value: fact.value });
  }
  return {
    ...component,
    place: movedPlace(place, by),
    whole: movedPlace(whole, by),
    insertAt: insertAt && movedPlace(insertAt, by),
    basePlace: basePlace && movedPlace(basePlace, by),
    facts: new WatchedFacts(component.tag, facts, component.facts),
  };
}

export function movedFact(fact: Fact, by: number): Fact {
  return { ...fact, place: fact.place && movedPlace(fact.place, by), whole: fact.whole && movedPlace(fact.whole, by) };
}

function movedPlace({ path, start, end }: Place, by: number): Place {
  return { path, start: start + by, end: end + by };
}
