// What an edit that leaves components, duties and cases as they are leaves of the strips that it may reach: asked once of
// each strip, of all its cases at once.
//
// A strip is looked at anew when somebody wants it. Where nothing that its columns looked at has come out different they
// hold; the others are computed there and then, and whoever looks at the strip sees at a glance in which cases it differs.
import type { Plant } from '../model/plant.ts';
import { columnCount, formulaColumn, takenSlab } from './compute-slab.ts';
import { type FactName, seesNewTopology, type TopologyPart } from './facts-kept.ts';
import type { Slab } from './graph.ts';
import { atFirstHand } from './lineage.ts';
import { factSeen, type LookedAt, type LookedSlab } from './looks.ts';
import { fill, keepExtremes, newStrip, type Strip, underWay } from './strip.ts';
import type { StripTable } from './strip-table.ts';

/** Cases in one number. */
const width = 32;

/** By component and property: a bit for each case in which a computation now sees another fact. */
export type DifferentFacts = ReadonlyMap<string, ReadonlyMap<string, readonly number[]>>;

export interface Surroundings {
  readonly cases: number;
  /** The strips of this text, and of the one before. */
  readonly now: StripTable;
  readonly before: StripTable;
  readonly facts: DifferentFacts;
  /** How much of the topology is another one now. */
  readonly newTopology: TopologyPart;
  /** 0 where neither a changed fact nor another topology may reach the strip; see `Reached`. */
  readonly reached: Uint8Array;
  /** Those that one may reach. */
  readonly reachedStrips: readonly number[];
  /** A column that holds no more, computed or taken from the base case. */
  readonly compute: (strip: number, caseIndex: number, before: Slab) => Slab;
  /** What a computation looked at, as it is now. */
  readonly slabOf: (seen: LookedSlab, caseIndex: number) => Slab;
}

/** What the earlier text knew of a strip, by case. */
type Known = readonly (Slab | undefined)[];

/** Of a strip, in the cases of one word: those that are open, and of these those that have to be looked at anew. */
interface Filling {
  readonly open: number;
  readonly dirty: number;
  readonly word: number;
  readonly slabs: Known;
}

/** By strip and word. */
interface Tables {
  readonly states: Uint8Array;
  /** A bit for each case whose column holds other values than before, or was not there. */
  readonly different: Uint32Array;
}

const untouched = 0;
const inWork = 1;
const done = 2;

export class Renewal {
  /** Columns computed here. */
  computed = 0;
  private readonly around: Surroundings;
  private readonly words: number;
  private readonly tables: Tables;
  private readonly states: Tables['states'];
  private readonly different: Tables['different'];

  /** Where a change reaches some of the first cases alone: a bit for each of them. */
  private readonly reachable: number;

  /** `before`: of the text before, which nobody asks any more; its tables serve again. */
  constructor(around: Surroundings, before?: Renewal) {
    this.around = around;
    this.words = Math.ceil(around.cases / width);
    const size = around.reached.length * this.words;
    this.tables = before?.cleared(size) ?? { states: new Uint8Array(size), different: new Uint32Array(size) };
    this.states = this.tables.states;
    this.different = this.tables.different;
    this.reachable = [...(around.now.inCases ?? [])].reduce((bits, caseIndex) => bits | (1 << caseIndex), 0);
  }

  /** Its tables as new, where they are of this size: only what a change could reach was written to. */
  private cleared(size: number): Tables | undefined {
    const { states, different } = this.tables;
    if (states.length !== size) return undefined;
    for (const strip of this.around.reachedStrips) {
      for (let place = strip * this.words; place < (strip + 1) * this.words; place++) {
        states[place] = untouched;
        different[place] = 0;
      }
    }
    return this.tables;
  }

  mayReach(strip: number): boolean {
    return this.around.reached[strip] !== 0;
  }

  /** Nobody has wanted it in this text, and it may have changed. */
  isOpen(strip: number, caseIndex: number): boolean {
    return (
      this.around.reached[strip] !== 0 && this.states[strip * this.words + Math.floor(caseIndex / width)] === untouched
    );
  }

  /** Fills in what the earlier text had of a strip, in this case and those beside it. */
  renew(strip: number, caseIndex: number): void {
    this.renewWord(strip, Math.floor(caseIndex / width));
  }

  /** Whether strips come out as before, in all cases that the earlier text had; none is computed behind one that doesn't. */
  stay(strips: readonly number[]): boolean {
    for (const strip of strips) {
      if (this.around.reached[strip] === 0) continue;
      for (let word = 0; word < this.words; word++) {
        if (this.states[strip * this.words + word] === untouched) this.renewWord(strip, word);
        if ((this.different[strip * this.words + word]! & this.hadIn(strip, word)) !== 0) return false;
      }
    }
    return true;
  }

  private renewWord(number: number, word: number): void {
    const { now, before, cases } = this.around;
    const place = number * this.words + word;
    this.states[place] = inWork;
    const whole = this.words === 1 ? before.whole(number, cases) : undefined;
    const slabs = whole?.slabs ?? before.allKnown(number, cases);
    const open = whole === undefined ? this.openIn(number, word, slabs) : this.openInWhole(number, slabs);
    // What a case shared with the base case it may have looked at there alone.
    this.different[place] = whole === undefined ? ~this.hadIn(number, word) : 0;
    if (open !== 0) {
      const dirty =
        whole?.looked === undefined
          ? this.dirtyOf(number, open, word, slabs)
          : this.dirtyAmong(number, whole.looked, open, word);
      if (dirty === 0 && whole !== undefined && now.at(number) === undefined) now.put(number, whole);
      else this.fillIn(number, { open, dirty, word, slabs });
      if (dirty !== 0 && whole !== undefined) keepExtremes(now.at(number)!, whole, this.different[place]!);
    }
    this.states[place] = done;
  }

  /** The cases that the earlier text had. */
  private hadIn(number: number, word: number): number {
    const { before, cases } = this.around;
    if (this.words === 1 && before.whole(number, cases) !== undefined) return -1;
    const first = word * width;
    let had = 0;
    for (let caseIndex = first; caseIndex < Math.min(cases, first + width); caseIndex++)
      if (before.known(number, caseIndex) !== undefined) had |= 1 << (caseIndex - first);
    return had;
  }

  /** The cases that the earlier text had and in which nothing is known yet; what no change reaches is filled in. */
  private openIn(number: number, word: number, slabs: Known): number {
    const { now, cases } = this.around;
    const strip = now.at(number);
    const first = word * width;
    const end = Math.min(cases, first + width);
    let open = 0;
    for (let caseIndex = first; caseIndex < end; caseIndex++) {
      if (strip?.slabs[caseIndex] !== undefined || slabs[caseIndex] === undefined) continue;
      const clean = now.leftIn(number, caseIndex);
      if (clean === undefined) open |= 1 << (caseIndex - first);
      else fill(now.at(number) ?? now.put(number, newStrip(now.definition(number), cases)), caseIndex, clean);
    }
    return open;
  }

  /** The same of a strip with all its cases in one word. */
  private openInWhole(number: number, slabs: Known): number {
    const { now, cases } = this.around;
    if (now.at(number) !== undefined) return this.openIn(number, 0, slabs);
    if (now.inCases === undefined) return cases === width ? -1 : (1 << cases) - 1;
    now.putWhatIsLeft(number);
    return this.reachable;
  }

  /** In which of the cases something that was looked at has come out different. */
  private dirtyOf(number: number, open: number, word: number, slabs: Known): number {
    const first = word * width;
    let dirty = 0;
    let rest = open;
    while (rest !== 0) {
      const { looked } = slabs[first + lowestBit(rest)]!;
      // Cases mostly look at the same, and then share one list of it.
      let alike = 0;
      for (let others = rest; others !== 0; others &= others - 1) {
        const bit = lowestBit(others);
        if (slabs[first + bit]!.looked === looked) alike |= 1 << bit;
      }
      rest &= ~alike;
      dirty |= this.dirtyAmong(number, looked, alike, word);
    }
    return dirty;
  }

  private dirtyAmong(number: number, looked: LookedAt, alike: number, word: number): number {
    const { reached, newTopology } = this.around;
    let dirty = seesNewTopology(looked.topology, newTopology) ? alike : 0;
    if (reached[number] === atFirstHand) dirty |= this.changedFacts(looked, word) & alike;
    for (const seen of looked.slabs) {
      // What was looked at behind something that differs might not be looked at any more.
      const clean = alike & ~dirty;
      if (clean === 0) break;
      if (reached[seen.strip] !== 0) dirty |= this.differentIn(seen, clean, word);
    }
    return dirty;
  }

  /** In which cases a fact that was looked at says something else. */
  private changedFacts(looked: LookedAt, word: number): number {
    let changed = 0;
    for (const { tag, property } of looked.facts) changed |= this.around.facts.get(tag)?.get(property)?.[word] ?? 0;
    return changed;
  }

  private differentIn(seen: LookedSlab, cases: number, word: number): number {
    const place = seen.strip * this.words + word;
    if (this.states[place] === untouched) this.renewWord(seen.strip, word);
    if (this.states[place] === done) return this.different[place]! & cases;
    // Strips may look at each other in different cases: then by case.
    let different = 0;
    for (let others = cases; others !== 0; others &= others - 1) {
      const bit = lowestBit(others);
      const caseIndex = word * width + bit;
      const known = this.around.before.known(seen.strip, caseIndex);
      if (this.around.slabOf(seen, caseIndex).values !== known?.values) different |= 1 << bit;
    }
    return different;
  }

  private fillIn(number: number, { open, dirty, word, slabs }: Filling): void {
    const { now, before, cases, compute } = this.around;
    const place = number * this.words + word;
    const definition = before.definition(number);
    const strip = now.at(number) ?? now.put(number, newStrip(definition, cases));
    const take = definition.taken === undefined ? undefined : this.taking(number, strip);
    for (let rest = open; rest !== 0; rest &= rest - 1) {
      const bit = lowestBit(rest);
      const caseIndex = word * width + bit;
      const known = slabs[caseIndex]!;
      // One that it looked at may have wanted it meanwhile.
      if (strip.slabs[caseIndex] === undefined) {
        if ((dirty & (1 << bit)) === 0) fill(strip, caseIndex, known);
        else if (take !== undefined && known.looked.formula !== undefined)
          fill(strip, caseIndex, take(caseIndex, known));
        else {
          strip.slabs[caseIndex] = underWay;
          fill(strip, caseIndex, compute(number, caseIndex, known));
        }
      }
      if (strip.slabs[caseIndex]!.values !== known.values) this.different[place]! |= 1 << bit;
    }
  }

  /**
   * Makes the columns of a value that is nothing but a formula of others: `before` is what stood in their place. Undefined
   * where it may be another formula now.
   */
  private taking(number: number, strip: Strip): ((caseIndex: number, before: Slab) => Slab) | undefined {
    const { reached, slabOf } = this.around;
    if (reached[number] === atFirstHand) return undefined;
    let looked: LookedAt | undefined;
    let sources: Known[] = [];
    let columns: Slab['values'][] = [];
    return (caseIndex, before) => {
      // Mostly the same ones in all cases.
      if (looked !== before.looked) {
        looked = before.looked;
        sources = looked.slabs.map(seen => this.asNow(seen, caseIndex));
        columns = new Array<Slab['values']>(columnCount(looked.formula!));
      }
      const base = caseIndex === 0 ? undefined : strip.slabs[0];
      let asBase = base?.looked === looked;
      for (let index = 0; index < sources.length; index++) {
        const source = sources[index]!;
        const { values } = source[caseIndex] ?? slabOf(looked.slabs[index]!, caseIndex);
        columns[index] = values;
        // The case has what the base case has where all sources do.
        if (asBase && source[0]?.values !== values) asBase = false;
      }
      if (base !== undefined && asBase) return base;
      this.computed++;
      return takenSlab(strip.definition, formulaColumn(looked.formula!, columns), before, base);
    };
  }

  /** What is known of a strip by now, in the cases beside this one. */
  private asNow({ strip }: LookedSlab, caseIndex: number): Known {
    if (this.isOpen(strip, caseIndex)) this.renew(strip, caseIndex);
    return this.around.now.allKnown(strip, this.around.cases);
  }
}

/** The number of the lowest bit that is set; of a number that has one. */
function lowestBit(bits: number): number {
  return 31 - Math.clz32(bits & -bits);
}

/** In which cases a computation sees other facts than in an earlier plant of the same cases. */
export function differentFacts(changed: readonly FactName[], plant: Plant, earlier: Plant): DifferentFacts {
  const cases = plant.cases.length;
  const facts = new Map<string, Map<string, readonly number[]>>();
  for (const { tag, property } of changed) {
    const properties = facts.get(tag) ?? new Map<string, readonly number[]>();
    facts.set(tag, properties);
    if (properties.has(property)) continue;
    const words = new Array<number>(Math.ceil(cases / width)).fill(0);
    for (let caseIndex = 0; caseIndex < cases; caseIndex++) {
      const [seen, before] = [plant, earlier].map(of => factSeen(of, caseIndex, tag, property));
      if (seen !== before) words[Math.floor(caseIndex / width)]! |= 1 << (caseIndex % width);
    }
    properties.set(property, words);
  }
  return facts;
}
