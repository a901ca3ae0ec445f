// Results of the battery: voltages at rest and under load, currents, power available.
import { type AvailablePower, availableDischargePower, socAtVoltage } from '../physics/battery.ts';
import { batteryFlow } from './battery-flow.ts';
import { batteryModel, overCharge, perString, socSpan, voltageWindow } from './battery-model.ts';
import { type At, defineResult, defineStep, takenFrom } from './definition.ts';
import { limitProperty, spreadOf, stringsInService, wayOf } from './duty-battery.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

function restVoltageAt(read: Read, soc: number): number {
  const model = read.step(read.self, batteryModel, noPoint);
  return model === undefined ? Number.NaN : model.emf(soc);
}

export const restVoltageMin = defineResult({
  name: 'rest_voltage_min',
  on: 'battery',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Voltage at rest at the bottom of the state-of-charge span.',
  formula: 'E(soc_min) = cells in series · e(soc_min)',
  source: 'open-circuit voltage as stated',
  compute: read => restVoltageAt(read, read.number(read.self, 'soc', 'low')),
});

export const restVoltageMax = defineResult({
  name: 'rest_voltage_max',
  on: 'battery',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Voltage at rest at the top of the state-of-charge span.',
  formula: 'E(soc_max) = cells in series · e(soc_max)',
  source: 'open-circuit voltage as stated',
  compute: read => restVoltageAt(read, read.number(read.self, 'soc', 'high')),
});

export const floorSoc = defineResult({
  name: 'floor_soc',
  on: 'battery',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Lowest state of charge at which the battery may still be connected.',
  formula: 'as stated by lowest_connected; else the bottom of the state-of-charge span',
  source: 'definition',
  compute: read => {
    const fact = read.numberFact(read.self, 'lowest_connected');
    if (fact === undefined) return read.number(read.self, 'soc', 'low');
    if (fact.dimension.unit !== 'V') return fact.nominal;
    const model = read.step(read.self, batteryModel, noPoint);
    if (model === undefined) return Number.NaN;
    const found = socAtVoltage(model.emf, fact.nominal * perString(read, read.self, 'lowest_connected'));
    if (found.ok) return found.soc;
    return found.side === 'below' ? 0 : 1;
  },
});

export const floorVoltage = defineResult({
  name: 'floor_voltage',
  on: 'battery',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Voltage at rest at the lowest state of charge at which the battery is still connected.',
  formula: 'E(soc_lowest)',
  source: 'open-circuit voltage as stated',
  compute: read => {
    const soc = read.value(read.self, floorSoc, noPoint);
    if (read.has(read.self, 'open_circuit_voltage')) read.at(read.self, 'open_circuit_voltage', soc);
    return restVoltageAt(read, soc);
  },
});

export const voltageMin = defineResult({
  name: 'voltage_min',
  on: 'battery',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Voltage at the battery terminals under the duty; the lowest counts.',
  formula: 'U_b = E(soc) − I·R',
  source: 'Kirchhoff',
  taken: takenFrom(batteryFlow, flow => flow?.voltage ?? Number.NaN),
});

export const voltageMax = defineResult({
  name: 'voltage_max',
  on: 'battery',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Voltage at the battery terminals under the duty; the highest counts.',
  formula: 'U_b = E(soc) − I·R, I negative while charging',
  source: 'Kirchhoff',
  taken: takenFrom(batteryFlow, flow => flow?.voltage ?? Number.NaN),
});

export const voltageLimit = defineResult({
  name: 'voltage_limit',
  on: 'battery',
  dimension: 'voltage',
  axes: ['duty', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Voltage that the duty may not pass: the least one while discharging, the greatest one while charging.',
  formula: 'as stated: voltage_limits, or least_voltage and greatest_voltage at soc and temperature',
  source: 'maker’s statement of the battery',
  compute: (read, at) => {
    const window = read.step(read.self, voltageWindow, at);
    const span = socSpan(read, read.self, read.demand);
    const limit = wayOf(read, read.demand) === 'charge' ? window?.greatest : window?.least;
    return limit?.of(at.soc === 0 ? span.bottom : span.top) ?? Number.NaN;
  },
});

/** 1 where the limit lies below, −1 where it lies above. */
const towards = defineStep<number>({
  name: 'towards_limit',
  on: 'battery',
  axes: ['duty'],
  compute: read => (wayOf(read, read.demand) === 'charge' ? -1 : 1),
});

export const voltageHeadroom = defineResult({
  name: 'voltage_headroom',
  on: 'battery',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Distance of the voltage under the duty from the limit in its direction; negative: the limit is passed.',
  formula: 'U_b − U_min while discharging, U_max − U_b while charging',
  source: 'definition',
  taken: takenFrom(
    voltageMin,
    voltageLimit,
    towards,
    (voltage, limit, sign) => (sign ?? Number.NaN) * (voltage - limit),
  ),
});

export const current = defineResult({
  name: 'current',
  on: 'battery',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Current of the whole battery under the duty, as a magnitude.',
  formula:
    'I = (E − √(E² − 4·R·P)) / (2·R), of several each behind its chopper with P_k = link_share · P_link / η; of several side by side I_k = I · (1/R_k) / Σ(1/R_k), each R_k with its cables',
  source: 'P = I·(E − I·R) solved for I',
  taken: takenFrom(batteryFlow, flow => Math.abs(flow?.current ?? Number.NaN)),
});

/** The part of the battery's current that the string carries which carries most. */
const mostLoaded = defineStep<number>({
  name: 'most_loaded_string',
  on: 'battery',
  axes: ['duty'],
  compute: read => {
    const strings = read.value(read.self, stringsInService, noPoint);
    return (1 + spreadOf(read, read.self, strings)) / strings;
  },
});

export const stringCurrent = defineResult({
  name: 'string_current',
  on: 'battery',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Current of the string that carries most under the duty, as a magnitude: the mean of all strings, and what the stated spread between them adds.',
  formula: 'I / strings in service · (1 + string_spread)',
  source: 'definition',
  taken: takenFrom(current, mostLoaded, (amperes, part) => amperes * (part ?? Number.NaN)),
});

export const stringCurrentLimit = defineResult({
  name: 'string_current_limit',
  on: 'battery',
  dimension: 'current',
  axes: ['duty', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Current that one string may carry in the direction of the duty and for its length, at the battery’s temperature.',
  formula:
    'as stated: pulse_discharge_current or pulse_charge_current where the duty is short enough, else discharge_current or charge_current',
  source: 'maker’s statement of the battery',
  compute: (read, at) => {
    const property = limitProperty(read, read.self, read.demand);
    const span = socSpan(read, read.self, read.demand);
    return overCharge(read, read.self, property)?.of(at.soc === 0 ? span.bottom : span.top) ?? Number.NaN;
  },
  limit: read => {
    const short = limitProperty(read, read.self, read.demand).startsWith('pulse_');
    return short ? 'pulse_current' : `${wayOf(read, read.demand)}_current`;
  },
});

export const stringRmsCurrent = defineResult({
  name: 'string_rms_current',
  on: 'battery',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Current of one string over a whole period of a repeated duty, root mean square, at rest in between.',
  formula: 'I · √(t_duration / t_repeat)',
  source: 'definition of the root mean square',
  compute: (read, at) => {
    const share = read.number(read.demand, 'duration') / read.number(read.demand, 'repeat');
    return read.value(read.self, stringCurrent, at) * Math.sqrt(share);
  },
});

export const stringLastingLimit = defineResult({
  name: 'string_lasting_limit',
  on: 'battery',
  dimension: 'current',
  axes: ['duty', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Current that one string may carry without end in the direction of the duty, at the battery’s temperature.',
  formula: 'as stated: discharge_current or charge_current',
  source: 'maker’s statement of the battery',
  compute: (read, at) => {
    const span = socSpan(read, read.self, read.demand);
    const limit = overCharge(read, read.self, `${wayOf(read, read.demand)}_current`);
    return limit?.of(at.soc === 0 ? span.bottom : span.top) ?? Number.NaN;
  },
});

export const stringRmsReserve = defineResult({
  name: 'string_rms_reserve',
  on: 'battery',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'What one string may carry without end beyond what a repeated duty amounts to over its period; negative: too much is asked.',
  formula: 'string_lasting_limit − string_rms_current',
  source: 'definition',
  taken: takenFrom(stringLastingLimit, stringRmsCurrent, (limit, amperes) => limit - amperes),
});

export const stringReserve = defineResult({
  name: 'string_reserve',
  on: 'battery',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'What one string may carry in the direction of the duty beyond what the duty needs; negative: too much is asked.',
  formula: 'string_current_limit − string_current',
  source: 'definition',
  taken: takenFrom(stringCurrentLimit, stringCurrent, (limit, amperes) => limit - amperes),
});

export const availablePower = defineResult({
  name: 'available_power',
  on: 'battery',
  dimension: 'active_power',
  axes: ['soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Power that the battery can give at its terminals within its current and voltage limits, at either end of its span.',
  formula: 'P = U·I with I = min(I_limit, (E − U_min)/R)',
  source: 'Kirchhoff, limits as stated',
  compute: (read, at) => availableAt(read, at)?.power ?? Number.NaN,
  limit: (read, at) => {
    const names = { current: 'discharge_current', voltage: 'least_voltage', collapse: 'power_collapse' } as const;
    const found = availableAt(read, at);
    return found && names[found.binding];
  },
});

function availableAt(read: Read, at: At): AvailablePower | undefined {
  const model = read.step(read.self, batteryModel, at);
  if (model === undefined) return undefined;
  const soc = read.number(read.self, 'soc', at.soc === 0 ? 'low' : 'high');
  return availableDischargePower({
    emf: model.emf(soc),
    resistance: model.resistance(soc),
    voltageMin: model.voltageMin(soc),
    currentLimit: model.dischargeLimit(soc),
  });
}

export const batteryResults = [
  restVoltageMin,
  restVoltageMax,
  floorSoc,
  floorVoltage,
  voltageMin,
  voltageMax,
  current,
  stringCurrent,
  stringCurrentLimit,
  stringReserve,
  stringRmsCurrent,
  stringLastingLimit,
  stringRmsReserve,
  voltageLimit,
  voltageHeadroom,
  availablePower,
];
