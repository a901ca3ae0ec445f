// Results of the battery under a duty: voltages, currents, power available.
import { type AvailablePower, availableDischargePower } from '../physics/battery.ts';
import { batteryFlow, onlyConverter } from './battery-flow.ts';
import { batteryModel, overCharge, socSpan, voltageWindow } from './battery-model.ts';
import { difference, magnitude, product, same } from './columns.ts';
import { dcFlow } from './dc-flow.ts';
import { type At, defineFigures, defineResult } from './definition.ts';
import { limitProperty, spreadOf, stringsInService, wayOf } from './duty-battery.ts';
import type { Read } from './read.ts';
import { type Taken, there, where } from './taken.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** Of the battery's flow: of its converter's, which is the same, where the two have each other to themselves. */
function flowTaken(
  ofConverter: keyof typeof dcFlow.figure,
  own: keyof typeof batteryFlow.figure,
  make: typeof same,
): Taken {
  return where(onlyConverter, make(there(dcFlow.figure[ofConverter])), make(batteryFlow.figure[own]));
}

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
  taken: flowTaken('batteryVoltage', 'voltage', same),
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
  taken: flowTaken('batteryVoltage', 'voltage', same),
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
const towards = defineFigures({
  name: 'towards_limit',
  on: 'battery',
  axes: ['duty'],
  names: ['sign'],
  compute: read => [wayOf(read, read.demand) === 'charge' ? -1 : 1],
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
  taken: product(towards.figure.sign, difference(voltageMin, voltageLimit)),
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
  taken: flowTaken('whole', 'current', magnitude),
});

/** The part of the battery's current that the string carries which carries most. */
const mostLoaded = defineFigures({
  name: 'most_loaded_string',
  on: 'battery',
  axes: ['duty'],
  names: ['part'],
  compute: read => {
    const strings = read.value(read.self, stringsInService, noPoint);
    return [(1 + spreadOf(read, read.self, strings)) / strings];
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
  taken: product(current, mostLoaded.figure.part),
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
  taken: difference(stringLastingLimit, stringRmsCurrent),
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
  taken: difference(stringCurrentLimit, stringCurrent),
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
