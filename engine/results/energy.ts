// How long the battery lasts under a duty, what it gives, and what ends it.
import type { Component } from '../model/plant.ts';
import type { Together } from '../physics/bank.ts';
import { type DischargeResult, type DischargeStop, discharge } from '../physics/discharge.ts';
import { bankAtRest, bankUnder, carriedBy, currentOf, groupWith, partInGroup } from './bank.ts';
import { socSpan } from './battery-model.ts';
import { modulationFactor, terminalVoltage } from './converter-voltage.ts';
import { alongDcWay, type DcWay, dcWayUnder } from './dc-way.ts';
import { type At, defineResult, defineStep, type Limit } from './definition.ts';
import { asTheyStand, type DutyBattery, dutyBattery, wayOf } from './duty-battery.ts';
import { dcSide } from './flow.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** What a battery's power under a duty follows from at one state of charge, of it and of those beside it. */
export interface Source {
  readonly stores: readonly Together[];
  /** Which of the stores the battery belongs to, and what it gives of each ampere that one route takes of it. */
  readonly group: number;
  readonly part: number;
  /** Of the battery alone, V and Ω. */
  readonly emf: number;
  readonly resistance: number;
}

/** Without a duty: of the batteries as they stand. */
function sourceAt(read: Read, converter: Component, duty: Component | undefined, soc: number): Source | undefined {
  const route = read.route(converter, read.unitLost(duty));
  const bank = duty === undefined ? bankAtRest(read, converter) : bankUnder(read, converter, duty);
  const place = bank?.packs.findIndex(({ battery }) => battery === read.self) ?? -1;
  const own = bank?.packs[place];
  if (bank === undefined || own === undefined || route === undefined) return undefined;
  const group = groupWith(bank, place);
  return {
    stores: bank.at(bank.packs.map(() => soc)),
    group,
    part: partInGroup(bank, bank.groups[group]!, place) / route.batteryShare,
    emf: own.model.emf(soc),
    resistance: own.model.resistance(soc),
  };
}

/** In the middle of the span that the duty uses: what a whole run is taken at. */
export const middleSource = defineStep<Source | undefined>({
  name: 'middle_source',
  on: 'battery',
  axes: ['duty'],
  compute: read =>
    asTheyStand(read, read.demand) ? read.step(read.self, ownMiddle, noPoint) : sourceInTheMiddle(read),
});

/** As the batteries stand, in the middle of the own span. */
const ownMiddle = defineStep<Source | undefined>({
  name: 'own_middle',
  on: 'battery',
  axes: [],
  compute: read => sourceInTheMiddle(read),
});

function sourceInTheMiddle(read: Read): Source | undefined {
  const converter = converterOf(read);
  const { bottom, top } = socSpan(read, read.self, read.duty);
  return converter && sourceAt(read, converter, read.duty, (bottom + top) / 2);
}

type PowerAt = (at: { readonly direction: number; readonly voltage: number }) => number;

function powerFrom(read: Read, converter: Component, duty: Component, source: Source | undefined): PowerAt {
  const route = read.route(converter, read.unitLost(duty));
  const way = dcWayUnder(read, converter, duty);
  if (source === undefined || route === undefined || way === undefined) return () => Number.NaN;
  return ({ direction, voltage }) => {
    const taken = read.figure(converter, dcSide.figure.power, { direction, voltage, soc: 0 }, duty);
    return powerOfSource(source, way, route.batteryShare, taken);
  };
}

/** W at the terminals of the battery where its converter's DC side takes this power; NaN where no current delivers it. */
export function powerOfSource(source: Source, way: DcWay, share: number, taken: number): number {
  const { stores, group, part, emf, resistance } = source;
  const solved = alongDcWay(way, stores, share, taken);
  if (solved?.ok !== true) return Number.NaN;
  const current = solved.stores[group]!.current * part;
  return current * (emf - current * resistance);
}

/**
 * Power at the battery's terminals behind the cables, all routes together, in the middle of the duty's span: W, positive
 * while discharging. Of several side by side, its part over a whole run.
 */
export function terminalPower(read: Read, converter: Component, duty: Component): PowerAt {
  return powerFrom(read, converter, duty, read.step(read.self, middleSource, noPoint, duty));
}

/**
 * As `terminalPower` at nominal network voltage, delivering where the duty asks for that: the directions differ by what
 * their losses differ, and a duty that only absorbs has the other one alone.
 */
export function usualPower(read: Read, converter: Component, duty: Component): number {
  return usual(terminalPower(read, converter, duty));
}

/** The same at a state of charge. */
export function usualPowerAt(read: Read, converter: Component, duty: Component, soc: number): number {
  return usual(powerFrom(read, converter, duty, sourceAt(read, converter, duty, soc)));
}

function usual(power: PowerAt): number {
  const delivering = power({ direction: 0, voltage: 1 });
  return Number.isNaN(delivering) ? power({ direction: 1, voltage: 1 }) : delivering;
}

export function converterOf(read: Read): Component | undefined {
  const route = read.route(read.self);
  return route === undefined ? undefined : read.component(route.converter);
}

export interface DutyRun extends DischargeResult {
  readonly limit: Limit;
}

/** A discharge at the duty's power from the top of its span until the bottom or a limit of the battery. */
export const dischargeRun = defineStep<DutyRun | undefined>({
  name: 'discharge_run',
  on: 'battery',
  axes: ['duty', 'direction', 'voltage'],
  compute: (read, at) => {
    const battery = read.step(read.self, dutyBattery, noPoint);
    const converter = converterOf(read);
    if (battery === undefined || converter === undefined || Number.isNaN(read.number(read.demand, 'discharge')))
      return undefined;
    const span = socSpan(read, read.self, read.demand);
    const power = terminalPower(read, converter, read.demand)(at);
    if (!(power > 0)) return undefined;
    const found = atItsRate(battery, power, span, capacity => runOf(battery, power, span, capacity));
    const rated = read.reading(read.self, 'capacity');
    if (rated !== undefined) read.reach(read.self, 'capacity', rated, found.current / battery.strings);
    return found.run;
  },
});

interface Span {
  readonly bottom: number;
  readonly top: number;
}

/**
 * Capacity and run settle together: the capacity is that of the run's mean current. Starts from the current in the
 * middle of the span, which is all that is needed where the capacity is one for all rates.
 */
function atItsRate(battery: DutyBattery, power: number, span: Span, run: (capacity: number) => DutyRun) {
  let current = power / battery.emf((span.bottom + span.top) / 2);
  let found = run(battery.capacity(current));
  for (let round = 0; round < 12; round++) {
    const capacity = battery.capacity(current);
    const mean = found.time > 0 ? (capacity * (span.top - found.socEnd)) / found.time : current;
    if (!(Math.abs(mean - current) > 1e-6 * current)) break;
    current = mean;
    const next = battery.capacity(current);
    if (next === capacity) break;
    found = run(next);
  }
  return { run: found, current };
}

/** Under the lasting limit; where that ends it and the duty is short, on under the short-time limit for its time. */
function runOf(battery: DutyBattery, power: number, span: Span, capacity: number): DutyRun {
  const facts = {
    emf: battery.emf,
    resistance: battery.resistance,
    knots: battery.knots,
    capacity,
    power,
    socFrom: span.top,
    socTo: span.bottom,
    voltageMin: battery.voltageMin,
  };
  const lasting = discharge({ ...facts, currentMax: battery.lastingLimit });
  if (lasting.stopped !== 'current' || !Number.isFinite(battery.longest))
    return { ...lasting, limit: limitOf(lasting.stopped, false) };
  const timeLimit = lasting.time + battery.longest;
  const short = discharge({ ...facts, currentMax: battery.dischargeLimit, timeLimit });
  return { ...short, limit: limitOf(short.stopped, true) };
}

function limitOf(stopped: DischargeStop, short: boolean): Limit {
  const names = {
    soc: 'soc',
    voltage: 'least_voltage',
    current: short ? 'pulse_current' : 'discharge_current',
    power: 'power_collapse',
    time: 'pulse_time',
  } as const;
  return names[stopped];
}

export const dischargeTime = defineResult({
  name: 'discharge_time',
  on: 'battery',
  dimension: 'time',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'How long the battery delivers the duty’s power from the top of its span down to the bottom, or to a limit of its own.',
  formula: 't = C · ∫ d soc / I(soc), I at constant power',
  source: 'd soc/dt = −I/C, integrated',
  compute: (read, at) => read.step(read.self, dischargeRun, at)?.time ?? Number.NaN,
  limit: (read, at) => read.step(read.self, dischargeRun, at)?.limit,
});

export const energy = defineResult({
  name: 'energy',
  on: 'battery',
  dimension: 'energy',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Energy at the battery’s terminals over that discharge.',
  formula: 'W = ∫ U·I dt',
  source: 'conservation of energy: chemical = delivered + I²·R',
  compute: (read, at) => read.step(read.self, dischargeRun, at)?.energy ?? Number.NaN,
});

export const dischargeEndSoc = defineResult({
  name: 'discharge_end_soc',
  on: 'battery',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'State of charge at which that discharge ends: the bottom of the span, or where a limit of the battery stops it.',
  formula: 'soc where U = U_min or I = I_limit, else soc_min',
  source: 'd soc/dt = −I/C, integrated',
  compute: (read, at) => read.step(read.self, dischargeRun, at)?.socEnd ?? Number.NaN,
  limit: (read, at) => read.step(read.self, dischargeRun, at)?.limit,
});

export const fullPowerSoc = defineResult({
  name: 'full_power_soc',
  on: 'battery',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Lowest state of charge at which the duty’s full power is there: battery within its limits, and voltage enough for the converter.',
  formula: 'I ≤ I_limit, U ≥ U_min and k·U_dc ≥ U_c, solved for soc',
  source: 'definition',
  compute: (read, at) => {
    const obstacle = obstacles(read, at);
    return obstacle === undefined ? Number.NaN : lowestThatHolds(soc => obstacle(soc) === undefined);
  },
  limit: (read, at) => {
    const obstacle = obstacles(read, at);
    const lowest = obstacle && lowestThatHolds(soc => obstacle(soc) === undefined);
    return lowest === undefined || !(lowest > 0) ? undefined : obstacle?.(lowest - 1e-9);
  },
});

/** What stands against the duty's full power at a state of charge, the first that does; undefined where facts are missing. */
function obstacles(read: Read, at: At): ((soc: number) => Limit | undefined) | undefined {
  const converter = converterOf(read);
  if (converter === undefined || wayOf(read, read.demand) === 'charge') return undefined;
  const bank = bankUnder(read, converter);
  const place = bank?.packs.findIndex(({ battery }) => battery === read.self) ?? -1;
  const own = bank?.packs[place];
  if (bank === undefined || own === undefined) return undefined;
  const { model } = own;
  const power = read.figure(converter, dcSide.figure.power, { direction: at.direction, voltage: at.voltage, soc: 0 });
  const needed = read.value(converter, terminalVoltage, at) / read.value(converter, modulationFactor, at);
  const dc = dcWayUnder(read, converter);
  if (dc === undefined || Number.isNaN(power) || Number.isNaN(needed)) return undefined;
  const share = read.route(converter)!.batteryShare;
  return soc => {
    const stores = bank.at(bank.packs.map(() => soc));
    const solved = alongDcWay(dc, stores, share, power);
    if (solved?.ok !== true) return 'power_collapse';
    const carried = carriedBy(own, soc, currentOf(bank, place, stores, solved.stores) / share);
    if (carried.voltage < model.voltageMin(soc)) return 'least_voltage';
    if (carried.current > model.dischargeLimit(soc))
      return Number.isFinite(model.longest) ? 'pulse_current' : 'discharge_current';
    return solved.converterVoltage < needed ? 'dc_voltage' : undefined;
  };
}

/** NaN where not even a full battery will do. */
function lowestThatHolds(holds: (soc: number) => boolean): number {
  if (!holds(1)) return Number.NaN;
  if (holds(0)) return 0;
  let low = 0;
  let high = 1;
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

export const energyResults = [dischargeTime, energy, dischargeEndSoc, fullPowerSoc];
