// How long the battery lasts, what it gives, and how long filling it up again takes.
import type { Component } from '../model/plant.ts';
import { charge } from '../physics/charge.ts';
import { type DischargeResult, discharge } from '../physics/discharge.ts';
import { type BatteryModel, batteryModel, socSpan } from './battery-model.ts';
import { modulationFactor, terminalVoltage } from './converter-voltage.ts';
import { defineResult, defineStep } from './definition.ts';
import { dcAt, dcResistance, dcSide } from './flow.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** Power at the battery's terminals behind the cables, all routes together: W, positive while discharging. */
function terminalPower(
  read: Read,
  converter: Component,
  duty: Component,
  at: { direction: number; voltage: number },
  soc: number,
): number {
  const side = read.step(converter, dcSide, { ...at, soc: 0 }, duty);
  const model = read.step(read.self, batteryModel, noPoint);
  const route = read.route(converter);
  if (side === undefined || model === undefined || route === undefined) return Number.NaN;
  const wires = read.step(converter, dcResistance, noPoint, duty) ?? 0;
  const solved = dcAt(model.emf(soc), model.resistance(soc) / route.batteryShare, wires, side.power);
  return solved?.ok === true ? (solved.current * solved.batteryVoltage) / route.batteryShare : Number.NaN;
}

/**
 * As `terminalPower` at nominal network voltage, delivering where the duty asks for that: the directions differ by what
 * their losses differ, and a duty that only absorbs has the other one alone.
 */
function usualPower(read: Read, converter: Component, duty: Component, soc: number): number {
  const delivering = terminalPower(read, converter, duty, { direction: 0, voltage: 1 }, soc);
  return Number.isNaN(delivering)
    ? terminalPower(read, converter, duty, { direction: 1, voltage: 1 }, soc)
    : delivering;
}

function converterOf(read: Read): Component | undefined {
  const route = read.route(read.self);
  return route === undefined ? undefined : read.component(route.converter);
}

/** A discharge at the duty's power from the top of its span until the bottom or a limit of the battery. */
const run = defineStep<DischargeResult | undefined>({
  name: 'discharge_run',
  on: 'battery',
  axes: ['duty', 'direction', 'voltage'],
  compute: (read, at) => {
    const model = read.step(read.self, batteryModel, noPoint);
    const converter = converterOf(read);
    if (model === undefined || converter === undefined || Number.isNaN(read.number(read.demand, 'discharge')))
      return undefined;
    const span = socSpan(read, read.self, read.demand);
    const power = terminalPower(read, converter, read.demand, at, (span.bottom + span.top) / 2);
    if (!(power > 0)) return undefined;
    const current = power / model.emf((span.bottom + span.top) / 2);
    const rated = read.reading(read.self, 'capacity');
    if (rated !== undefined) read.reach(read.self, 'capacity', rated, current / model.strings);
    return discharge({
      ...curvesOf(model, current),
      power,
      socFrom: span.top,
      socTo: span.bottom,
      voltageMin: model.voltageMin,
      currentMax: model.dischargeLimit,
    });
  },
});

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
  compute: (read, at) => read.step(read.self, run, at)?.time ?? Number.NaN,
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
  compute: (read, at) => read.step(read.self, run, at)?.energy ?? Number.NaN,
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
  compute: (read, at) => read.step(read.self, run, at)?.socEnd ?? Number.NaN,
});

export const rechargeTime = defineResult({
  name: 'recharge_time',
  on: 'battery',
  dimension: 'time',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Time to fill the battery from the bottom to the top of its span at its own charge limits, taper included.',
  formula: 't = C · ∫ d soc / I(soc), I the least of current limit and (U_max − E)/R',
  source: 'd soc/dt = I/C, integrated',
  compute: read => {
    const model = read.step(read.self, batteryModel, noPoint);
    if (model === undefined) return Number.NaN;
    const span = socSpan(read, read.self, undefined);
    const limited = Number.isFinite(model.chargeLimit(span.bottom));
    if (!limited) return Number.NaN;
    const filled = charge({
      ...curvesOf(model, model.chargeLimit(span.bottom)),
      currentLimit: model.chargeLimit,
      voltageMax: model.voltageMax,
      socFrom: span.bottom,
      socTo: span.top,
    });
    return filled.stopped === 'soc' ? filled.time : Number.NaN;
  },
});

export const refillTime = defineResult({
  name: 'refill_time',
  on: 'battery',
  dimension: 'time',
  axes: ['duty'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Time to put back what one run of a discharge duty takes out, at the battery’s charge limits and at the largest power of any charge duty.',
  formula: 't = C · ∫ d soc / I(soc), from where the run ends back to the top',
  source: 'd soc/dt = ±I/C, integrated',
  compute: read => {
    const model = read.step(read.self, batteryModel, noPoint);
    const converter = converterOf(read);
    const duration = read.number(read.demand, 'duration');
    if (model === undefined || converter === undefined || Number.isNaN(duration)) return Number.NaN;
    if (Number.isNaN(read.number(read.demand, 'discharge'))) return Number.NaN;
    const span = socSpan(read, read.self, read.demand);
    const power = usualPower(read, converter, read.demand, (span.bottom + span.top) / 2);
    if (!(power > 0)) return Number.NaN;
    const spent = discharge({
      ...curvesOf(model, power / model.emf(span.top)),
      power,
      socFrom: span.top,
      socTo: 0,
      voltageMin: 0,
      currentMax: () => Number.POSITIVE_INFINITY,
      timeLimit: duration,
    });
    const limit = Math.max(
      0,
      ...read.duties.map(duty => -usualPower(read, converter, duty, span.top)).filter(Number.isFinite),
    );
    const filled = charge({
      ...curvesOf(model, model.chargeLimit(span.bottom)),
      currentLimit: model.chargeLimit,
      voltageMax: model.voltageMax,
      socFrom: spent.socEnd,
      socTo: span.top,
      ...(limit > 0 ? { powerLimit: limit } : {}),
    });
    return filled.stopped === 'soc' && Number.isFinite(filled.time) ? filled.time : Number.NaN;
  },
});

/** What a run of the battery needs; its capacity by the rate of about this current. */
function curvesOf({ emf, resistance, capacity, knots }: BatteryModel, current: number) {
  return { emf, resistance, capacity: capacity(Number.isFinite(current) ? current : 0), knots };
}

export const yearlyThroughput = defineResult({
  name: 'yearly_throughput',
  on: 'battery',
  dimension: 'energy',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Energy that the battery delivers in a year of 365 days if every repeated discharge duty runs as often as it says.',
  formula: 'W_a = Σ P · t_duration · (365 d / t_repeat)',
  source: 'definition',
  compute: read => {
    const converter = converterOf(read);
    if (converter === undefined) return Number.NaN;
    let sum = 0;
    for (const duty of read.duties) {
      const duration = read.number(duty, 'duration');
      const repeat = read.number(duty, 'repeat');
      const span = socSpan(read, read.self, duty);
      const power = usualPower(read, converter, duty, (span.bottom + span.top) / 2);
      if (power > 0 && duration > 0 && repeat > 0) sum += (power * duration * 365 * 86_400) / repeat;
    }
    return sum > 0 ? sum : Number.NaN;
  },
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
    const converter = converterOf(read);
    const model = read.step(read.self, batteryModel, noPoint);
    if (converter === undefined || model === undefined || Number.isNaN(read.number(read.demand, 'discharge')))
      return Number.NaN;
    const side = read.step(converter, dcSide, { ...at, soc: 0 });
    const needed = read.value(converter, terminalVoltage, at) / read.value(converter, modulationFactor, at);
    if (side === undefined || Number.isNaN(needed)) return Number.NaN;
    const share = read.route(converter)!.batteryShare;
    const wires = read.step(converter, dcResistance, noPoint) ?? 0;
    const holds = (soc: number): boolean => {
      const solved = dcAt(model.emf(soc), model.resistance(soc) / share, wires, side.power);
      if (solved?.ok !== true || solved.converterVoltage < needed) return false;
      return solved.batteryVoltage >= model.voltageMin && solved.current / share <= model.dischargeLimit(soc);
    };
    return lowestThatHolds(holds);
  },
});

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

export const energyResults = [
  dischargeTime,
  energy,
  dischargeEndSoc,
  rechargeTime,
  refillTime,
  yearlyThroughput,
  fullPowerSoc,
];
