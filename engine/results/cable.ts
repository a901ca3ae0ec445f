// Results of a cable: its current and its voltage drop, on whichever side of a converter it lies.

import { cellBehind } from '../model/cells.ts';
import type { Component } from '../model/plant.ts';
import { batteriesBehind, directElements, type Route } from '../model/topology.ts';
import { type InstallationMethod, type InstalledAmpacity, installedAmpacity, methodsFor } from '../tables/ampacity.ts';
import { cableRun } from './ac-path.ts';
import { bankUnder, groupWith } from './bank.ts';
import { greater, magnitude, product, quotient } from './columns.ts';
import { dcFlow, endsOf, flowThroughChoppers, isPlain, netFlow } from './dc-flow.ts';
import { cableLoop } from './dc-way.ts';
import { type At, defineFigures, defineResult } from './definition.ts';
import { flow } from './flow.ts';
import type { Read } from './read.ts';
import { there, where } from './taken.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

interface Carried {
  /** A, a magnitude: rms of a line, or direct. */
  readonly current: number;
  /** Share of the voltage where the power enters. */
  readonly drop: number;
}

/** What the first route with a known flow makes of the cable. */
function carried(read: Read): (at: At) => Carried | undefined {
  const ways = read.routes(read.self).map(route => {
    const converter = read.component(route.converter);
    const place = placeOn(route, read.self.tag);
    if (converter === undefined) return () => undefined;
    return place === undefined ? onAlternating(read, converter) : onDirect(read, converter, route, place);
  });
  return at => {
    for (const way of ways) {
      const found = way(at);
      if (found !== undefined) return found;
    }
    return undefined;
  };
}

/** Where a cable lies on the direct-current side of a route. */
interface Place {
  /** Of its current, the part that belongs to the route. */
  readonly share: number;
  /** The place among the route's choppers of the one behind which it lies, and of the one before which; −1 for none. */
  readonly cell: number;
  readonly feeding: number;
  /** The batteries to which the branch leads that holds it; undefined for what lies before all of them. */
  readonly reached: readonly string[] | undefined;
  /** One of several batteries lies at its end. */
  readonly isBranch: boolean;
}

/** Each is asked for under every duty in every case. */
const placesOn = new WeakMap<Route, Map<string, Place | undefined>>();

/** Undefined on the network's side. */
function placeOn(route: Route, tag: string): Place | undefined {
  const places = placesOn.get(route) ?? new Map<string, Place | undefined>();
  placesOn.set(route, places);
  if (!places.has(tag)) places.set(tag, findPlace(route, tag));
  return places.get(tag);
}

function findPlace(route: Route, tag: string): Place | undefined {
  const element = directElements(route).find(each => each.tag === tag);
  if (element === undefined) return undefined;
  const cell = cellBehind(route, tag);
  const reached = batteriesBehind(route, tag);
  const isBranch =
    route.net !== undefined ||
    (reached !== undefined && route.cells[cell]?.behind.some(each => each.tag === tag) !== true);
  const feeding = route.cells.findIndex(({ before }) => before.some(each => each.tag === tag));
  return { share: element.share, cell, feeding, reached, isBranch };
}

/** Of the higher end of a direct-current run: the battery, the converter or the chopper. */
function onDirect(read: Read, converter: Component, route: Route, place: Place): (at: At) => Carried | undefined {
  const resistance = read.figure(read.self, cableLoop.figure.resistance, noPoint);
  if (Number.isNaN(resistance)) return () => undefined;
  const parts = [0, 1].map(end => partBehind(read, converter, route, place, end));
  return route.cells.length > 0
    ? amongChoppers(read, converter, place, resistance, parts)
    : uptoBattery(read, converter, route, place, resistance, parts);
}

/** `parts`: of the current, what the cable carries, at each end of the span. */
function uptoBattery(
  read: Read,
  converter: Component,
  route: Route,
  { share, isBranch }: Place,
  resistance: number,
  parts: readonly number[],
): (at: At) => Carried | undefined {
  const onNet = route.net === undefined ? () => undefined : netCurrent(read, converter);
  return at => {
    const whole = read.figure(converter, dcFlow.figure.current, at);
    if (Number.isNaN(whole)) return undefined;
    const current = onNet(at) ?? (Math.abs(whole) / share) * parts[at.soc]!;
    const drop = current * resistance;
    // Of one of several batteries an end is where their ways part, or a drop above.
    const battery = read.figure(converter, dcFlow.figure.batteryVoltage, at) + (isBranch && whole > 0 ? drop : 0);
    return { current, drop: drop / Math.max(battery, read.figure(converter, dcFlow.figure.voltage, at)) };
  };
}

function amongChoppers(
  read: Read,
  converter: Component,
  { share, cell, feeding, isBranch }: Place,
  resistance: number,
  parts: readonly number[],
): (at: At) => Carried | undefined {
  return at => {
    const solved = read.step(converter, flowThroughChoppers, at);
    if (solved?.ok !== true) return undefined;
    const store = solved.stores[Math.max(0, cell, feeding)]!;
    const onStore = cell >= 0;
    const current = (Math.abs(onStore ? store.current : solved.converterCurrent) / share) * parts[at.soc]!;
    const drop = current * resistance;
    // Before one of several choppers that one is an end, or lies a drop below the other.
    if (feeding >= 0) return { current, drop: drop / (store.linkVoltage + (store.linkCurrent < 0 ? drop : 0)) };
    // The converter lies at most a drop below what a chopper holds.
    const battery = store.batteryVoltage + (isBranch && store.current > 0 ? drop : 0);
    return { current, drop: drop / (onStore ? Math.max(battery, store.voltage) : solved.converterVoltage + drop) };
  };
}

function onAlternating(read: Read, converter: Component): (at: At) => Carried | undefined {
  return at => {
    const solved = read.step(converter, flow, at);
    const part = solved?.ok === true ? solved.path.parts.find(candidate => candidate.tag === read.self.tag) : undefined;
    if (solved?.ok !== true || part === undefined) return undefined;
    const near = solved.ladder.voltage[part.from]!;
    const far = solved.ladder.voltage[part.to]!;
    return {
      current: solved.ladder.current[part.from]! / part.share,
      drop: Math.abs(far - near) / Math.max(far, near),
    };
  };
}

/** A in a cable of a net whose converters' powers are all known, a magnitude. */
function netCurrent(read: Read, converter: Component): (at: At) => number | undefined {
  const run = bankUnder(read, converter)?.net?.runs.indexOf(read.self.tag) ?? -1;
  return at => {
    const shared = read.step(converter, netFlow, at);
    if (shared === undefined || run < 0) return undefined;
    const { currents, response } = shared;
    return Math.abs(currents.reduce((sum, each, index) => sum + each * response.taps[index]!.runParts[run]!, 0));
  };
}

/**
 * The part of the current that this cable carries: of the link's, what goes to those choppers to which it leads, of what
 * one group of batteries carries, what goes to those to which it leads; all of it on what they share.
 */
function partBehind(read: Read, converter: Component, route: Route, { reached, cell }: Place, end: number): number {
  if (route.net !== undefined) {
    const bank = bankUnder(read, converter);
    const parts = bank?.net?.byRating(endsOf(read, bank, end));
    return Math.abs(parts?.[bank!.net!.runs.indexOf(read.self.tag)] ?? Number.NaN);
  }
  if (reached === undefined) return 1;
  const bank = bankUnder(read, converter);
  if (bank === undefined) return Number.NaN;
  const places = reached.map(tag => bank.packs.findIndex(({ battery }) => battery.tag === tag));
  if (route.cells.length > 1 && cell < 0) {
    const groups = new Set(places.map(place => groupWith(bank, place)));
    return [...groups].reduce((sum, group) => sum + bank.groups[group]!.share, 0);
  }
  const { parts } = bank.at(endsOf(read, bank, end))[Math.max(0, cell)]!;
  return places.reduce((sum, place) => sum + parts[place]!, 0);
}

/** The converter of a cable that carries all of what one converter and its batteries exchange without a chopper. */
function converterServed(read: Read): Component | undefined {
  const [route, ...more] = read.shapes(read.self);
  if (route === undefined || more.length > 0 || !isPlain(route)) return undefined;
  return route.dc.some(({ tag }) => tag === read.self.tag) ? read.component(route.converter) : undefined;
}

/** Of the current of such a cable, the part that belongs to its one route. */
const routeShare = defineFigures({
  name: 'route_share',
  on: 'cable',
  axes: ['duty'],
  names: ['share'],
  compute: read => {
    const route = read.route(read.self, read.unitLost());
    return route === undefined ? [] : [placeOn(route, read.self.tag)?.share ?? Number.NaN];
  },
});

export const current = defineResult({
  name: 'current',
  on: 'cable',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Current of the whole cable run under the duty: rms of a line, or direct current.',
  formula: 'I, all parallel conductors together',
  source: 'circuit theory',
  taken: where(converterServed, quotient(magnitude(there(dcFlow.figure.current)), routeShare.figure.share)),
  column: read => {
    const at = carried(read);
    return point => at(point)?.current ?? Number.NaN;
  },
});

export const drop = defineResult({
  name: 'drop',
  on: 'cable',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Voltage drop over the cable as a share of the higher end’s voltage, conductors at operating temperature.',
  formula: 'ΔU / U; direct current: I·2·l·R′ / U',
  source: 'circuit theory; conductor resistance as stated, else IEC 60228',
  taken: where(
    converterServed,
    quotient(
      product(current, cableLoop.figure.resistance),
      greater(there(dcFlow.figure.batteryVoltage), there(dcFlow.figure.voltage)),
    ),
  ),
  column: read => {
    const at = carried(read);
    return point => at(point)?.drop ?? Number.NaN;
  },
});

/** One conductor of the run as it lies there, with `parallel` of them; undefined where nothing says how it lies. */
export function ampacityOf(
  read: Read,
  parallel: number,
  crossSection: number,
): InstalledAmpacity | { readonly ok: false; readonly problem: 'no_column' } | undefined {
  const cable = read.self;
  const installation = read.word(cable, 'installation');
  if (installation === undefined) return undefined;
  const { conductor } = cableRun(read, cable);
  const insulation = read.word(cable, 'insulation') === 'pvc' ? 'pvc' : 'xlpe';
  const method = methodsFor(insulation, conductor).find(held => held === installation);
  if (method === undefined) return { ok: false, problem: 'no_column' };
  return installedAmpacity(installationOf(read, method, insulation, conductor, parallel), crossSection);
}

/** What the run lies in; every conductor in parallel is a circuit of its own to its neighbours. */
function installationOf(
  read: Read,
  method: InstallationMethod,
  insulation: 'pvc' | 'xlpe',
  conductor: 'copper' | 'aluminium',
  parallel: number,
) {
  const own = read.number(read.self, 'ambient', 'high');
  const ambient = Number.isNaN(own) ? read.number(read.site, 'ambient', 'high') : own;
  return { insulation, conductor, method, ambient, circuits: read.number(read.self, 'grouping') - 1 + parallel };
}

export const ampacity = defineResult({
  name: 'ampacity',
  on: 'cable',
  dimension: 'current',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Current that the whole run may carry for good as it lies there, at the highest temperature around it. The table is for three loaded conductors; the two of a direct-current run may carry somewhat more.',
  formula: 'I_z = n · I_table · k_ambient · k_grouping',
  source:
    'IEC 60364-5-52, Annex B, as open tables have it; aluminium in A2 and B2, with xlpe in D2, layers and neighbours in the ground: the same, from memory; equal sharing between parallel conductors',
  compute: read => {
    const parallel = read.number(read.self, 'parallel');
    const found = ampacityOf(read, parallel, read.number(read.self, 'cross_section'));
    return found?.ok === true ? parallel * found.current : Number.NaN;
  },
});

export const loading = defineResult({
  name: 'loading',
  on: 'cable',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Current of the run under the duty, as if it lasted, as a share of what it may carry for good.',
  formula: 'I / I_z',
  source: 'definition',
  taken: quotient(current, ampacity),
});

export const cableResults = [current, ampacity, loading, drop];
