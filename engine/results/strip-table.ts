// The strips of one text: those that somebody has asked for here, and those that earlier texts have left and that hold.
import type { Definition } from './definition.ts';
import type { Slab } from './graph.ts';
import type { Reached } from './lineage.ts';
import type { SlabInUse } from './outside-curves.ts';
import { joined, type Strip, underWay, withoutCases } from './strip.ts';

/** By number, 16 in a piece: from text to text only the pieces change in which a strip does. */
type Strips = readonly (readonly (Strip | undefined)[] | undefined)[];

const bits = 4;
const size = 1 << bits;

/** What an earlier text has left, which nobody changes, and what of it a change may reach. */
interface Left {
  readonly strips: Strips;
  readonly reached: Reached;
  /** The cases that it may reach; undefined where it may reach all. */
  readonly inCases: ReadonlySet<number> | undefined;
}

export class StripTable {
  private readonly asked: ((Strip | undefined)[] | undefined)[];
  private readonly askedNumbers: number[] = [];
  private readonly left: Left | undefined;

  /** `count`: how many strips there may be. */
  constructor(count: number, left?: Left) {
    this.asked = emptyPieces(Math.ceil(count / size));
    this.left = left;
  }

  at(number: number): Strip | undefined {
    return this.asked[number >> bits]?.[number & (size - 1)];
  }

  /** That no change reaches. */
  leftAt(number: number): Strip | undefined {
    return this.left === undefined || this.left.reached.marks[number] !== 0 ? undefined : this.anyLeft(number);
  }

  /** The cases that a change may reach, where these are not all: of the strips that it reaches something is left too. */
  get inCases(): ReadonlySet<number> | undefined {
    return this.left?.inCases;
  }

  /** A slab that is left, of a case that no change reaches. */
  leftIn(number: number, caseIndex: number): Slab | undefined {
    if (this.left === undefined) return undefined;
    const { reached, inCases } = this.left;
    if (reached.marks[number] !== 0 && inCases?.has(caseIndex) !== false) return undefined;
    const slab = this.anyLeft(number)?.slabs[caseIndex];
    return slab === underWay ? undefined : slab;
  }

  put(number: number, strip: Strip): Strip {
    this.asked[number >> bits] ??= emptyPiece();
    const piece = this.asked[number >> bits]!;
    if (piece[number & (size - 1)] === undefined) this.askedNumbers.push(number);
    piece[number & (size - 1)] = strip;
    return strip;
  }

  /** A slab that was asked for here; undefined while it is being computed. */
  slab(number: number, caseIndex: number): Slab | undefined {
    const known = this.at(number)?.slabs[caseIndex];
    return known === underWay ? undefined : known;
  }

  /** A slab that was asked for here or that is left. */
  known(number: number, caseIndex: number): Slab | undefined {
    return this.at(number)?.slabs[caseIndex] ?? this.leftIn(number, caseIndex);
  }

  /** All of a strip that is known, by case. */
  allKnown(number: number, cases: number): readonly (Slab | undefined)[] {
    const whole = this.whole(number, cases);
    return whole?.slabs ?? Array.from({ length: cases }, (_, caseIndex) => this.known(number, caseIndex));
  }

  /** Puts the cases of a strip that no change reaches. */
  putWhatIsLeft(number: number): void {
    const left = this.stillLeft(number);
    if (left !== undefined) this.put(number, left);
  }

  /** A strip with all its cases, asked for here or left. */
  whole(number: number, cases: number): Strip | undefined {
    const own = this.at(number);
    if (own?.filled === cases) return own;
    const left = this.leftAt(number);
    return left?.filled === cases ? left : undefined;
  }

  /** Of which value a strip is that was asked for here or that is left. */
  definition(number: number): Definition {
    return (this.at(number) ?? this.anyLeft(number)!).definition;
  }

  *slabs(): Generator<SlabInUse> {
    for (const number of this.askedNumbers) {
      const { definition, slabs } = this.at(number)!;
      for (const [caseIndex, slab] of slabs.entries())
        if (slab !== undefined) yield { number, definition, caseIndex, slab };
    }
  }

  /** What it leaves to the next text: all that it knows. */
  remainder(cases: number): Strips {
    const rest = this.left?.strips.slice() ?? emptyPieces(this.asked.length);
    const own = new Set<number>();
    const set = (number: number, strip: Strip | undefined): void => {
      if (this.anyLeft(number) === strip) return;
      const place = number >> bits;
      if (!own.has(place)) rest[place] = rest[place]?.slice() ?? emptyPiece();
      own.add(place);
      (rest[place] as (Strip | undefined)[])[number & (size - 1)] = strip;
    };
    for (const number of this.askedNumbers) {
      const strip = this.at(number)!;
      set(number, strip.filled === cases ? strip : joined(strip, this.stillLeft(number), cases));
    }
    for (const number of this.left?.reached.strips ?? [])
      if (this.at(number) === undefined) set(number, this.stillLeft(number));
    return rest;
  }

  private stillLeft(number: number): Strip | undefined {
    if (this.left === undefined) return undefined;
    const { reached, inCases } = this.left;
    const strip = this.anyLeft(number);
    if (reached.marks[number] === 0 || strip === undefined) return strip;
    return inCases === undefined ? undefined : withoutCases(strip, inCases);
  }

  private anyLeft(number: number): Strip | undefined {
    return this.left?.strips[number >> bits]?.[number & (size - 1)];
  }
}

function emptyPiece(): (Strip | undefined)[] {
  return new Array<Strip | undefined>(size).fill(undefined);
}

function emptyPieces(count: number): ((Strip | undefined)[] | undefined)[] {
  return new Array<undefined>(count).fill(undefined);
}
