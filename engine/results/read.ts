// What a derived value's function may look at: facts, other values, the topology. Every look is recorded, so that the
// pulls are the derivation and a value is computed again only when something that it looked at has changed.
import {
  type Component,
  type CurveFact,
  type Fact,
  factIn,
  failedIn,
  type NumberFact,
  type SurfaceFact,
} from '../model/plant.ts';
import type { Route, RouteShape } from '../model/topology.ts';
import { curveAt, evaluateCurve } from '../units/curve.ts';
import { figureOf } from './columns.ts';
import {
  type At,
  type Definition,
  type Figure,
  type Figures,
  pointIndex,
  pointsOf,
  type Result,
  type Step,
} from './definition.ts';
import { topologyParts } from './facts-kept.ts';
import type { Graph, Slab } from './graph.ts';
import { type LookedAt, Looks } from './looks.ts';
import { type Corner, factNoted, type Noted, type OutsideCurve } from './noted.ts';
import { type Reading, sliceOf } from './reading.ts';
import { type Formula, numbersOf, placeIn } from './taken.ts';
import { withoutDuty } from './worst.ts';

export class Read {
  readonly self: Component;
  readonly duty: Component | undefined;
  readonly outside: OutsideCurve[] = [];
  /** A fact was looked at that the author stated, but nobody understood: what is computed with it is unknown. */
  absorbed = false;
  private readonly looks: Looks;
  private open: Graph | undefined;
  private readonly caseIndex: number;
  private readonly notes: Noted[] | undefined;
  private readonly tracing: Definition | undefined;

  /**
   * With `notes` everything that is looked at is noted there; `tracing` is the value whose derivation it is, `before`
   * what an earlier computation of the value looked at.
   */
  constructor(
    graph: Graph,
    self: Component,
    caseIndex: number,
    duty: Component | undefined,
    notes?: Noted[],
    tracing?: Definition,
    before?: LookedAt,
  ) {
    this.open = graph;
    this.self = self;
    this.caseIndex = caseIndex;
    this.duty = duty;
    this.notes = notes;
    this.tracing = tracing;
    this.looks = new Looks(graph.lineage, before);
  }

  private get graph(): Graph {
    if (this.open === undefined) throw new Error(`a value of ${this.self.tag} looks after it was computed`);
    return this.open;
  }

  /** Nothing more is looked at: what a value keeps of its reader does not keep the whole graph. */
  close(): void {
    this.open = undefined;
  }

  lookedAt(formula?: Formula): LookedAt {
    return this.looks.lookedAt(formula);
  }

  /** All points of another value, for a formula. */
  column(component: Component, definition: Definition): Slab['values'] {
    return this.slab(component, definition, this.duty)!.values;
  }

  /** What was looked at so far is shared by all points. */
  markStart(): void {
    this.looks.markStart();
  }

  /** Begins another point of the same value. */
  startAgain(): void {
    this.absorbed = false;
    this.looks.startAgain();
  }

  /** The duty whose values these are. Only values that vary with the duty may ask. */
  get demand(): Component {
    if (this.duty === undefined) throw new Error(`a value of ${this.self.tag} asks for a duty without varying with it`);
    return this.duty;
  }

  get site(): Component {
    return this.graph.plant.site;
  }

  get practice(): Component {
    return this.graph.plant.practice;
  }

  get duties(): readonly Component[] {
    this.looks.duties = true;
    return this.graph.plant.duties;
  }

  component(tag: string): Component | undefined {
    return this.graph.plant.byTag.get(tag);
  }

  /** The route of a converter; of any other component the first that passes it. */
  route(component: Component, unitLost?: boolean): Route | undefined {
    return this.routes(component, unitLost)[0];
  }

  /** With one converter unit lost where the duty asks for that: its own routes are then none. */
  routes(component: Component, unitLost = this.unitLost()): readonly Route[] {
    this.looks.topology = topologyParts.all;
    return this.graph.routesOf(component.tag, unitLost);
  }

  /** As `routes`, whatever part of what they share each of them carries. */
  shapes(component: Component, unitLost = this.unitLost()): readonly RouteShape[] {
    this.lookAtShape();
    return this.graph.routesOf(component.tag, unitLost);
  }

  private lookAtShape(): void {
    if (this.looks.topology === topologyParts.none) this.looks.topology = topologyParts.shape;
  }

  /** Whether a duty must hold with one converter unit lost. */
  unitLost(duty: Component | undefined = this.duty): boolean {
    const value = duty === undefined ? undefined : this.fact(duty, 'lost')?.value;
    return value?.type === 'word' && value.word === 'unit';
  }

  allRoutes(): readonly Route[] {
    this.looks.topology = topologyParts.all;
    return this.graph.plant.topology.routes;
  }

  /** A number in SI at a corner of its spread; NaN where nothing is stated or assumed. */
  number(component: Component, property: string, corner: Corner = 'nominal'): number {
    const fact = this.fact(component, property);
    const value = fact?.value.type === 'number' ? fact.value[corner] : Number.NaN;
    if (this.notes !== undefined && fact !== undefined) this.note(component, fact, value, corner);
    return value;
  }

  /** The first axis of a curve; undefined for anything else. */
  axisOf(component: Component, property: string): string | undefined {
    const value = this.fact(component, property)?.value;
    return value?.type === 'curve' ? value.axes[0] : undefined;
  }

  /** All axes of a curve; none of anything else. */
  axesOf(component: Component, property: string): readonly string[] {
    const value = this.fact(component, property)?.value;
    return value?.type === 'curve' || value?.type === 'surface' ? value.axes : [];
  }

  /** What a clause behind a value says, in SI; NaN without it. */
  clause(component: Component, property: string, word: string): number {
    const value = this.fact(component, property)?.value;
    return value !== undefined && 'clauses' in value ? (value.clauses[word] ?? Number.NaN) : Number.NaN;
  }

  has(component: Component, property: string): boolean {
    return this.fact(component, property) !== undefined;
  }

  /** A choice, or the tag that a reference names. */
  word(component: Component, property: string): string | undefined {
    const fact = this.fact(component, property);
    if (this.notes !== undefined && fact !== undefined) this.note(component, fact, Number.NaN, 'nominal');
    return fact?.value.type === 'word' ? fact.value.word : undefined;
  }

  /** Whole number fact: form, clauses, per. */
  numberFact(component: Component, property: string): NumberFact | undefined {
    const fact = this.fact(component, property);
    if (this.notes !== undefined && fact?.value.type === 'number')
      this.note(component, fact, fact.value.nominal, 'nominal');
    return fact?.value.type === 'number' ? fact.value : undefined;
  }

  /** A number or a curve as a function; undefined where nothing is stated. */
  reading(component: Component, property: string): Reading | undefined {
    const fact = this.fact(component, property);
    if (fact === undefined) return undefined;
    const { value } = fact;
    if (value.type === 'number') {
      if (this.notes !== undefined) this.note(component, fact, value.nominal, 'nominal');
      return { of: () => value.nominal, knots: [], axis: undefined };
    }
    if (value.type !== 'curve') return undefined;
    if (this.notes !== undefined) this.note(component, fact, Number.NaN, 'nominal');
    // What is not known has no value on a curve either.
    const of = (x: number): number => (Number.isNaN(x) ? Number.NaN : curveAt(value.curve, x));
    return { of, knots: value.curve.x, axis: value.axes[0] };
  }

  /** As `reading` along one axis; what varies with another is taken at `other` there. */
  along(component: Component, property: string, axis: string, other: number): Reading | undefined {
    const value = this.fact(component, property)?.value;
    if (value?.type === 'surface') return this.slice(component, property, value, axis, other);
    const reading = this.reading(component, property);
    if (reading === undefined || reading.axis === undefined || reading.axis === axis) return reading;
    const constant = this.at(component, property, other);
    return Number.isNaN(constant) ? undefined : { of: () => constant, knots: [], axis: undefined };
  }

  /** Keeps for a finding that a reading was asked beyond its ends. */
  reach(component: Component, property: string, reading: Reading, x: number): void {
    const first = reading.knots[0];
    const last = reading.knots.at(-1);
    if (reading.axis === undefined || first === undefined || last === undefined || !(x < first || x > last)) return;
    this.outside.push({ tag: component.tag, property, axis: reading.axis, x, first, last });
  }

  private slice(
    component: Component,
    property: string,
    value: SurfaceFact,
    axis: string,
    other: number,
  ): Reading | undefined {
    const fact = this.fact(component, property)!;
    if (this.notes !== undefined) this.note(component, fact, Number.NaN, 'nominal');
    if (Number.isNaN(other)) return undefined;
    const { reading, outside } = sliceOf(value, axis, other);
    if (outside !== undefined) this.outside.push({ tag: component.tag, property, ...outside });
    return reading;
  }

  /** A number, or a curve at x; a point beyond the curve's ends is kept for a finding. */
  at(component: Component, property: string, x: number): number {
    const fact = this.fact(component, property);
    if (fact === undefined) return Number.NaN;
    const { value } = fact;
    if (value.type === 'number') {
      if (this.notes !== undefined) this.note(component, fact, value.nominal, 'nominal');
      return value.nominal;
    }
    if (value.type !== 'curve' || Number.isNaN(x)) return Number.NaN;
    const result = this.onCurve(component, fact, value, x);
    if (this.notes !== undefined) this.note(component, fact, result, 'nominal');
    return result;
  }

  perUnit(component: Component, property: string): 'cell' | 'string' | undefined {
    const value = this.fact(component, property)?.value;
    return value?.type === 'number' || value?.type === 'curve' || value?.type === 'surface' ? value.per : undefined;
  }

  /** Another value of the same case; coordinates default to the point that is being computed. */
  value(component: Component, result: Result, at: At, duty: Component | undefined = this.duty): number {
    const slab = this.slab(component, result, duty);
    const value = slab === undefined ? Number.NaN : (slab.values[pointIndex(result, at)] as number);
    const under = result.underDuty ? duty : undefined;
    this.notes?.push({ kind: 'value', component, result, value, duty: under, at });
    return value;
  }

  /** One of the figures of another step. */
  figure(component: Component, figure: Figure, at: At, duty: Component | undefined = this.duty): number {
    const slab = this.slab(component, figure.of, duty);
    if (slab === undefined) return Number.NaN;
    if (this.notes !== undefined) this.noteStep(this.notes, component, figure.of, duty, at);
    return slab.values[placeIn(figure, at)] as number;
  }

  step<T>(component: Component, step: Step<T>, at: At, duty: Component | undefined = this.duty): T | undefined {
    const slab = this.slab(component, step as Step<unknown>, duty);
    if (slab === undefined) return undefined;
    if (this.notes !== undefined) this.noteStep(this.notes, component, step as Step<unknown>, duty, at);
    return slab.values[pointIndex(step as Step<unknown>, at)] as T;
  }

  private noteStep(
    notes: Noted[],
    component: Component,
    step: Step<unknown> | Figures,
    duty: Component | undefined,
    at: At,
  ): void {
    const shown = step.shownAs?.() ?? [];
    const itself = this.tracing !== undefined && shown.some(result => result === this.tracing);
    if (shown.length === 0 || itself) {
      step.compute(
        new Read(this.graph, component, this.caseIndex, step.underDuty ? duty : undefined, notes, this.tracing),
        at,
      );
      return;
    }
    for (const result of shown) {
      const of = result.underDuty ? duty : undefined;
      const value = this.graph.value(component, result, this.caseIndex, of, at);
      if (!Number.isNaN(value)) notes.push({ kind: 'value', component, result, value, duty: of, at });
    }
  }

  /** The worst of another value in this case, over all its duties and points; NaN where it is known nowhere. */
  worst(component: Component, result: Result, end: 'highest' | 'lowest' = result.worst): number {
    return this.extreme(component, result, end, result.underDuty ? this.duties : withoutDuty);
  }

  /** The highest under one duty. */
  worstUnder(component: Component, result: Result, duty: Component): number {
    return this.extreme(component, result, 'highest', [duty]);
  }

  private extreme(
    component: Component,
    result: Result,
    end: 'highest' | 'lowest',
    duties: readonly (Component | undefined)[],
  ): number {
    const points = pointsOf(result);
    // Unless somebody wants to know how it comes about, what is nothing but a figure is looked at there.
    const { definition, step, first } = numbersOf((this.notes === undefined ? figureOf(result) : undefined) ?? result);
    let worst = Number.NaN;
    let where: { duty: Component | undefined; at: At } | undefined;
    for (const duty of duties) {
      const values = this.slab(component, definition, duty)?.values as readonly number[] | undefined;
      for (let index = 0; values !== undefined && index < points.length; index++) {
        const value = values[first + step * index]!;
        if (Number.isNaN(value) || !(Number.isNaN(worst) || (end === 'highest' ? value > worst : value < worst)))
          continue;
        worst = value;
        if (this.notes !== undefined) where = { duty, at: points[index]! };
      }
    }
    if (where !== undefined) this.notes?.push({ kind: 'value', component, result, value: worst, ...where });
    return worst;
  }

  /** All components; whoever asks is computed again when one comes or goes. */
  get components(): readonly Component[] {
    this.lookAtShape();
    return this.graph.plant.components;
  }

  private fact(component: Component, property: string): Fact | undefined {
    let place = this.looks.placeOfFact(component.tag, property);
    if (place < 0) {
      const plantCase = this.graph.plant.cases[this.caseIndex]!;
      const found = factIn(plantCase, component, property);
      const failed = found === undefined && failedIn(plantCase, component, property);
      place = this.looks.addFact(component.tag, property, found, !failed);
    }
    if (!this.looks.understoodAt(place)) this.absorbed = true;
    return this.looks.factAt(place);
  }

  private slab(component: Component, definition: Definition, duty: Component | undefined): Slab | undefined {
    const of = definition.underDuty ? duty : undefined;
    if (definition.underDuty && of === undefined)
      throw new Error(`${this.self.tag} pulls ${component.tag}.${definition.name} without a duty`);
    if (definition.on !== component.kind.name)
      throw new Error(`${component.tag} is no ${definition.on}: it has no ${definition.name}`);
    const known = this.looks.slab(component.tag, definition, of?.tag);
    if (known !== undefined) return known;
    const expected = this.looks.stripExpected(component.tag, definition, of?.tag);
    const strip = expected ?? this.graph.numberOf(component.tag, definition, of?.tag);
    const slab = this.graph.slabAt(strip, component, definition, this.caseIndex, of);
    this.looks.addSlab(component.tag, definition, of?.tag, strip, slab);
    return slab;
  }

  private onCurve(component: Component, fact: Fact, value: CurveFact, x: number): number {
    const { value: y, outside, first, last } = evaluateCurve(value.curve, x);
    if (outside !== undefined)
      this.outside.push({
        tag: component.tag,
        property: fact.property.name,
        axis: value.axes[0] ?? 'x',
        x,
        first,
        last,
      });
    return y;
  }

  private note(component: Component, fact: Fact, value: number, corner: Corner): void {
    this.notes?.push(factNoted(component, fact, value, corner));
  }
}
