// Power over the state of charge, and by which limit it is held over which stretch.

import type { RouteCell } from '../model/cells.ts';
import type { Component } from '../model/plant.ts';
import { powerAtStore } from '../physics/chopper.ts';
import { dcFromAc } from '../physics/converter.ts';
import { type DcSource, limitedPower, type Passage, type PowerLimit, stretchesOf } from '../physics/power-limits.ts';
import { sharedLink } from '../physics/shared-link.ts';
import { acPathAt } from './ac-path.ts';
import { type Bank, bankUnder, groupWith } from './bank.ts';
import { socSpan } from './battery-model.ts';
import { ratedCurrent } from './converter-current.ts';
import { modulationFactor } from './converter-voltage.ts';
import { type ChopperWay, type DcWay, dcWayUnder } from './dc-way.ts';
import { type At, defineResult, defineStep, type Limit, type Stretch } from './definition.ts';
import { type DutyBattery, type Way, wayOf } from './duty-battery.ts';
import { converterOf } from './energy.ts';
import { type Demand, demand, networkVoltage, solveFor } from './flow.ts';
import { spanOf } from './link.ts';
import { lossModels } from './loss-model.ts';
import { orZero } from './or-zero.ts';
import { overloadRatio } from './overload.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** So many points between nothing and the most that passes: straight lines between them keep within a millivolt or so. */
const samples = 32;

/** What passes one converter as the duty's power is scaled, its power factor kept; a stated reactive power stays. */
const passage = defineStep<Passage | undefined>({
  name: 'passage',
  on: 'converter',
  axes: ['duty', 'direction', 'voltage'],
  compute: (read, at) => {
    const asked = read.step(read.self, demand, at);
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    const factor = read.value(read.self, modulationFactor, noPoint);
    const permitted = read.value(read.self, ratedCurrent, noPoint) * overloadRatio(read, read.demand);
    if (asked === undefined || grid === undefined || !(permitted > 0)) return undefined;
    const voltage = networkVoltage(read, grid, read.demand, at);
    const path = acPathAt(read, voltage, at);
    if (path === undefined) return undefined;
    const losses = lossModels(read);
    const keepsReactive = read.has(read.demand, 'reactive');
    const sideAt = (scale: number) => {
      const scaled: Demand = {
        ...asked,
        active: asked.active * scale,
        reactive: keepsReactive ? asked.reactive : asked.reactive * scale,
      };
      const solved = solveFor(read, scaled, path, voltage);
      if (solved?.ok !== true) return undefined;
      const model = losses(solved.terminalCurrent);
      const side = model && dcFromAc(solved.terminalActivePower, solved.terminalCurrent, model);
      if (side?.ok !== true) return undefined;
      return { power: side.dcPower, current: solved.terminalCurrent, needed: solved.terminalVoltage / factor };
    };
    return sampled(sideAt, permitted, asked.active > 0 ? 1 : -1);
  },
});

type Side = { readonly power: number; readonly current: number; readonly needed: number };

function sampled(sideAt: (scale: number) => Side | undefined, permitted: number, sign: 1 | -1): Passage | undefined {
  const passes = (scale: number): boolean => (sideAt(scale)?.current ?? Number.POSITIVE_INFINITY) <= permitted;
  const most = bound(passes);
  const end = sideAt(most * (1 + 1e-6)) === undefined ? 'network_path' : 'converter_current';
  const power: number[] = [];
  const needed: number[] = [];
  for (let index = 0; index <= samples; index++) {
    const side = sideAt((most * index) / samples);
    // At no power the converter's own loss may turn the flow: such points carry nothing.
    const passed = sign * (side?.power ?? Number.NaN);
    if (side === undefined || !(passed > (power.at(-1) ?? 0))) continue;
    power.push(passed);
    needed.push(side.needed);
  }
  return power.length === 0 ? { power: [0], needed: [sideAt(0)?.needed ?? 0], end } : { power, needed, end };
}

/** The largest scale that passes, up to a thousand times the duty. */
function bound(passes: (scale: number) => boolean): number {
  let [good, bad] = [0, 1];
  while (bad < 1000 && passes(bad)) [good, bad] = [bad, 2 * bad];
  for (let step = 0; step < 50; step++) {
    const middle = (good + bad) / 2;
    if (passes(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

interface Ceiling {
  readonly at: (soc: number) => { readonly name: Limit; readonly value: number };
  readonly from: number;
  readonly to: number;
  readonly knots: readonly number[];
}

/** The power at the battery's terminals over the state of charge under one duty, all converters together. */
function ceilingOf(read: Read, at: At): Ceiling | undefined {
  const converter = converterOf(read);
  const bank = converter && bankUnder(read, converter);
  const place = bank?.packs.findIndex(pack => pack.battery === read.self) ?? -1;
  const battery = bank?.packs[place]?.model;
  const through = converter && read.step(converter, passage, at);
  const share = converter && read.route(converter)?.batteryShare;
  if (converter === undefined || bank === undefined) return undefined;
  if (battery === undefined || through === undefined || share === undefined) return undefined;
  const way = wayOf(read, read.demand);
  const dc = dcWayUnder(read, converter);
  if (dc === undefined) return undefined;
  const group = groupWith(bank, place);
  const chopper = dc.choppers[group];
  const cell = read.route(converter)?.cells[group];
  const behind = chopper === undefined ? through : behindChopper(through, dc, group, way);
  const fixed =
    chopper === undefined || cell === undefined ? atConverter(read, converter, dc) : atChopper(read, cell, chopper);
  const ends = read.reading(read.self, 'open_circuit_voltage')?.knots ?? [];
  return {
    at: soc => {
      const source = sourceAt(bank, place, way, soc, share);
      const found = limitedPower(way, { ...fixed, ...source.own, wires: fixed.wires + source.wires }, behind);
      return { name: limitNames(battery, way)[found.limit], value: found.power * source.part };
    },
    from: Math.max(0, ends[0] ?? 0),
    to: Math.min(1, ends.at(-1) ?? 1),
    knots: battery.knots,
  };
}

function atConverter(read: Read, converter: Component, { wires }: DcWay): Fixed {
  return {
    wires,
    converterCurrent: orEndless(read.number(converter, 'dc_current')),
    lowest: orZero(read.number(converter, 'dc_voltage', 'low')),
    highest: orEndless(read.number(converter, 'dc_voltage', 'high')),
  };
}

/** The battery ends at the chopper, whose span on that side bounds its voltage; its own current is judged elsewhere. */
function atChopper(read: Read, cell: RouteCell, { wires }: ChopperWay): Fixed {
  const span = spanOf(read, read.component(cell.chopper)!, 'battery');
  return { wires, converterCurrent: Number.POSITIVE_INFINITY, lowest: orZero(span.from), highest: orEndless(span.to) };
}

/**
 * What passes the converter, as the power that one chopper makes of its part: it ends where the link is too low for it.
 * The others on the link are taken to do theirs.
 */
function behindChopper({ power, needed, end }: Passage, { wires, choppers }: DcWay, own: number, way: Way): Passage {
  const sign = way === 'discharge' ? 1 : -1;
  const passed: number[] = [];
  for (const [index, watts] of power.entries()) {
    const link = sharedLink(choppers, wires, sign * watts);
    const store = link.ok ? powerAtStore(link.fed[own]!.power, choppers[own]!.efficiency) : undefined;
    if (!link.ok || store === undefined) break;
    if (link.voltage < needed[index]!) return heldByLink(passed, 'dc_voltage');
    passed.push(Math.abs(store));
  }
  return heldByLink(passed, end);
}

/** The link stands whatever the battery does: it needs nothing of the battery's voltage. */
function heldByLink(passed: readonly number[], end: Passage['end']): Passage {
  const power = passed.length === 0 ? [0] : passed;
  return { power, needed: power.map(() => 0), end };
}

type Fixed = Pick<DcSource, 'wires' | 'converterCurrent' | 'lowest' | 'highest'>;

/**
 * One battery as it stands before its converter. Each of several carries its part of the current, so that together they
 * are as many of this one; the cables of its branch lie behind its terminals.
 */
function sourceAt(bank: Bank<DutyBattery>, place: number, way: Way, soc: number, share: number) {
  const { packs, at } = bank;
  const group = groupWith(bank, place);
  const { model } = packs[place]!;
  const { resistance, parts } = at(packs.map(() => soc))[group]!;
  const part = parts[place]! / share;
  const inner = model.resistance(soc) * part;
  const own: Pick<DcSource, 'emf' | 'resistance' | 'currentLimit' | 'voltageLimit'> = {
    emf: model.emf(soc),
    resistance: inner,
    currentLimit: (way === 'discharge' ? model.dischargeLimit(soc) : model.chargeLimit(soc)) / part,
    voltageLimit: way === 'discharge' ? model.voltageMin(soc) : model.voltageMax(soc),
  };
  return { own, part, wires: bank.groups[group]!.members.length === 1 ? 0 : resistance / share - inner };
}

function limitNames(battery: DutyBattery, way: Way): Readonly<Record<PowerLimit, Limit>> {
  return {
    battery_current: Number.isFinite(battery.longest) ? 'pulse_current' : `${way}_current`,
    battery_voltage: way === 'discharge' ? 'least_voltage' : 'greatest_voltage',
    power_collapse: 'power_collapse',
    converter_current: 'converter_current',
    converter_dc_current: 'converter_dc_current',
    dc_voltage: 'dc_voltage',
    network_path: 'network_path',
  };
}

/** Grid of so many steps between the ends, and every bend of a curve. */
function placesOf({ from, to, knots }: Ceiling, steps = 40): readonly number[] {
  const even = Array.from({ length: steps + 1 }, (_, index) => from + ((to - from) * index) / steps);
  const all = [...even, ...knots.filter(knot => knot > from && knot < to)].sort((a, b) => a - b);
  return all.filter((place, index) => index === 0 || place > all[index - 1]!);
}

/** The least power inside the duty's span, and what holds it there. */
function leastOf(read: Read, at: At): { readonly name: Limit; readonly value: number } | undefined {
  const ceiling = ceilingOf(read, at);
  if (ceiling === undefined) return undefined;
  const span = socSpan(read, read.self, read.demand);
  const inside = placesOf(ceiling).filter(soc => soc > span.bottom && soc < span.top);
  return [span.bottom, ...inside, span.top]
    .map(ceiling.at)
    .reduce((least, next) => (next.value < least.value ? next : least));
}

export const powerBySoc = defineResult({
  name: 'power_by_soc',
  on: 'battery',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Power that battery, converter and network together can pass in the direction of the duty, at the battery’s terminals: the least inside the duty’s span, and over the whole state of charge with the limit that holds it.',
  formula:
    'P = U·I with I the least of I_battery, (E − U_min)/R, E/(2·R), I_dc, (E − U_dc,min)/R, I(P_converter), and the I up to which k·U_dc ≥ U_c',
  source: 'Kirchhoff, limits as stated; the converter at its derated current, or its overload where the duty is short',
  compute: (read, at) => leastOf(read, at)?.value ?? Number.NaN,
  limit: (read, at) => leastOf(read, at)?.name,
  stretches: (read, at): readonly Stretch[] => {
    const ceiling = ceilingOf(read, at);
    if (ceiling === undefined) return [];
    return stretchesOf(placesOf(ceiling), ceiling.at).map(({ name, points, ...ends }) => ({
      ...ends,
      limit: name,
      points: points.map(({ x, value }) => ({ soc: x, value })),
    }));
  },
});

function orEndless(value: number): number {
  return Number.isNaN(value) ? Number.POSITIVE_INFINITY : value;
}

export const powerBySocResults = [powerBySoc];
