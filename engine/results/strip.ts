// One value of one component under one duty, in all cases: the unit that an edit elsewhere hands over untouched.
import { type Definition, pointsOf, type Result } from './definition.ts';
import type { Slab } from './graph.ts';
import type { LookedAt } from './looks.ts';

export interface Strip {
  readonly definition: Definition;
  /** By case; undefined where nobody has asked yet. Once all are there the strip never changes, and graphs share it. */
  readonly slabs: (Slab | undefined)[];
  /** How many are there. */
  filled: number;
  /** What all of them looked at, where that is the same list. */
  looked: LookedAt | undefined;
  highest: Extreme | undefined;
  lowest: Extreme | undefined;
}

/** The first of the highest or lowest numbers; NaN where no number is known. */
export interface Extreme {
  readonly value: number;
  readonly caseIndex: number;
  /** Index into `pointsOf`. */
  readonly point: number;
}

const nothingKnown: Extreme = { value: Number.NaN, caseIndex: 0, point: 0 };

export function newStrip(definition: Definition): Strip {
  return { definition, slabs: [], filled: 0, looked: undefined, highest: undefined, lowest: undefined };
}

/** Stands in the place of a slab while it is being computed. */
export const underWay: Slab = {
  values: [],
  looked: { facts: [], slabs: [], topology: 0, duties: false, formula: undefined, lineage: undefined },
  outside: [],
};

export function fill(strip: Strip, caseIndex: number, slab: Slab): void {
  const before = strip.slabs[caseIndex];
  if (before === undefined || before === underWay) {
    if (strip.filled === 0) strip.looked = slab.looked;
    else if (strip.looked !== slab.looked) strip.looked = undefined;
    strip.filled++;
  }
  strip.slabs[caseIndex] = slab;
}

/** What two graphs know of the same strip, which neither of them may change any more. */
export function joined(one: Strip | undefined, other: Strip | undefined, cases: number): Strip | undefined {
  const full = [one, other].find(strip => strip?.filled === cases);
  if (full !== undefined) return full;
  const some = one ?? other;
  if (some === undefined) return undefined;
  const both = newStrip(some.definition);
  for (let caseIndex = 0; caseIndex < cases; caseIndex++) {
    const slab = one?.slabs[caseIndex] ?? other?.slabs[caseIndex];
    if (slab !== undefined && slab !== underWay) fill(both, caseIndex, slab);
  }
  return both;
}

/** What is left of a strip when it has to be looked at anew in some cases: a case looks at no other one. */
export function withoutCases(strip: Strip | undefined, cases: ReadonlySet<number>): Strip | undefined {
  if (strip === undefined) return undefined;
  const rest = newStrip(strip.definition);
  for (const [caseIndex, slab] of strip.slabs.entries()) {
    if (slab !== undefined && slab !== underWay && !cases.has(caseIndex)) fill(rest, caseIndex, slab);
  }
  return rest;
}

/** Of a strip that is all there. Searched once: whoever takes the strip over takes this over too. */
export function extremeOf(strip: Strip, result: Result, end: 'highest' | 'lowest'): Extreme {
  const known = strip[end];
  if (known !== undefined) return known;
  const found = search(strip, pointsOf(result).length, end);
  strip[end] = found;
  return found;
}

/** Of two strips with the same numbers. */
export function sameExtremes(strip: Strip, { highest, lowest }: Strip): void {
  strip.highest = highest;
  strip.lowest = lowest;
}

function search({ slabs }: Strip, points: number, end: 'highest' | 'lowest'): Extreme {
  const sense = end === 'highest' ? 1 : -1;
  let most = Number.NEGATIVE_INFINITY;
  let caseIndex = -1;
  let point = 0;
  for (let index = 0; index < slabs.length; index++) {
    // What a case shares with the base case is looked through already.
    if (index > 0 && slabs[index] === slabs[0]) continue;
    const values = slabs[index]!.values as readonly number[];
    for (let at = 0; at < points; at++) {
      const other = sense * values[at]!;
      // Not so of a number that is not known.
      if (!(other > most)) continue;
      most = other;
      caseIndex = index;
      point = at;
    }
  }
  return caseIndex < 0 ? nothingKnown : { value: sense * most, caseIndex, point };
}
