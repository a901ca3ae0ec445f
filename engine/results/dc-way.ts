// The way from a converter's DC terminals to its batteries: cables, and where there are some the choppers between them.
import type { RouteCell } from '../model/cells.ts';
import type { Component } from '../model/plant.ts';
import type { Route, RouteElement } from '../model/topology.ts';
import type { Together } from '../physics/bank.ts';
import { constantPower, currentAtPower, largestPower } from '../physics/battery.ts';
import { loopResistance } from '../physics/cable.ts';
import { powerAtStore } from '../physics/chopper.ts';
import { type Feeder, sharedLink } from '../physics/shared-link.ts';
import { cableRun } from './ac-path.ts';
import { defineFigures, defineResult, defineStep } from './definition.ts';
import { linkVoltageMin } from './link.ts';
import { linkShare } from './link-share.ts';
import type { Read } from './read.ts';
import { orUnknown } from './taken.ts';

/** Resistances in ohm as this converter's share of the current sees them. */
export interface DcWay {
  /** Of the cables up to the battery, up to the chopper, or up to where the ways to several batteries or choppers part. */
  readonly wires: number;
  /** None where the batteries are the DC link. */
  readonly choppers: readonly ChopperWay[];
}

/** Its voltage is the lowest that it holds at its terminals on the converter's side. */
export interface ChopperWay extends Feeder {
  readonly efficiency: number;
  /** Of the cables between the point where the ways to several choppers part and this one. */
  readonly before: number;
  /** Of the cables between chopper and battery, or to where the ways to several batteries part. */
  readonly wires: number;
}

export type DcFlow =
  | {
      readonly ok: true;
      /** A and V at the converter: this route's share, positive out of the batteries. */
      readonly converterCurrent: number;
      readonly converterVoltage: number;
      /** What its batteries give together, or those behind each of its choppers. */
      readonly stores: readonly StoreFlow[];
    }
  /** No current delivers this power; the largest that one does, W at the converter's DC side. */
  | { readonly ok: false; readonly largest: number; readonly ends: Ending | undefined };

/** Which of several stores gives no more, and the most that its chopper makes of it, W. */
export interface Ending {
  readonly store: number;
  readonly largest: number;
}

export interface StoreFlow {
  /** A at the batteries: this route's share, positive out of them. */
  readonly current: number;
  /** V at the chopper's terminals on the batteries' side; the converter's voltage where there is no chopper. */
  readonly voltage: number;
  /** V at the battery's terminals; of several, where the ways to them part. */
  readonly batteryVoltage: number;
  readonly emf: number;
  /** A and V at the chopper's terminals on the link's side; the converter's where there is no chopper. */
  readonly linkCurrent: number;
  readonly linkVoltage: number;
}

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export const dcLoopResistance = defineResult({
  name: 'dc_loop_resistance',
  on: 'converter',
  dimension: 'resistance',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Resistance of the cables between converter and battery, both poles, at operating temperature; where several batteries or choppers stand side by side, of what they share: nothing on a net of cables, in which each carries a part of its own.',
  formula: 'R = 2 · l · R′(ϑ) / n',
  source: 'IEC 60228 at 20 °C; to operating temperature by IEC 60909-0 (from memory)',
  compute: read => {
    const way = read.step(read.self, dcWay, noPoint);
    if (way === undefined) return Number.NaN;
    return way.choppers.length === 1 ? way.wires + way.choppers[0]!.wires : way.wires;
  },
});

/** Undefined where a fact of the chopper is missing. */
export const dcWay = defineStep<DcWay | undefined>({
  name: 'dc_way',
  on: 'converter',
  axes: [],
  shownAs: () => [dcLoopResistance],
  compute: read => makeDcWay(read, read.route(read.self)),
});

/** As `dcWay`, with one converter unit lost. */
const dcWayOfRest = defineStep<DcWay | undefined>({
  name: 'dc_way_of_rest',
  on: 'converter',
  axes: [],
  shownAs: () => [dcLoopResistance],
  compute: read => makeDcWay(read, read.route(read.self, true)),
});

/** The way as a duty finds it. */
export function dcWayUnder(read: Read, converter: Component, duty = read.duty): DcWay | undefined {
  return read.step(converter, read.unitLost(duty) ? dcWayOfRest : dcWay, noPoint, duty);
}

function makeDcWay(read: Read, route: Route | undefined): DcWay | undefined {
  const passed = route?.dc ?? [];
  const cells = route?.cells ?? [];
  // What lies on a net of cables is part of what its batteries are to the converter.
  if (route?.net !== undefined) return { wires: 0, choppers: [] };
  if (cells.length === 0) return { wires: wiresOf(read, passed), choppers: [] };
  const at = passed.findIndex(({ tag }) => tag === cells[0]!.chopper);
  const shares = cells.map(({ chopper }) => read.value(read.component(chopper)!, linkShare, noPoint));
  const choppers = cells.map((_, index) => makeChopperWay(read, cells, shares, index));
  if (!choppers.every(({ voltage, efficiency, share }) => voltage > 0 && efficiency > 0 && share > 0)) return undefined;
  return { wires: wiresOf(read, at < 0 ? passed : passed.slice(0, at)), choppers };
}

function makeChopperWay(read: Read, cells: readonly RouteCell[], shares: readonly number[], own: number): ChopperWay {
  const { chopper: tag, before, behind } = cells[own]!;
  const chopper = read.component(tag)!;
  const parts = before.map(element => {
    const passes = (index: number): boolean => cells[index]!.before.some(each => each.tag === element.tag);
    const carried = shares.reduce((sum, share, index) => sum + (passes(index) ? share : 0), 0);
    const wires = wiresOf(read, [element]);
    return { wires, rise: wires * carried };
  });
  return {
    voltage: read.value(chopper, linkVoltageMin, noPoint),
    efficiency: read.number(chopper, 'efficiency'),
    share: shares[own]!,
    rise: parts.reduce((sum, { rise }) => sum + rise, 0),
    before: parts.reduce((sum, { wires }) => sum + wires, 0),
    wires: wiresOf(read, behind),
  };
}

/** Ω of the cables among elements in line, as one route's share of the current sees them, or all of it. */
export function wiresOf(read: Read, elements: readonly RouteElement[], shared = true): number {
  let sum = 0;
  for (const passed of elements) {
    if (passed.kind === 'cable') sum += loopOf(read, passed.tag) / (shared ? passed.share : 1);
  }
  return sum;
}

/** Ω of one cable, both poles. */
export const cableLoop = defineFigures({
  name: 'loop',
  on: 'cable',
  axes: [],
  names: ['resistance'],
  compute: read => {
    const found = loopResistance(cableRun(read, read.self));
    return found.ok ? [found.resistance] : [];
  },
});

/** The same by its tag; NaN where it is not known. */
export function loopOf(read: Read, tag: string): number {
  const cable = read.component(tag);
  return cable === undefined ? Number.NaN : read.figure(cable, cableLoop.figure.resistance, noPoint);
}

/**
 * Currents and voltages where the converter's DC side takes this power (W, positive out of the batteries): `stores` are
 * what all its batteries are together, or those behind each chopper, of which this route takes its share.
 */
export function alongDcWay(way: DcWay, stores: readonly Together[], share: number, power: number): DcFlow | undefined {
  if (way.choppers.length > 0) return throughChoppers(way, stores, share, power);
  const figures: number[] = [];
  alongWires(figures, 0, way.wires, stores[0]!, share, power);
  const [current, voltage, batteryVoltage, emf, largest] = figures;
  if (current === undefined) return undefined;
  if (Number.isNaN(current)) return { ok: false, largest: largest!, ends: undefined };
  const store = wholeWay(current, voltage!, batteryVoltage!, emf!);
  return { ok: true, converterCurrent: current, converterVoltage: voltage!, stores: [store] };
}

/**
 * The same without choppers, written as the figures of `dcFlow`: A at the converter, V there, at the battery and without
 * current, W where no current delivers the power, and A of all converters; nothing where a fact is missing.
 */
export function alongWires(
  into: number[],
  place: number,
  wires: number,
  { emf, resistance }: Together,
  share: number,
  power: number,
): void {
  const inner = resistance / share;
  const whole = inner + wires;
  if (Number.isNaN(orUnknown(emf + whole + power))) return;
  const current = currentAtPower(emf, whole, power);
  if (Number.isNaN(current)) {
    into[place] = into[place + 1] = into[place + 2] = into[place + 3] = into[place + 5] = Number.NaN;
    into[place + 4] = largestPower(emf, whole);
    return;
  }
  into[place] = current;
  into[place + 1] = emf - current * whole;
  into[place + 2] = emf - current * inner;
  into[place + 3] = emf;
  into[place + 4] = Number.NaN;
  into[place + 5] = current / share;
}

/** Of a way without choppers. */
export function wholeWay(current: number, voltage: number, batteryVoltage: number, emf: number): StoreFlow {
  return { current, voltage, batteryVoltage, emf, linkCurrent: current, linkVoltage: voltage };
}

/** Choppers hold the link; from there on each battery sees its part of the power, loss included. */
function throughChoppers(
  { wires, choppers }: DcWay,
  stores: readonly Together[],
  share: number,
  power: number,
): DcFlow | undefined {
  if (!Number.isFinite(wires + power)) return undefined;
  const link = sharedLink(choppers, wires, power);
  if (!link.ok) return { ok: false, largest: link.largestPower, ends: undefined };
  const flows: StoreFlow[] = [];
  let least: Extract<DcFlow, { ok: false }> | undefined;
  for (const [index, chopper] of choppers.entries()) {
    const fed = link.fed[index]!;
    const { emf, resistance } = stores[index]!;
    const inner = resistance / share;
    const asked = powerAtStore(fed.power, chopper.efficiency);
    if (asked === undefined || !Number.isFinite(emf + inner + chopper.wires)) return undefined;
    const found = constantPower(emf, inner + chopper.wires, asked);
    if (!found.ok) {
      const own = found.largestPower * chopper.efficiency;
      const largest = own / chopper.share;
      if (least === undefined || largest < least.largest)
        least = { ok: false, largest, ends: { store: index, largest: own } };
      continue;
    }
    const { current, voltage } = found;
    const batteryVoltage = emf - current * inner;
    flows.push({ current, voltage, batteryVoltage, emf, linkCurrent: fed.current, linkVoltage: fed.voltage });
  }
  return least ?? { ok: true, converterCurrent: link.current, converterVoltage: link.voltage, stores: flows };
}

export const dcWayResults = [dcLoopResistance];
