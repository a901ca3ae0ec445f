// The public table of derived values: rows for people and programs, derivations on demand.
import type {
  Capability,
  Derivation,
  DerivationInput,
  LimitView,
  StretchView,
  ValueKey,
  ValueRow,
  ValueTable,
} from '../analysis.ts';
import { judged, type Spot } from '../checks/context.ts';
import { pointView } from '../checks/point-view.ts';
import type { PointView } from '../finding.ts';
import type { Component, Fact } from '../model/plant.ts';
import { type Dimension, dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { boundedWorst } from './bounded-worst.ts';
import { type CapabilityOutline, capability } from './capability.ts';
import { type Limit, limitWords, pointsOf, type Result, type Step, type Stretch, voltages } from './definition.ts';
import type { Graph } from './graph.ts';
import { resultOf, resultsOf } from './index.ts';
import type { Noted } from './noted.ts';
import { Read } from './read.ts';

export const emptyValues: ValueTable = {
  names: [],
  namesOf: () => [],
  worst: () => undefined,
  all: () => [],
  capability: () => undefined,
  explain: () => undefined,
};

export function valueTable(graph: Graph): ValueTable {
  return new Table(graph);
}

/** A class: every object literal with a getter of its own holds what that sees until the old part of the heap is swept. */
class Table implements ValueTable {
  private readonly graph: Graph;
  private allNames: readonly string[] | undefined;
  /** Hover, code lens and values beside the text ask for the same ones, again and again. */
  private readonly rows = new Map<string, ValueRow | undefined>();

  constructor(graph: Graph) {
    this.graph = graph;
  }

  get names(): readonly string[] {
    this.allNames ??= this.graph.plant.components.flatMap(namesOf);
    return this.allNames;
  }

  namesOf(tag: string): readonly string[] {
    const component = this.graph.plant.byTag.get(tag);
    return component === undefined ? [] : namesOf(component);
  }

  worst(name: string): ValueRow | undefined {
    if (this.rows.has(name)) return this.rows.get(name);
    const spot = worstOf(this.graph, name);
    const row = spot && new Row(this.graph, spot);
    this.rows.set(name, row);
    return row;
  }

  all(name: string): readonly ValueRow[] {
    return spotsOf(this.graph, name).map(spot => new Row(this.graph, spot));
  }

  capability(converter: string, caseName = ''): Capability | undefined {
    return capabilityOf(this.graph, converter, caseName);
  }

  explain(key: ValueKey): Derivation | undefined {
    const spot = spotFor(this.graph, key);
    return spot && new Explained(this.graph, spot);
  }
}

/** The value at a point. What takes work is done for whoever looks: tables of many rows don't. */
class Row implements ValueRow {
  readonly name: string;
  readonly meaning: string;
  readonly value: number | undefined;
  readonly unit: string;
  readonly display: string;
  readonly point: PointView;
  readonly worst: Result['worst'];
  readonly formula: string;
  readonly source: string;
  // Out of sight of whoever lists what a row holds.
  readonly #graph: Graph;
  readonly #spot: Spot;
  #inputs: readonly DerivationInput[] | undefined;

  constructor(graph: Graph, spot: Spot) {
    const { component, result, value } = spot;
    this.name = `${component.tag}.${result.name}`;
    this.meaning = result.meaning;
    this.value = known(value);
    this.unit = dimensions[result.dimension].unit;
    this.display = judged(spot).display;
    this.point = pointView(graph, spot);
    this.worst = result.worst;
    this.formula = result.formula;
    this.source = result.source;
    this.#graph = graph;
    this.#spot = spot;
  }

  get inputs(): readonly DerivationInput[] {
    this.#inputs ??= inputsOf(this.#graph, this.#spot);
    return this.#inputs;
  }

  get limit(): LimitView | undefined {
    const { result, value, at } = this.#spot;
    const read = readerOf(this.#graph, this.#spot);
    return Number.isNaN(value) ? undefined : limitView(read && result.limit?.(read, at));
  }

  get stretches(): readonly StretchView[] {
    const { result, at } = this.#spot;
    const read = readerOf(this.#graph, this.#spot);
    const stretches = read === undefined ? undefined : result.stretches?.(read, at);
    return (stretches ?? []).map(stretch => stretchView(stretch, result));
  }
}

class Explained extends Row implements Derivation {
  readonly subject: string;
  readonly corners: string;

  constructor(graph: Graph, spot: Spot) {
    super(graph, spot);
    this.subject = spot.component.tag;
    this.corners = spot.result.corners;
  }
}

function namesOf({ tag, kind }: Component): readonly string[] {
  return resultsOf(kind.name).map(result => `${tag}.${result.name}`);
}

function capabilityOf(graph: Graph, tag: string, caseName: string): Capability | undefined {
  const converter = graph.plant.byTag.get(tag);
  const caseIndex = graph.plant.cases.findIndex(({ name }) => name === caseName);
  if (converter?.kind.name !== 'converter' || caseIndex < 0) return undefined;
  const slab = graph.slab(converter, capability as Step<unknown>, caseIndex, undefined);
  const outlines = (slab.values as readonly (CapabilityOutline | undefined)[]).flatMap((found, index) => {
    if (found === undefined) return [];
    const { networkVoltage, outline } = found;
    const points = outline.ok ? outline.points.map(({ x, y, limit }) => ({ active: x, reactive: y, limit })) : [];
    return [{ voltage: voltages[index]!, networkVoltage, points, empty: outline.ok ? undefined : outline.limit }];
  });
  if (outlines.length === 0) return undefined;
  return { converter: tag, case: caseName === '' ? undefined : caseName, outlines };
}

function locate(graph: Graph, name: string): { component: Component; result: Result } | undefined {
  const dot = name.lastIndexOf('.');
  const component = graph.plant.byTag.get(name.slice(0, dot));
  const result = component === undefined ? undefined : resultOf(component.kind.name, name.slice(dot + 1));
  return component === undefined || result === undefined ? undefined : { component, result };
}

/** All points, those without a value too. */
function spotsOf(graph: Graph, name: string): readonly Spot[] {
  const found = locate(graph, name);
  if (found === undefined) return [];
  const { component, result } = found;
  const duties = result.underDuty ? graph.plant.duties : [undefined];
  return graph.plant.cases.flatMap((_, caseIndex) =>
    duties.flatMap(duty => {
      const { values } = graph.slab(component, result, caseIndex, duty);
      return pointsOf(result).map((at, index) => ({
        component,
        result,
        value: values[index] as number,
        caseIndex,
        duty,
        at,
      }));
    }),
  );
}

/** The worst known value; a spot without a value where it is known nowhere. */
function worstOf(graph: Graph, name: string): Spot | undefined {
  const found = locate(graph, name);
  if (found === undefined) return undefined;
  const worst = boundedWorst(graph, found.component, found.result);
  if (worst !== undefined) return { ...found, ...worst };
  const duty = found.result.underDuty ? graph.plant.duties[0] : undefined;
  return { ...found, value: Number.NaN, caseIndex: 0, duty, at: pointsOf(found.result)[0]! };
}

function spotFor(graph: Graph, key: ValueKey): Spot | undefined {
  if (key.point === undefined) return worstOf(graph, key.name);
  const wanted = JSON.stringify(key.point);
  return (
    spotsOf(graph, key.name).find(spot => JSON.stringify(pointView(graph, spot)) === wanted) ?? worstOf(graph, key.name)
  );
}

function inputsOf(graph: Graph, spot: Spot): readonly DerivationInput[] {
  if (spot.duty === undefined && spot.result.underDuty) return [];
  const inputs = new Map<string, DerivationInput>();
  for (const noted of graph.trace(spot.component, spot.result, spot.caseIndex, spot.duty, spot.at)) {
    const input = noted.kind === 'fact' ? factInput(noted) : valueInput(graph, noted, spot.caseIndex);
    const key = `${input.name} ${input.value} ${JSON.stringify(input.key?.point)}`;
    if (!inputs.has(key)) inputs.set(key, input);
  }
  return [...inputs.values()];
}

function factInput({ component, fact, value, label }: Extract<Noted, { kind: 'fact' }>): DerivationInput {
  const dimension: Dimension | undefined =
    fact.value.type === 'word' || fact.value.type === 'text' ? undefined : fact.value.dimension;
  const shown = dimension === undefined || value === undefined ? oneLine(fact.written) : show(value, dimension);
  return {
    name: label.startsWith(component.tag) ? label : `${component.tag}.${label}`,
    value,
    unit: dimension?.unit ?? '',
    display: shown,
    kind: 'fact',
    provenance: provenanceOf(fact),
    place: fact.place,
    key: undefined,
  };
}

function valueInput(
  graph: Graph,
  { component, result, value, duty, at }: Extract<Noted, { kind: 'value' }>,
  caseIndex: number,
): DerivationInput {
  const spot = { component, result, value, caseIndex, duty, at };
  const name = `${component.tag}.${result.name}`;
  const point: PointView = pointView(graph, spot);
  return {
    name,
    value: known(value),
    unit: dimensions[result.dimension].unit,
    display: judged(spot).display,
    kind: 'value',
    provenance: undefined,
    place: undefined,
    key: { name, point },
  };
}

/** Who says so, in words. */
export function provenanceOf(fact: Fact): string {
  const { class: of, text } = fact.provenance;
  const through = fact.inherited ? ', from its part' : '';
  switch (of) {
    case 'stated':
      return `stated${through}`;
    case 'sourced':
      return `stated${through}: ${text ?? 'a source'}`;
    case 'assumed':
      return `assumed by the author${text === undefined ? '' : `: ${text}`}`;
    case 'tool':
      return `assumed by the tool${text === undefined ? '' : `: ${text}`}`;
    case 'picked':
      return 'picked';
    case 'computed':
      return 'computed from facts';
  }
}

function oneLine(text: string): string {
  const line = text.replace(/\s+/g, ' ');
  return line.length > 60 ? `${line.slice(0, 57)}…` : line;
}

function known(value: number): number | undefined {
  return Number.isNaN(value) ? undefined : value;
}

/** A reader of the point; none where a value varies with the duty and there is no duty. */
function readerOf(graph: Graph, { component, result, caseIndex, duty }: Spot): Read | undefined {
  if (duty === undefined && result.underDuty) return undefined;
  return new Read(graph, component, caseIndex, result.underDuty ? duty : undefined);
}

function limitView(limit: Limit | undefined): LimitView | undefined {
  return limit && { name: limit, text: limitWords[limit] };
}

function stretchView({ from, to, limit, points }: Stretch, result: Result): StretchView {
  const shown = [points[0], points.at(-1)].map(point => show(point?.value ?? Number.NaN, dimensions[result.dimension]));
  const range = [from, to].map(soc => show(soc, dimensions.ratio)).join(' .. ');
  const values = shown[0] === shown[1] ? shown[0] : shown.join(' to ');
  const text = limitWords[limit];
  return { from, to, limit: { name: limit, text }, points, display: `${range}: ${values}, bound by ${text}` };
}
