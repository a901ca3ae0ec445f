// Results of the battery without current: voltages at the ends of its span, and the lowest at which it is connected.
import { socAtVoltage } from '../physics/battery.ts';
import { batteryModel, perString } from './battery-model.ts';
import { defineResult } from './definition.ts';
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

export const restResults = [restVoltageMin, restVoltageMax, floorSoc, floorVoltage];
