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

export function newStrip(definition: Definition, cases: number): Strip {
  const slabs = new Array<undefined>(cases).fill(undefined);
  return { definition, slabs, filled: 0, looked: undefined, highest: undefined, lowest: undefined };
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
  const both = newStrip(some.definition, cases);
  for (let caseIndex = 0; caseIndex < cases; caseIndex++) {
    const slab = one?.slabs[caseIndex] ?? other?.slabs[caseIndex];
    if (slab !== undefined && slab !== underWay) fill(both, caseIndex, slab);
  }
  return both;
}

/** What is left of a strip when it has to be looked at anew in some cases: a case looks at no other one. */
export function withoutCases(strip: Strip | undefined, cases: ReadonlySet<number>): Strip | undefined {
  if (strip === undefined) return undefined;
  const slabs = strip.slabs.slice();
  let { filled } = strip;
  if (filled < slabs.length)
    for (let caseIndex = 0; caseIndex < slabs.length; caseIndex++)
      if (slabs[caseIndex] === underWay) slabs[caseIndex] = undefined;
  for (const caseIndex of cases) {
    if (slabs[caseIndex] !== undefined) filled--;
    slabs[caseIndex] = undefined;
  }
  const looked = filled === 0 ? undefined : strip.looked;
  return { definition: strip.definition, slabs, filled, looked, highest: undefined, lowest: undefined };
}

/** Of a strip that is all there. Searched once: whoever takes the strip over takes this over too. */
export function extremeOf(strip: Strip, result: Result, end: 'highest' | 'lowest'): Extreme {
  const known = strip[end];
  if (known !== undefined) return known;
  const found = search(strip, pointsOf(result).length, end);
  strip[end] = found;
  return found;
}

/**
 * What is known of an earlier strip, taken over by one that differs from it in some of the first 32 cases, a bit for each:
 * only these are looked through.
 */
export function keepExtremes(strip: Strip, earlier: Strip, different: number): void {
  strip.highest = keptExtreme(strip, earlier.highest, different, 'highest');
  strip.lowest = keptExtreme(strip, earlier.lowest, different, 'lowest');
}

function keptExtreme(
  strip: Strip,
  earlier: Extreme | undefined,
  different: number,
  end: 'highest' | 'lowest',
): Extreme | undefined {
  if (earlier === undefined || different === 0) return earlier;
  if ((different & (1 << earlier.caseIndex)) !== 0) return undefined;
  const points = pointsOf(strip.definition).length;
  const found = search(strip, points, end, different);
  if (Number.isNaN(found.value)) return earlier;
  if (Number.isNaN(earlier.value)) return found;
  if (found.value === earlier.value) return found.caseIndex < earlier.caseIndex ? found : earlier;
  return found.value > earlier.value === (end === 'highest') ? found : earlier;
}

/** `among`: a bit for each of the first 32 cases that count. */
function search({ slabs }: Strip, points: number, end: 'highest' | 'lowest', among = -1): Extreme {
  const sense = end === 'highest' ? 1 : -1;
  let most = Number.NEGATIVE_INFINITY;
  let caseIndex = -1;
  let point = 0;
  for (let index = 0; index < slabs.length; index++) {
    if (among !== -1 && (among & (1 << index)) === 0) continue;
    // What a case shares with the base case is looked through already.
    if (index > 0 && among === -1 && slabs[index] === slabs[0]) continue;
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
