// The way from a converter's DC terminals to its battery: cables, and where there is one the chopper between them.
import type { Component } from '../model/plant.ts';
import type { Route, RouteElement } from '../model/topology.ts';
import { constantPower } from '../physics/battery.ts';
import { loopResistance } from '../physics/cable.ts';
import { powerAtStore } from '../physics/chopper.ts';
import { cableRun } from './ac-path.ts';
import { defineResult, defineStep } from './definition.ts';
import { chopperOf, linkVoltageMin } from './link.ts';
import type { Read } from './read.ts';

/** Resistances in ohm as this converter's share of the current sees them. */
export interface DcWay {
  /** Of the cables up to the battery, up to the chopper, or up to where the ways to several batteries part. */
  readonly wires: number;
  readonly chopper: ChopperWay | undefined;
}

export interface ChopperWay {
  /** Lowest voltage that it holds at its terminals on the converter's side, V. */
  readonly link: number;
  readonly efficiency: number;
  /** Of the cables between chopper and battery. */
  readonly wires: number;
}

export type DcFlow =
  | {
      readonly ok: true;
      /** A at the battery, and at the converter: this route's share, positive out of the battery. */
      readonly current: number;
      readonly converterCurrent: number;
      readonly converterVoltage: number;
      /** V at the chopper's terminals on the battery's side; the converter's voltage where there is no chopper. */
      readonly storeVoltage: number;
      /** V at the battery's terminals; of several, where the ways to them part. */
      readonly batteryVoltage: number;
      readonly emf: number;
    }
  /** No current delivers this power; the largest that one does, W at the converter's DC side. */
  | { readonly ok: false; readonly largest: number };

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export const dcLoopResistance = defineResult({
  name: 'dc_loop_resistance',
  on: 'converter',
  dimension: 'resistance',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Resistance of the cables between converter and battery, both poles, at operating temperature; where several batteries stand side by side, of what they share.',
  formula: 'R = 2 · l · R′(ϑ) / n',
  source: 'IEC 60228 at 20 °C, to operating temperature',
  compute: read => {
    const way = read.step(read.self, dcWay, noPoint);
    return way === undefined ? Number.NaN : way.wires + (way.chopper?.wires ?? 0);
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
  const chopper = chopperOf(read);
  if (chopper === undefined) return { wires: wiresOf(read, passed), chopper: undefined };
  const tags = passed.map(element => element.tag);
  const at = tags.indexOf(chopper.tag);
  const link = read.value(chopper, linkVoltageMin, noPoint);
  const efficiency = read.number(chopper, 'efficiency');
  if (!(link > 0 && efficiency > 0)) return undefined;
  const wires = wiresOf(read, passed.slice(0, at));
  return { wires, chopper: { link, efficiency, wires: wiresOf(read, passed.slice(at + 1)) } };
}

/** Ω of the cables among elements in line, as one route's share of the current sees them, or all of it. */
export function wiresOf(read: Read, elements: readonly RouteElement[], shared = true): number {
  let sum = 0;
  for (const passed of elements) {
    const component = read.component(passed.tag);
    if (component?.kind.name !== 'cable') continue;
    const found = loopResistance(cableRun(read, component));
    sum += found.ok ? found.resistance / (shared ? passed.share : 1) : Number.NaN;
  }
  return sum;
}

/** Currents and voltages where the converter's DC side takes this power (W, positive out of the battery). */
export function alongDcWay(way: DcWay, emf: number, inner: number, power: number): DcFlow | undefined {
  if (!Number.isFinite(emf + inner + way.wires + power)) return undefined;
  if (way.chopper !== undefined) return throughChopper(way.chopper, way.wires, emf, inner, power);
  const found = constantPower(emf, inner + way.wires, power);
  if (!found.ok) return { ok: false, largest: found.largestPower };
  return {
    ok: true,
    current: found.current,
    converterCurrent: found.current,
    converterVoltage: found.voltage,
    storeVoltage: found.voltage,
    batteryVoltage: emf - found.current * inner,
    emf,
  };
}

/** The chopper holds its terminals on the converter's side; from there on the battery sees a power, loss included. */
function throughChopper(
  chopper: ChopperWay,
  wires: number,
  emf: number,
  inner: number,
  power: number,
): DcFlow | undefined {
  const link = constantPower(chopper.link, wires, power);
  if (!link.ok) return { ok: false, largest: link.largestPower };
  const asked = powerAtStore(chopper.link * link.current, chopper.efficiency);
  if (asked === undefined || !Number.isFinite(chopper.wires)) return undefined;
  const store = constantPower(emf, inner + chopper.wires, asked);
  if (!store.ok) return { ok: false, largest: store.largestPower * chopper.efficiency };
  return {
    ok: true,
    current: store.current,
    converterCurrent: link.current,
    converterVoltage: link.voltage,
    storeVoltage: store.voltage,
    batteryVoltage: emf - store.current * inner,
    emf,
  };
}

export const dcWayResults = [dcLoopResistance];
