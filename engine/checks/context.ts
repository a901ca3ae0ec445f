// What a check may ask of an analysis, and how it hands over a finding.
import { exemplars } from '../../grammar/exemplars.ts';
import type { Finding, Fix, JudgedNumber, Place, PointView, RelatedPlace, Severity } from '../finding.ts';
import { type Case, type Component, type Fact, factIn, type Plant } from '../model/plant.ts';
import {
  type At,
  type Definition,
  directions,
  type Figure,
  type Figures,
  type Limit,
  pointsOf,
  type Result,
  type Step,
} from '../results/definition.ts';
import type { Graph } from '../results/graph.ts';
import { Read } from '../results/read.ts';
import { type Worst, withoutDuty } from '../results/worst.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import type { Check } from './check.ts';
import { formsIn } from './island-judgement.ts';
import { pointView } from './point-view.ts';
import { PracticeLimit, writtenOut } from './practice-limit.ts';

/** One value at one point. */
export interface Spot {
  readonly component: Component;
  readonly result: Result;
  readonly value: number;
  readonly caseIndex: number;
  readonly duty: Component | undefined;
  readonly at: At;
}

export interface Saying {
  readonly severity: Severity;
  readonly message: string;
  readonly component: Component;
  readonly place: Place;
  readonly related?: readonly RelatedPlace[];
  readonly spot?: Spot | undefined;
  readonly limit?: JudgedNumber | undefined;
  readonly point?: PointView | undefined;
  readonly fixes?: readonly Fix[];
  /** Replaces the check's own, where only some of its findings are a hazard. */
  readonly hazard?: boolean;
}

const nothing: readonly string[] = [];

type Contributor = readonly [component: Component, property: string, message: string];

export class CheckContext {
  readonly plant: Plant;
  readonly graph: Graph;
  readonly findings: Finding[] = [];
  /** `T1.loading` and its like: every result whose worst value the check has looked for. */
  readonly judged = new Set<string>();
  private readonly check: Check;

  constructor(plant: Plant, graph: Graph, check: Check) {
    this.plant = plant;
    this.graph = graph;
    this.check = check;
    exemplars.check = this;
  }

  get cases(): readonly Case[] {
    return this.plant.cases;
  }

  /**
   * Judges several things one by one, of each of which only few facts and values tell: again only once one of these has
   * changed, or while there is something to say. A name stands for whatever else is looked at, and no other is like it.
   */
  judgeEach<T>(all: readonly T[], nameOf: (one: T) => string, judge: (one: T) => void): void {
    const names = all.map(nameOf);
    if (this.graph.allQuiet(this.check.code, names) !== undefined) return;
    for (const [index, one] of all.entries()) {
      const before = this.findings.length;
      this.graph.unlessQuiet({ what: this.check.code, at: names[index]! }, () => {
        judge(one);
        return this.findings.length === before ? nothing : undefined;
      });
    }
  }

  component(tag: string | undefined): Component | undefined {
    return tag === undefined ? undefined : this.plant.byTag.get(tag);
  }

  say(saying: Saying): void {
    const { spot } = saying;
    this.findings.push({
      code: this.check.code,
      severity: saying.severity,
      hazard: saying.hazard ?? this.check.hazard === true,
      message: saying.message,
      subject: saying.component.tag,
      place: saying.place,
      related: saying.related ?? [],
      value: spot === undefined ? undefined : judged(spot),
      limit: writtenOut(saying.limit),
      point: saying.point ?? (spot === undefined ? undefined : pointView(this.graph, spot)),
      source: this.check.source,
      fixes: saying.fixes ?? [],
    });
  }

  /** Every known value of a result, over all cases, points and duties, or under one duty, or in some cases. */
  *spots(
    component: Component,
    result: Result,
    under?: Component,
    inCase?: (caseIndex: number) => boolean,
  ): Generator<Spot> {
    this.judged.add(`${component.tag}.${result.name}`);
    const every = under === undefined ? this.plant.duties : [under];
    const duties = result.underDuty ? every : [undefined];
    const whole = inCase === undefined ? duties.map(duty => this.graph.columns(component, result, duty)) : undefined;
    const points = pointsOf(result);
    for (let caseIndex = 0; caseIndex < this.cases.length; caseIndex++) {
      if (inCase?.(caseIndex) === false) continue;
      for (let index = 0; index < duties.length; index++) {
        const duty = duties[index];
        const { values } = whole?.[index]?.[caseIndex] ?? this.graph.slab(component, result, caseIndex, duty);
        for (let point = 0; point < points.length; point++) {
          const value = values[point] as number;
          if (!Number.isNaN(value)) yield { component, result, value, caseIndex, duty, at: points[point]! };
        }
      }
    }
  }

  /** The values of a step in one case at all its points. */
  steps<T>(component: Component, step: Step<T>, caseIndex: number, duty?: Component): readonly T[] {
    return this.graph.slab(component, step as Step<unknown>, caseIndex, duty).values as readonly T[];
  }

  /** One of the figures of a step in one case at all its points. */
  figures(component: Component, { of, place }: Figure, caseIndex: number, duty?: Component): readonly number[] {
    const { values } = this.graph.slab(component, of, caseIndex, duty);
    return (values as readonly number[]).filter((_, index) => index % of.width === place);
  }

  /** The columns of all cases; the same list as long as they are the same columns. */
  columns<T>(component: Component, step: Step<T> | Figures, duty: Component) {
    return this.graph.columns(component, step as Definition, duty);
  }

  /** The worst value; undefined where none is known. Ties go to the first, so to the base case. */
  worst(component: Component, result: Result, accept?: (spot: Spot) => boolean): Spot | undefined {
    this.judged.add(`${component.tag}.${result.name}`);
    if (accept !== undefined) {
      const sense = result.worst === 'highest' ? 1 : -1;
      return this.furthest(component, result, value => sense * value, Number.NEGATIVE_INFINITY, accept);
    }
    const worst = this.graph.worst(component, result);
    return worst && spotOf(component, result, worst);
  }

  /**
   * The worst value past the limit of its own case; undefined where none is. Where cases state limits of their own, the
   * one furthest past: what holds in the worst case may break a narrower limit in another.
   */
  pastLimit(
    component: Component,
    result: Result,
    limitIn: (caseIndex: number) => number,
    accept?: (spot: Spot) => boolean,
  ): Spot | undefined {
    const limits = this.cases.map((_, caseIndex) => limitIn(caseIndex));
    if (limits.every(Number.isNaN)) {
      this.judged.add(`${component.tag}.${result.name}`);
      return undefined;
    }
    const sense = result.worst === 'highest' ? 1 : -1;
    const excess = (value: number, caseIndex: number): number => sense * (value - limits[caseIndex]!);
    if (accept === undefined && limits.every(limit => Object.is(limit, limits[0]))) {
      const worst = this.worst(component, result);
      return worst !== undefined && excess(worst.value, worst.caseIndex) > 0 ? worst : undefined;
    }
    this.judged.add(`${component.tag}.${result.name}`);
    return this.furthest(component, result, excess, 0, accept);
  }

  /** The accepted value whose measure is highest, and above `least`; the first of several. */
  private furthest(
    component: Component,
    result: Result,
    measure: (value: number, caseIndex: number) => number,
    least: number,
    accept: ((spot: Spot) => boolean) | undefined,
  ): Spot | undefined {
    const duties = result.underDuty ? this.plant.duties : withoutDuty;
    const columns = duties.map(duty => this.graph.columns(component, result, duty));
    const points = pointsOf(result);
    let most = least;
    let furthest: Spot | undefined;
    for (let caseIndex = 0; caseIndex < this.cases.length; caseIndex++) {
      for (let index = 0; index < duties.length; index++) {
        const values = columns[index]![caseIndex]!.values as readonly number[];
        for (let point = 0; point < points.length; point++) {
          const value = values[point]!;
          const measured = measure(value, caseIndex);
          if (!(measured > most)) continue;
          const spot = { component, result, value, caseIndex, duty: duties[index], at: points[point]! };
          if (accept !== undefined && !accept(spot)) continue;
          most = measured;
          furthest = spot;
        }
      }
    }
    return furthest;
  }

  /** The worst value under some of the duties. */
  worstUnder(component: Component, result: Result, duties: readonly Component[]): Spot | undefined {
    this.judged.add(`${component.tag}.${result.name}`);
    const worst = this.graph.worst(component, result, result.worst, duties);
    return worst && spotOf(component, result, worst);
  }

  /** Another result at the same point. */
  beside(spot: Spot, component: Component, result: Result, at: At = spot.at): number {
    return this.graph.value(component, result, spot.caseIndex, result.underDuty ? spot.duty : undefined, at);
  }

  /** A limit of the practice in the spot’s case. */
  practice(name: string, caseIndex = 0): PracticeLimit {
    const { practice } = this.plant;
    const fact = factIn(this.cases[caseIndex]!, practice, name) ?? practice.facts.get(name);
    return new PracticeLimit(practice.tag, name, fact);
  }

  fact(component: Component, property: string, caseIndex = 0): Fact | undefined {
    return factIn(this.cases[caseIndex]!, component, property);
  }

  /** Whether a fact is known in any case. */
  states(component: Component, property: string): boolean {
    return (
      component.facts.has(property) || this.cases.some(({ facts }) => facts.get(component.tag)?.has(property) === true)
    );
  }

  number(
    component: Component,
    property: string,
    corner: 'low' | 'nominal' | 'high' = 'nominal',
    caseIndex = 0,
  ): number {
    const value = this.fact(component, property, caseIndex)?.value;
    return value?.type === 'number' ? value[corner] : Number.NaN;
  }

  /** A reader of the case, for what only results know. */
  read(component: Component, caseIndex = 0, duty?: Component): Read {
    return new Read(this.graph, component, caseIndex, duty);
  }

  /** Where the author can act on a fact: its value, the `is` through which it came, or the tag where it is missing. */
  place(component: Component, property: string, caseIndex = 0): Place {
    const fact = this.fact(component, property, caseIndex);
    if (fact?.inherited === true && component.basePlace !== undefined) return component.basePlace;
    return fact?.whole ?? component.place;
  }

  /** The value of a fact alone, for a fix; undefined where it stands neither in the component itself nor in the case. */
  valuePlace(component: Component, property: string, caseIndex = 0): Place | undefined {
    const fact = this.fact(component, property, caseIndex);
    return fact === undefined || fact.inherited ? undefined : fact.place;
  }

  /** Related places for facts that contribute, those of parts included, in a case, which may state a fact of its own. */
  related(caseIndex: number, ...contributors: readonly Contributor[]): readonly RelatedPlace[] {
    return contributors.flatMap(([component, property, message]) => {
      const place = this.fact(component, property, caseIndex)?.whole;
      return place === undefined ? [] : [{ place, message }];
    });
  }

  /** The duty that asks for what a spot says; nothing where it depends on none. */
  duty({ duty, caseIndex }: Spot, message = 'This duty asks for it.'): readonly RelatedPlace[] {
    if (duty === undefined) return [];
    const way = this.fact(duty, 'discharge', caseIndex) === undefined ? 'charge' : 'discharge';
    return this.related(caseIndex, [duty, way, message]);
  }

  /** "in case worn, during start_peak, at the highest network voltage", as far as it matters; empty in the base case. */
  where(spot: Spot): string {
    const words: string[] = [];
    if (spot.duty !== undefined) words.push(`during ${spot.duty.tag}${this.unitLost(spot)}`);
    if (spot.result.axes.includes('voltage') && !this.holdsOneVoltage(spot))
      words.push(`at the ${['lowest', 'nominal', 'highest'][spot.at.voltage]} network voltage`);
    if (spot.result.axes.includes('soc'))
      words.push(`at ${show(pointView(this.graph, spot).soc, dimensions.ratio)} state of charge`);
    if (spot.result.axes.includes('direction') && this.directionMatters(spot))
      words.push(`${directions[spot.at.direction]} reactive power`);
    const { name } = this.cases[spot.caseIndex]!;
    if (name !== '') words.push(`in case ${name}`);
    return words.length === 0 ? '' : ` ${words.join(', ')}`;
  }

  /** "in case worn" with a blank before it; nothing in the base case. */
  inCase(caseIndex: number): string {
    const { name } = this.cases[caseIndex]!;
    return name === '' ? '' : ` in case ${name}`;
  }

  /** The case in which a number is highest, the first of several; one in which it is not known is none. */
  highestCase(of: (caseIndex: number) => number): number {
    let highest = Number.NEGATIVE_INFINITY;
    let found = 0;
    for (let caseIndex = 0; caseIndex < this.cases.length; caseIndex++) {
      const number = of(caseIndex);
      if (!(number > highest)) continue;
      highest = number;
      found = caseIndex;
    }
    return found;
  }

  /** What binds the value there, as a word. */
  limit({ component, result, caseIndex, duty, at }: Spot): Limit | undefined {
    return result.limit?.(new Read(this.graph, component, caseIndex, duty), at);
  }

  show(spot: Spot): string {
    return show(spot.value, dimensions[spot.result.dimension]);
  }

  private unitLost({ component, caseIndex, duty }: Spot): string {
    const { rest } = this.plant.topology;
    if (rest === undefined || rest.routes.length === 0) return '';
    return this.read(component, caseIndex, duty).unitLost() ? ` with ${rest.lost} lost` : '';
  }

  /** A duty that forms the voltage holds the nominal one, unless it states a span. */
  private holdsOneVoltage({ duty, caseIndex }: Spot): boolean {
    if (duty === undefined || this.fact(duty, 'voltage', caseIndex) !== undefined) return false;
    return formsIn(this.cases[caseIndex]!, duty);
  }

  private directionMatters(spot: Spot): boolean {
    const other = { direction: 1 - spot.at.direction, voltage: spot.at.voltage, soc: spot.at.soc };
    const value = this.beside(spot, spot.component, spot.result, other);
    return !Number.isNaN(value) && value !== spot.value;
  }
}

export function spotOf(component: Component, result: Result, { value, caseIndex, duty, at }: Worst): Spot {
  return { component, result, value, caseIndex, duty, at };
}

export function worstSpot(
  spots: Iterable<Spot>,
  result: Result,
  accept: (spot: Spot) => boolean = () => true,
): Spot | undefined {
  let worst: Spot | undefined;
  for (const spot of spots) {
    const worse =
      worst === undefined || (result.worst === 'highest' ? spot.value > worst.value : spot.value < worst.value);
    if (worse && accept(spot)) worst = spot;
  }
  return worst;
}

export function judged(spot: Spot): JudgedNumber {
  return {
    name: `${spot.component.tag}.${spot.result.name}`,
    number: spot.value,
    display: show(spot.value, dimensions[spot.result.dimension]),
  };
}
