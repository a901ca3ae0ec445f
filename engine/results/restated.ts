// Which strips a case can make differ from the base case: those that what it restates reaches. All others are computed once.
import type { Case } from '../model/plant.ts';
import type { Readers } from './lineage.ts';

/** Cases in one number. */
const width = 32;

/** Only ever grows, like the readers that it follows: rather too many than too few. */
export class Restated {
  private readonly words: number;
  /** By strip and word: a bit for each case. */
  private readonly reached: Uint32Array;
  private readonly readers: readonly (Readers | undefined)[];
  /** By component and property: the cases that restate it. */
  /** Of the cases that were taken in: they stand for what the case restates. */
  private readonly noted = new WeakSet<Case['facts']>();
  private readonly facts = new Map<string, Map<string, Set<number>>>();

  constructor(caseCount: number, size: number, readers: readonly (Readers | undefined)[]) {
    this.words = Math.ceil(caseCount / width);
    this.reached = new Uint32Array(size * this.words);
    this.readers = readers;
  }

  /** Takes in what cases restate. `readersOf`: the strips that look at a fact. */
  note(cases: readonly Case[], readersOf: (tag: string, property: string) => Iterable<number>): void {
    for (const [caseIndex, { facts, failed }] of cases.entries()) {
      if (caseIndex === 0 || this.noted.has(facts)) continue;
      this.noted.add(facts);
      for (const names of [facts, failed])
        for (const [tag, properties] of names)
          for (const property of properties.keys())
            if (this.add(tag, property, caseIndex))
              for (const strip of readersOf(tag, property)) this.reach(strip, caseIndex);
    }
  }

  reaches(strip: number, caseIndex: number): boolean {
    return (this.reached[strip * this.words + Math.floor(caseIndex / width)]! & (1 << (caseIndex % width))) !== 0;
  }

  /** A strip was seen looking at a fact. */
  reachFromFact(tag: string, property: string, reader: number): void {
    for (const caseIndex of this.facts.get(tag)?.get(property) ?? []) this.reach(reader, caseIndex);
  }

  /** A strip was seen looking at another. */
  reachFromStrip(strip: number, reader: number): void {
    for (let word = 0; word < this.words; word++) this.spread(reader, word, this.reached[strip * this.words + word]!);
  }

  private reach(strip: number, caseIndex: number): void {
    this.spread(strip, Math.floor(caseIndex / width), 1 << (caseIndex % width));
  }

  /** Marks a strip, and whatever looks at it, with the cases of a word. */
  private spread(first: number, word: number, bits: number): void {
    const waiting = [first];
    for (let strip = waiting.pop(); strip !== undefined; strip = waiting.pop()) {
      const place = strip * this.words + word;
      const known = this.reached[place]!;
      if (((known | bits) ^ known) === 0) continue;
      this.reached[place] = known | bits;
      for (const reader of this.readers[strip] ?? []) waiting.push(reader);
    }
  }

  /** False where it is known already. */
  private add(tag: string, property: string, caseIndex: number): boolean {
    const properties = this.facts.get(tag) ?? new Map<string, Set<number>>();
    this.facts.set(tag, properties);
    const cases = properties.get(property) ?? new Set<number>();
    properties.set(property, cases);
    if (cases.has(caseIndex)) return false;
    cases.add(caseIndex);
    return true;
  }
}
