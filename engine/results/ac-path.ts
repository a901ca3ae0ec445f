// The way from the network to a converter as a ladder of two-ports, made from the facts of what stands in it.
import type { Component } from '../model/plant.ts';
import type { RouteElement } from '../model/topology.ts';
import { cableElement, operatingTemperature } from '../physics/cable.ts';
import { capacitorElement, chokeElement, starCapacitance } from '../physics/filter.ts';
import { networkImpedance } from '../physics/grid.ts';
import { type Impedance, type LadderElement, sharedElement } from '../physics/ladder.ts';
import { type At, defineResult, defineStep } from './definition.ts';
import { orZero } from './or-zero.ts';
import { cornerAt, highestVoltageCorner, nominalCorner, type PathCorner } from './path-corner.ts';
import type { Read } from './read.ts';
import { ratiosOf, transformerLadders } from './transformer-circuit.ts';
import { isOnLoad } from './transformer-facts.ts';

export interface AcPath {
  readonly elements: readonly LadderElement[];
  /** Which stretch of the ladder each component is: its boundaries on the network's and on the converter's side. */
  readonly parts: readonly AcPart[];
  /** Network volts for one converter volt at no load: the product of all ratios. */
  readonly ratio: number;
}

export interface AcPart {
  readonly tag: string;
  readonly from: number;
  readonly to: number;
  /** Part of its current that belongs to this converter. */
  readonly share: number;
}

/** Nominal parts; undefined where a fact is missing or impossible. */
export const acPath = defineStep<AcPath | undefined>({
  name: 'ac_path',
  on: 'converter',
  axes: [],
  compute: read => makeAcPath(read, nominalCorner),
});

/** As `acPath`, with one converter unit lost. */
const acPathOfRest = defineStep<AcPath | undefined>({
  name: 'ac_path_of_rest',
  on: 'converter',
  axes: [],
  compute: read => makeAcPath(read, nominalCorner, true),
});

/** Nominal parts as the duty finds them. */
export function acPathUnder(read: Read): AcPath | undefined {
  return read.step(read.self, read.unitLost() ? acPathOfRest : acPath, noPoint);
}

/** As `acPath`, all tolerances where they raise the voltage at blocked terminals. */
export const blockedPath = defineStep<AcPath | undefined>({
  name: 'blocked_path',
  on: 'converter',
  axes: [],
  compute: read => makeAcPath(read, highestVoltageCorner),
});

/** Nominal parts at a network voltage (V): as `acPath`, but that on-load tap changers stand where it has brought them. */
export function acPathAt(read: Read, network: number, at: At): AcPath | undefined {
  const regulates = read.route(read.self)?.ac.some(({ tag, kind }) => {
    const component = kind === 'transformer' ? read.component(tag) : undefined;
    return component !== undefined && isOnLoad(read, component);
  });
  if (regulates !== true) return acPathUnder(read);
  return makeAcPath(read, cornerAt(network, at));
}

function makeAcPath(read: Read, corner: PathCorner, unitLost = read.unitLost()): AcPath | undefined {
  const route = read.route(read.self, unitLost);
  const grid = route?.grid === undefined ? undefined : read.component(route.grid);
  if (route === undefined || grid === undefined) return undefined;
  const frequency = read.number(grid, 'frequency');
  const elements: LadderElement[] = [];
  const parts: AcPart[] = [];
  let ratio = 1;
  for (const passed of route.ac) {
    const component = read.component(passed.tag);
    if (component === undefined) return undefined;
    const made =
      corner === nominalCorner
        ? nominalLadder(read, component, passed, frequency, ratio)
        : ladderOf(read, component, passed, frequency, corner, ratio);
    if (made === undefined) return undefined;
    const from = elements.length;
    for (const element of made) {
      elements.push(sharedElement(element, passed.share));
      if (element.kind === 'ratio') ratio *= element.ratio;
    }
    parts.push({ tag: passed.tag, from, to: elements.length, share: passed.share });
  }
  return { elements, parts, ratio };
}

/** The network's own impedance per phase at its connection, as one converter's share of the current sees it. */
export function sourceImpedance(read: Read, corner: 'weakest' | 'strongest'): Impedance | undefined {
  const route = read.route(read.self);
  const grid = route?.grid === undefined ? undefined : read.component(route.grid);
  if (route === undefined || grid === undefined) return undefined;
  const faultPower = read.number(grid, 'fault_power', corner === 'weakest' ? 'low' : 'high');
  if (Number.isNaN(faultPower)) return { resistance: 0, reactance: 0 };
  const found = networkImpedance(read.number(grid, 'voltage'), faultPower, read.number(grid, 'x_over_r'));
  return found.ok
    ? { resistance: found.resistance / route.gridShare, reactance: found.reactance / route.gridShare }
    : undefined;
}

/** Nominal parts are made once for a component, and shown as its impedances. */
function nominalLadder(
  read: Read,
  component: Component,
  passed: RouteElement,
  frequency: number,
  before: number,
): readonly LadderElement[] | undefined {
  if (component.kind.name === 'cable') return read.step(component, cableSeries, noPoint);
  if (component.kind.name === 'transformer' && before === 1) return read.step(component, transformerCircuit, noPoint);
  return ladderOf(read, component, passed, frequency, nominalCorner, before);
}

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** An AC cable at the frequency of its network. */
export const cableSeries = defineStep<readonly LadderElement[] | undefined>({
  name: 'cable_series',
  on: 'cable',
  axes: [],
  shownAs: () => [cableResistance, cableReactance],
  compute: read => {
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    return grid === undefined ? undefined : cableLadder(read, read.self, read.number(grid, 'frequency'));
  },
});

export const transformerCircuit = defineStep<readonly LadderElement[] | undefined>({
  name: 'transformer_circuit',
  on: 'transformer',
  axes: [],
  shownAs: () => [transformerRatio, seriesResistance, seriesReactance],
  compute: read => {
    const passed = passedBy(read);
    return passed === undefined ? undefined : transformerLadders(read, read.self, passed.reversed, nominalCorner, 1)();
  },
});

/** How the chain passes this component, if it does on the AC side. */
const passedBy = (read: Read): RouteElement | undefined =>
  read.route(read.self)?.ac.find(element => element.tag === read.self.tag);

/** Of the first element of a kind in a component's circuit. */
function part(elements: readonly LadderElement[] | undefined, property: 'resistance' | 'reactance' | 'ratio'): number {
  for (const element of elements ?? []) {
    if (element.kind === 'ratio' && property === 'ratio') return element.ratio;
    if (element.kind === 'series' && property !== 'ratio') return element[property];
  }
  return Number.NaN;
}

export const cableResistance = defineResult({
  name: 'series_resistance',
  on: 'cable',
  dimension: 'resistance',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Resistance of one phase of an AC cable at operating temperature, all parallel conductors together.',
  formula: 'R = l · R′(ϑ) · k_skin / n',
  source:
    'as stated; else IEC 60228 at 20 °C; to operating temperature by IEC 60909-0, skin effect by IEC 60287-1-1 (both from memory)',
  // Not through the ladder's element, which looks at the reactance too.
  compute: read => {
    const tag = onAcSide(read) ? read.route(read.self)?.grid : undefined;
    const grid = tag === undefined ? undefined : read.component(tag);
    if (grid === undefined) return Number.NaN;
    const element = cableElement(cableRun(read, read.self), read.number(grid, 'frequency'), 0);
    return element.ok ? element.resistance : Number.NaN;
  },
});

export const cableReactance = defineResult({
  name: 'series_reactance',
  on: 'cable',
  dimension: 'resistance',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Reactance of one phase of an AC cable, all parallel conductors together.',
  formula: 'X = l · X′ / n',
  source: 'as stated; else IEC 60364-5-52, Annex G (from memory)',
  compute: read => (onAcSide(read) ? part(read.step(read.self, cableSeries, noPoint), 'reactance') : Number.NaN),
});

function onAcSide(read: Read): boolean {
  return passedBy(read) !== undefined;
}

export const transformerRatio = defineResult({
  name: 'ratio',
  on: 'transformer',
  dimension: 'count',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Network-side volts for one converter-side volt at no load, at the tap; of an on-load tap changer at nominal network voltage.',
  formula: 'U_1 / U_2 · (1 + tap); with an on-load tap changer U_n / U_2, as far as its tappings reach',
  source: 'IEC 60076-1, voltage ratio (from memory)',
  // Not out of the whole circuit: losses and impedance have no part in it.
  compute: read => {
    const passed = passedBy(read);
    return (passed && ratiosOf(read, read.self, passed.reversed, nominalCorner, 1)()) ?? Number.NaN;
  },
});

export const seriesResistance = defineResult({
  name: 'series_resistance',
  on: 'transformer',
  dimension: 'resistance',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Short-circuit resistance of one phase, referred to the converter’s side.',
  formula: 'R = P_k · U_2² / S_r²',
  source: 'IEC 60076-1, equivalent circuit (from memory)',
  compute: read => part(read.step(read.self, transformerCircuit, noPoint), 'resistance'),
});

export const seriesReactance = defineResult({
  name: 'series_reactance',
  on: 'transformer',
  dimension: 'resistance',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Short-circuit reactance of one phase, referred to the converter’s side.',
  formula: 'X = √((u_k·U_2²/S_r)² − R²)',
  source: 'IEC 60076-1, equivalent circuit (from memory)',
  compute: read => part(read.step(read.self, transformerCircuit, noPoint), 'reactance'),
});

export const circuitResults = [cableResistance, cableReactance, transformerRatio, seriesResistance, seriesReactance];

function ladderOf(
  read: Read,
  component: Component,
  passed: RouteElement,
  frequency: number,
  corner: PathCorner,
  before: number,
): readonly LadderElement[] | undefined {
  switch (component.kind.name) {
    case 'bus':
      return [];
    case 'cable':
      return cableLadder(read, component, frequency);
    case 'transformer':
      return transformerLadders(read, component, passed.reversed, corner, before)();
    case 'filter':
      return filterLadder(read, component, frequency, corner);
    default:
      return undefined;
  }
}

function cableLadder(read: Read, cable: Component, frequency: number): readonly LadderElement[] | undefined {
  const reactance = read.number(cable, 'reactance');
  const element = cableElement(cableRun(read, cable), frequency, reactance);
  return element.ok ? [element] : undefined;
}

/** What the cable functions want to know of a cable. */
export function cableRun(read: Read, cable: Component) {
  const insulation = read.word(cable, 'insulation');
  return {
    conductor: read.word(cable, 'conductor') === 'aluminium' ? ('aluminium' as const) : ('copper' as const),
    crossSection: read.number(cable, 'cross_section'),
    length: read.number(cable, 'length'),
    parallel: read.number(cable, 'parallel'),
    temperature: operatingTemperature[insulation === 'pvc' ? 'pvc' : 'xlpe'],
    stated: read.number(cable, 'resistance'),
  };
}

function filterLadder(
  read: Read,
  filter: Component,
  frequency: number,
  corner: PathCorner,
): readonly LadderElement[] | undefined {
  const connection = read.word(filter, 'connection') === 'delta' ? 'delta' : 'star';
  const capacitance = starCapacitance(read.number(filter, 'capacitance', corner.capacitance), connection);
  const damping = orZero(read.number(filter, 'damping_resistance'));
  const capacitor = capacitorElement(frequency, capacitance, connection === 'delta' ? damping / 3 : damping);
  const networkInductance = orZero(read.number(filter, 'network_inductance'));
  const converterInductance = read.number(filter, 'converter_inductance');
  if (capacitor === undefined || !(converterInductance >= 0)) return undefined;
  const resistance = orZero(read.number(filter, 'resistance'));
  const choke = chokeElement(frequency, converterInductance, resistance);
  return networkInductance > 0 ? [chokeElement(frequency, networkInductance), capacitor, choke] : [capacitor, choke];
}
