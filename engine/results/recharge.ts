// How long filling the battery takes: within its own limits, after a duty, and by a charge duty.
import { type Charge, type ChargeResult, charge } from '../physics/charge.ts';
import { discharge } from '../physics/discharge.ts';
import { type BatteryModel, batteryModel, socSpan } from './battery-model.ts';
import { defineResult, defineStep, type Limit } from './definition.ts';
import { dutyBattery, wayOf } from './duty-battery.ts';
import { converterOf, terminalPower, usualPower, usualPowerAt } from './energy.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** What a charge needs of the battery, at the capacity that a discharge of this current leaves to be put back. */
function curvesOf({ emf, resistance, capacity, knots, voltageMax }: BatteryModel, current = 0) {
  return { emf, resistance, capacity: capacity(current), knots, voltageMax };
}

/** The law under which the charge spends most of its time, or what stops it on the way. */
function limitOf({ stopped, phases }: ChargeResult): Limit {
  if (stopped === 'tail') return 'greatest_voltage';
  if (stopped === 'current') return 'charge_current';
  const names = { current: 'charge_current', power: 'charging_power', voltage: 'greatest_voltage' } as const;
  const times = (law: keyof typeof names) =>
    phases.filter(phase => phase.law === law).reduce((sum, { time }) => sum + time, 0);
  const laws = (['current', 'power', 'voltage'] as const).toSorted((a, b) => times(b) - times(a));
  return names[laws[0]!];
}

/** Without any bound a charge takes no time, which says nothing. */
function isBounded({ currentLimit, voltageMax, powerLimit, power, socFrom }: Charge): boolean {
  const volts = typeof voltageMax === 'number' ? voltageMax : voltageMax(socFrom);
  return [currentLimit(socFrom), volts, powerLimit ?? Infinity, power ?? Infinity].some(Number.isFinite);
}

const rechargeRun = defineStep<ChargeResult | undefined>({
  name: 'recharge_run',
  on: 'battery',
  axes: [],
  compute: read => {
    const model = read.step(read.self, batteryModel, noPoint);
    if (model === undefined) return undefined;
    const span = socSpan(read, read.self, undefined);
    // The voltage alone would let an endless current in at the bottom.
    if (!Number.isFinite(model.chargeLimit(span.bottom))) return undefined;
    return charge({ ...curvesOf(model), currentLimit: model.chargeLimit, socFrom: span.bottom, socTo: span.top });
  },
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
    const filled = read.step(read.self, rechargeRun, noPoint);
    return filled?.stopped === 'soc' ? filled.time : Number.NaN;
  },
  limit: read => {
    const filled = read.step(read.self, rechargeRun, noPoint);
    return filled && limitOf(filled);
  },
});

export const taperSoc = defineResult({
  name: 'taper_soc',
  on: 'battery',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'State of charge from which on that filling tapers: the greatest voltage is reached, and the current falls. Unknown where the current limit holds to the top.',
  formula: 'soc where E + I·R = U_max',
  source: 'Kirchhoff',
  compute: read => read.step(read.self, rechargeRun, noPoint)?.taper?.soc ?? Number.NaN,
});

interface Refill extends ChargeResult {
  readonly socFrom: number;
}

/** What one run of a discharge duty takes out, put back again. */
const refillRun = defineStep<Refill | undefined>({
  name: 'refill_run',
  on: 'battery',
  axes: ['duty'],
  compute: read => {
    if (wayOf(read, read.demand) === 'charge') return undefined;
    const model = read.step(read.self, dutyBattery, noPoint);
    const converter = converterOf(read);
    const duration = read.number(read.demand, 'duration');
    if (model === undefined || converter === undefined || Number.isNaN(duration)) return undefined;
    const span = socSpan(read, read.self, read.demand);
    const power = usualPower(read, converter, read.demand);
    if (!(power > 0)) return undefined;
    const curves = curvesOf(model, power / model.emf(span.top));
    const spent = discharge({
      ...curves,
      power,
      socFrom: span.top,
      socTo: 0,
      voltageMin: 0,
      currentMax: () => Number.POSITIVE_INFINITY,
      timeLimit: duration,
    });
    const largest = Math.max(
      0,
      ...read.duties.map(duty => -usualPowerAt(read, converter, duty, span.top)).filter(Number.isFinite),
    );
    const facts = {
      ...curves,
      currentLimit: model.chargeLimit,
      socFrom: spent.socEnd,
      socTo: span.top,
      ...(largest > 0 ? { powerLimit: largest } : {}),
    };
    return isBounded(facts) ? { ...charge(facts), socFrom: spent.socEnd } : undefined;
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
    const filled = read.step(read.self, refillRun, noPoint);
    return filled?.stopped === 'soc' ? filled.time : Number.NaN;
  },
  limit: read => {
    const filled = read.step(read.self, refillRun, noPoint);
    return filled && limitOf(filled);
  },
});

export const refillSoc = defineResult({
  name: 'refill_soc',
  on: 'battery',
  dimension: 'ratio',
  axes: ['duty'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'State of charge that refilling after one run of a discharge duty comes back to: the top of the span, or where no current goes in any more.',
  formula: 'soc where I(soc) = 0 or has tapered to a hundredth of the capacity in an hour, else soc_max',
  source: 'd soc/dt = I/C, integrated; the end of the taper: common practice, no source',
  compute: read => read.step(read.self, refillRun, noPoint)?.socEnd ?? Number.NaN,
  limit: read => {
    const filled = read.step(read.self, refillRun, noPoint);
    return filled && limitOf(filled);
  },
});

export const chargeRun = defineStep<ChargeResult | undefined>({
  name: 'charge_run',
  on: 'battery',
  axes: ['duty', 'direction', 'voltage'],
  compute: (read, at) => {
    const model = read.step(read.self, dutyBattery, noPoint);
    const converter = converterOf(read);
    if (model === undefined || converter === undefined || wayOf(read, read.demand) === 'discharge') return undefined;
    const span = socSpan(read, read.self, read.demand);
    const power = -terminalPower(read, converter, read.demand)(at);
    if (!(power > 0)) return undefined;
    const limits = { currentLimit: model.chargeLimit, socFrom: span.bottom, socTo: span.top };
    return charge({ ...curvesOf(model), ...limits, power });
  },
});

export const chargeTime = defineResult({
  name: 'charge_time',
  on: 'battery',
  dimension: 'time',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'How long a charge duty takes from the bottom to the top of its span: at its power as long as the battery takes it, then at the battery’s limits.',
  formula: 't = C · ∫ d soc / I(soc), I the least of power, current limit and (U_max − E)/R',
  source: 'd soc/dt = I/C, integrated',
  compute: (read, at) => {
    const filled = read.step(read.self, chargeRun, at);
    return filled?.stopped === 'soc' ? filled.time : Number.NaN;
  },
  limit: (read, at) => {
    const filled = read.step(read.self, chargeRun, at);
    return filled && limitOf(filled);
  },
});

export const fullPowerEnd = defineResult({
  name: 'full_power_end',
  on: 'battery',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'State of charge up to which the battery takes the full power of a charge duty.',
  formula: 'soc where E + I·R = U_max or I = I_limit at that power, else soc_max',
  source: 'Kirchhoff, limits as stated',
  compute: (read, at) => {
    const first = read.step(read.self, chargeRun, at)?.phases[0];
    if (first === undefined) return Number.NaN;
    return first.law === 'power' ? first.socTo : first.socFrom;
  },
  limit: (read, at) => {
    const phases = read.step(read.self, chargeRun, at)?.phases;
    const binding = phases?.find(({ law }) => law !== 'power')?.law;
    return binding === undefined ? 'soc' : binding === 'voltage' ? 'greatest_voltage' : 'charge_current';
  },
});

export const rechargeResults = [rechargeTime, taperSoc, refillTime, refillSoc, chargeTime, fullPowerEnd];
