// The derived-value graph: numbers in columns, computed when asked for, kept while nothing that they looked at changes.
//
// A slab holds all points of one value of one component in one case and duty. Its dependencies are names; a slab of an
// earlier text, or of the base case, serves again where all that it looked at is still, or here too, what it was. If a
// recomputed slab comes out equal, the old column stays: whoever depends on it is not touched. The graph of an earlier
// text is read, never changed.
//
// Where two texts have the same components, duties and cases, the slabs that no changed fact reaches are not even looked
// at: whole strips (a value under a duty in all cases) are taken over.
import type { Component, Plant } from '../model/plant.ts';
import type { Route } from '../model/topology.ts';
import { computeSlab, type Wanted } from './compute-slab.ts';
import { type At, type Definition, pointIndex, type Result } from './definition.ts';
import {
  type FactChanges,
  keepEqualFacts,
  newTopologyIn,
  sameOutline,
  seesNewTopology,
  shapeItself,
  type TopologyPart,
  topologyItself,
  topologyParts,
} from './facts-kept.ts';
import { Lineage } from './lineage.ts';
import { factSeen, type LookedAt, type LookedSlab } from './looks.ts';
import type { Noted, OutsideCurve } from './noted.ts';
import { type OutsideInCase, outsideOf, slabsInUse } from './outside-curves.ts';
import { type Looker, Quiet, type Remembered } from './quiet.ts';
import { Read } from './read.ts';
import { differentFacts, Renewal } from './renewal.ts';
import { routesByTag } from './routes.ts';
import { fill, newStrip, type Strip, underWay } from './strip.ts';
import { StripNumbers } from './strip-numbers.ts';
import { StripTable } from './strip-table.ts';
import { Watching } from './watching.ts';
import { type Worst, withoutDuty, worstOf } from './worst.ts';

const noRoutes: readonly Route[] = [];

export interface Slab {
  readonly values: readonly unknown[];
  readonly looked: LookedAt;
  readonly outside: readonly OutsideCurve[];
}

export class Graph {
  readonly plant: Plant;
  private made = 0;
  private earlier: Graph | undefined;
  /** The earlier text has the same components, duties and cases: facts and topology alone differ. */
  private readonly aligned: boolean;
  /** How much of the topology is another one than in the earlier text. */
  private readonly newTopology: TopologyPart;
  private readonly sameDuties: boolean;
  private readonly numbers: StripNumbers;
  private readonly caseIndex = new Map<string, number>();
  private readonly strips: StripTable;
  readonly lineage: Lineage;
  /** Of an aligned graph: what becomes of the strips that a changed fact may reach. */
  private renewal: Renewal | undefined;
  /** Slabs taken over from another lineage, until the next text comes. */
  private readonly translations = new Map<Slab, Slab>();
  private readonly quiet = new Quiet();
  /** What was asked for from outside: columns by strip and case, and whole strips. */
  private readonly asked = { columns: new Set<number>(), strips: new Set<number>() };
  private readonly watching = new Watching();
  private readonly routes: ReadonlyMap<string, readonly Route[]>;
  private readonly routesOfRest: ReadonlyMap<string, readonly Route[]>;

  constructor(plant: Plant, earlier?: Graph) {
    this.plant = plant;
    for (const [index, { name }] of plant.cases.entries()) this.caseIndex.set(name, index);
    this.routes = routesByTag(plant.topology.routes);
    this.routesOfRest = routesByTag(plant.topology.rest?.routes ?? noRoutes);
    this.numbers = new StripNumbers(plant.components, plant.duties);
    this.earlier = earlier;
    const same = earlier === undefined ? undefined : sameOutline(earlier.plant, plant);
    this.newTopology = newTopologyIn(same);
    this.sameDuties = same?.duties === true;
    this.aligned = same?.components === true && this.sameDuties && same.cases;
    this.lineage = this.aligned && earlier !== undefined ? earlier.lineage : new Lineage();
    const size = this.numbers.count;
    const changes = earlier && keepEqualFacts(plant, earlier.plant);
    const left = this.aligned && earlier && changes ? this.takeOver(earlier, changes, size) : undefined;
    this.strips = left ?? new StripTable(size);
    // The graph before the last one is no longer needed.
    if (earlier === undefined) return;
    earlier.earlier = earlier.renewal = undefined;
    earlier.translations.clear();
  }

  /** Slabs computed anew for this text; the rest were taken over. */
  get computed(): number {
    return this.made + (this.renewal?.computed ?? 0);
  }

  /** With one converter unit lost, those that are left. */
  routesOf(tag: string, unitLost = false): readonly Route[] {
    return (unitLost ? this.routesOfRest : this.routes).get(tag) ?? [];
  }

  /** The column of a value; never undefined, but its numbers may be NaN. */
  slab(component: Component, definition: Definition, caseIndex: number, duty: Component | undefined): Slab {
    const number = this.numberOf(component.tag, definition, duty?.tag);
    if (this.aligned) this.asked.columns.add(number * this.plant.cases.length + caseIndex);
    return this.slabAt(number, component, definition, caseIndex, duty);
  }

  /** The same, by the number of its strip. */
  slabAt(
    number: number,
    component: Component,
    definition: Definition,
    caseIndex: number,
    duty: Component | undefined,
  ): Slab {
    if (this.watching.strips !== undefined) {
      this.watching.strips.add(number);
      const known = this.strips.at(number)?.slabs[caseIndex];
      if (known !== undefined && known !== underWay) return known;
      return this.watching.apart(this, this.slabAt, number, component, definition, caseIndex, duty);
    }
    if (this.renewal?.isOpen(number, caseIndex) === true) this.renewal.renew(number, caseIndex);
    const strip =
      this.strips.at(number) ??
      this.strips.put(number, this.wholeLeft(number) ?? newStrip(definition, this.plant.cases.length));
    const known = strip.slabs[caseIndex];
    if (known === underWay) throw new Error(`${component.tag}.${definition.name} depends on itself`);
    if (known !== undefined) return known;
    const clean = this.strips.leftIn(number, caseIndex);
    if (clean !== undefined) {
      fill(strip, caseIndex, clean);
      return clean;
    }
    strip.slabs[caseIndex] = underWay;
    const slab = this.make({ number, component, definition, caseIndex, duty });
    fill(strip, caseIndex, slab);
    return slab;
  }

  /** Takes a slab over from the base case or the earlier text, or computes it. */
  private make(wanted: Wanted): Slab {
    const { number, component, definition, caseIndex, duty } = wanted;
    const before = this.before(wanted, caseIndex);
    const base = caseIndex === 0 ? undefined : this.slabAt(number, component, definition, 0, duty);
    if (base !== undefined && this.lineage.alike(number, caseIndex)) return base;
    if (before !== undefined && this.stillHolds(before, caseIndex)) return this.takenOver(number, before, base);
    return this.anew(wanted, before, base);
  }

  /** Where nothing of the earlier text holds. */
  private anew(wanted: Wanted, before: Slab | undefined, base: Slab | undefined): Slab {
    const { number, component, definition, caseIndex, duty } = wanted;
    // What a case kept of its own in the earlier text it will hardly share with the base case now.
    const likely = before === undefined || before === this.before(wanted, 0);
    if (base !== undefined && likely && this.holdsInCase(base, caseIndex)) return base;
    this.made++;
    const known = (this.aligned ? before : undefined) ?? base;
    const computing = { number, component, definition, caseIndex, duty, graph: this, before, base, known };
    const { slab, recorded } = computeSlab(computing);
    if (!recorded) this.lineage.record(number, slab);
    return slab;
  }

  /** The columns of a value in all cases. */
  columns(component: Component, definition: Definition, duty: Component | undefined): readonly Slab[] {
    return this.strip(component, definition, duty).slabs as readonly Slab[];
  }

  /** The value at a point; NaN where it is unknown. */
  value(component: Component, result: Result, caseIndex: number, duty: Component | undefined, at: At): number {
    return this.slab(component, result, caseIndex, duty).values[pointIndex(result, at)] as number;
  }

  /** The worst of all; undefined where nothing is known. Ties go to the first case, then to the first duty. */
  worst(
    component: Component,
    result: Result,
    end: Result['worst'] = result.worst,
    duties: readonly Component[] = this.plant.duties,
  ): Worst | undefined {
    const under = result.underDuty ? duties : withoutDuty;
    return worstOf(under, duty => this.strip(component, result, duty), result, end);
  }

  /** Computes one point again and lists what it looked at, steps opened up to what they looked at in turn. */
  trace(
    component: Component,
    definition: Definition,
    caseIndex: number,
    duty: Component | undefined,
    at: At,
  ): readonly Noted[] {
    const notes: Noted[] = [];
    definition.compute(new Read(this, component, caseIndex, duty, notes, definition), at);
    return notes;
  }

  /**
   * Has somebody look at facts and values who may find something to say: `look` returns what to remember where nothing
   * was found. While nothing that was looked at changes, what it returned is returned again, of later texts too.
   */
  unlessQuiet(looker: Looker, look: () => readonly string[] | undefined): readonly string[] | undefined {
    return this.stillQuiet(looker) ?? this.listen(looker, look);
  }

  /** What somebody remembered who had nothing to say, and would have nothing to say now; undefined where that is open. */
  stillQuiet(looker: Looker): readonly string[] | undefined {
    return this.quiet.about(looker, this.renewal)?.remembered;
  }

  /** Has somebody look of whom nothing is known, and notes at what. */
  listen(looker: Looker, look: () => readonly string[] | undefined): readonly string[] | undefined {
    if (this.quiet.isLoud(looker)) {
      const remembered = look();
      if (remembered === undefined) this.quiet.noteLoud(looker);
      return remembered;
    }
    const { outcome, facts, strips } = this.watching.during(look);
    if (outcome === undefined) this.quiet.noteLoud(looker);
    else this.quiet.note(looker, { facts, strips, remembered: outcome });
    return outcome;
  }

  /** What all remembered who look for one thing in these places; undefined where one of them has to be asked. */
  allQuiet(what: string, places: readonly string[]): Remembered | undefined {
    return this.quiet.aboutAll(what, places);
  }

  /** Curves that were asked for a point beyond their ends, by the slabs in use. */
  outsideCurves(): readonly OutsideInCase[] {
    if (!this.lineage.outside) return [];
    if (this.renewal === undefined) return outsideOf(this.strips.slabs());
    const strips = [...this.asked.strips, ...Array.from(this.quiet.all(), looked => looked.strips).flat()];
    return outsideOf(
      slabsInUse(this.strips, this.plant.cases.length, strips, this.asked.columns, this.slabOf.bind(this)),
    );
  }

  /** The number of a strip, in the graphs of the lineage. */
  numberOf(tag: string, definition: Definition, duty: string | undefined): number {
    return this.numbers.of(tag, definition, duty);
  }

  /** The strip of a value with all cases. */
  private strip(component: Component, definition: Definition, duty: Component | undefined): Strip {
    const number = this.numberOf(component.tag, definition, duty?.tag);
    this.watching.strips?.add(number);
    const cases = this.plant.cases.length;
    if (this.aligned) this.asked.strips.add(number);
    const own = this.strips.at(number);
    if (own?.filled === cases) return own;
    const clean = this.wholeLeft(number);
    if (clean !== undefined) return this.strips.put(number, clean);
    if (this.watching.strips === undefined) this.fillStrip(number, component, definition, duty);
    else this.watching.apart(this, this.fillStrip, number, component, definition, duty);
    return this.strips.at(number)!;
  }

  private fillStrip(number: number, component: Component, definition: Definition, duty: Component | undefined): void {
    const cases = this.plant.cases.length;
    if (this.renewal?.isOpen(number, 0) === true) this.renewal.renew(number, 0);
    if (this.strips.at(number)?.filled === cases) return;
    for (let caseIndex = 0; caseIndex < cases; caseIndex++) this.slabAt(number, component, definition, caseIndex, duty);
  }

  /** The strips of an aligned graph, and which of them a changed fact or another topology may reach. */
  private takeOver(earlier: Graph, { changed, retold, inCases, sameNames }: FactChanges, size: number): StripTable {
    const cases = this.plant.cases.length;
    const sameTopology = this.newTopology === topologyParts.none;
    const topology = this.newTopology === topologyParts.shape ? [shapeItself, topologyItself] : [topologyItself];
    const others = sameTopology ? changed : [...changed, ...topology];
    const reached = this.lineage.goOn(this.plant.cases, others, size);
    const strips = new StripTable(size, {
      strips: earlier.strips.remainder(cases),
      reached,
      inCases: sameTopology ? inCases : undefined,
    });
    this.renewal = new Renewal(
      {
        cases,
        now: strips,
        before: earlier.strips,
        facts: differentFacts(changed, this.plant, earlier.plant),
        newTopology: this.newTopology,
        reached: reached.marks,
        reachedStrips: reached.strips,
        compute: this.computeAgain.bind(this),
        slabOf: this.slabOf.bind(this),
      },
      earlier.renewal,
    );
    // Who looks at the topology from outside is not known.
    if (sameNames && sameTopology) this.quiet.takeOver(earlier.quiet, [...changed, ...retold], reached.marks);
    return strips;
  }

  /** A strip that the earlier text has left with all its cases. */
  private wholeLeft(number: number): Strip | undefined {
    const left = this.strips.leftAt(number);
    return left?.filled === this.plant.cases.length ? left : undefined;
  }

  /** Of an aligned graph, where a slab of the earlier text holds no more. */
  private computeAgain(number: number, caseIndex: number, before: Slab): Slab {
    const { component, duty } = this.numbers.whose(number);
    const definition = this.strips.definition(number);
    const base = caseIndex === 0 ? undefined : this.slabAt(number, component, definition, 0, duty);
    if (base !== undefined && this.lineage.alike(number, caseIndex)) return base;
    return this.anew({ number, component, definition, caseIndex, duty }, before, base);
  }

  /** What the earlier text has in this place, in the case of the same name. */
  private before({ number, component, definition, duty }: Wanted, caseIndex: number): Slab | undefined {
    const { earlier } = this;
    if (earlier === undefined) return undefined;
    if (this.aligned) return earlier.strips.known(number, caseIndex);
    const caseBefore = earlier.caseIndex.get(this.plant.cases[caseIndex]!.name);
    if (caseBefore === undefined || earlier.plant.byTag.get(component.tag)?.kind !== component.kind) return undefined;
    if (duty !== undefined && !earlier.numbers.hasDuty(duty.tag)) return undefined;
    return earlier.strips.known(earlier.numberOf(component.tag, definition, duty?.tag), caseBefore);
  }

  /** Of a slab of the earlier text. */
  private stillHolds({ looked }: Slab, caseIndex: number): boolean {
    const { earlier, renewal } = this;
    if (earlier === undefined) return false;
    if (seesNewTopology(looked.topology, this.newTopology) || (looked.duties && !this.sameDuties)) return false;
    const caseBefore = this.aligned ? caseIndex : earlier.caseIndex.get(this.plant.cases[caseIndex]!.name)!;
    for (const { tag, property } of looked.facts) {
      if (factSeen(this.plant, caseIndex, tag, property) !== factSeen(earlier.plant, caseBefore, tag, property))
        return false;
    }
    for (const seen of looked.slabs) {
      if (renewal?.mayReach(seen.strip) === false) continue;
      const now = this.aligned ? this.slabOf(seen, caseIndex) : this.slabNow(seen, caseIndex);
      if (now === undefined || now.values !== earlier.strips.known(seen.strip, caseBefore)?.values) return false;
    }
    return true;
  }

  /** Of a slab of the base case: only what the case restates can differ. */
  private holdsInCase({ looked }: Slab, caseIndex: number): boolean {
    const { facts, failed } = this.plant.cases[caseIndex]!;
    // Loops that count: before code is compiled well, others make an object at each step.
    for (let index = 0; index < looked.facts.length; index++) {
      const { tag, property } = looked.facts[index]!;
      if (!facts.has(tag) && !failed.has(tag)) continue;
      if (factSeen(this.plant, caseIndex, tag, property) !== factSeen(this.plant, 0, tag, property)) return false;
    }
    for (let index = 0; index < looked.slabs.length; index++) {
      const seen = looked.slabs[index]!;
      if (this.slabOf(seen, caseIndex).values !== this.slabOf(seen, 0).values) return false;
    }
    return true;
  }

  /** What a computation of this lineage looks at. */
  private slabOf({ tag, definition, duty, strip }: LookedSlab, caseIndex: number): Slab {
    const known = this.strips.slab(strip, caseIndex);
    if (known !== undefined) return known;
    const of = duty === undefined ? undefined : this.plant.byTag.get(duty);
    return this.slabAt(strip, this.plant.byTag.get(tag)!, definition, caseIndex, of);
  }

  /** What is now where a computation of another lineage once looked. */
  private slabNow({ tag, definition, duty }: LookedSlab, caseIndex: number): Slab | undefined {
    const component = this.plant.byTag.get(tag);
    if (component === undefined || component.kind.name !== definition.on) return undefined;
    const of = duty === undefined ? undefined : this.plant.byTag.get(duty);
    if (duty !== undefined && of?.kind.name !== 'duty') return undefined;
    return this.slab(component, definition, caseIndex, of);
  }

  /** A slab of the earlier text with the numbers of this lineage; the same each time, since cases share slabs. */
  private takenOver(number: number, slab: Slab, base: Slab | undefined): Slab {
    if (this.aligned) return slab;
    let own = this.translations.get(slab);
    if (own === undefined) {
      const slabs = slab.looked.slabs.map(seen => {
        return { ...seen, strip: this.numberOf(seen.tag, seen.definition, seen.duty) };
      });
      own = { ...slab, looked: { ...slab.looked, slabs, lineage: this.lineage } };
      this.translations.set(slab, own);
    }
    // What the base case has is recorded already.
    if (own !== base) this.lineage.record(number, own);
    return own;
  }
}
