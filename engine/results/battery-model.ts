// The battery as its curves: what the computations of power, time and voltage are made from.
import type { Component } from '../model/plant.ts';
import { defineResult, defineStep } from './definition.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export interface BatteryModel {
  /** Of the whole battery. */
  readonly emf: (soc: number) => number;
  readonly resistance: (soc: number) => number;
  /** A·s at its state of health, at a current of the whole battery: by rate where that is stated. */
  readonly capacity: (current: number) => number;
  readonly dischargeLimit: (soc: number) => number;
  readonly chargeLimit: (soc: number) => number;
  /** Under load; 0 and Infinity where nothing is stated. */
  readonly voltageMin: (soc: number) => number;
  readonly voltageMax: (soc: number) => number;
  readonly knots: readonly number[];
  readonly strings: number;
}

export const batteryModel = defineStep<BatteryModel | undefined>({
  name: 'battery_model',
  on: 'battery',
  axes: [],
  shownAs: () => innerResults,
  compute: read => {
    const battery = read.self;
    const emf = openCircuitVoltage(read, battery);
    const resistance = stringResistance(read, battery);
    const strings = read.number(battery, 'strings');
    const capacity = capacityOf(read, battery);
    if (emf === undefined || resistance === undefined || !(capacity(0) > 0)) return undefined;
    const discharge = overCharge(read, battery, 'discharge_current');
    const charge = overCharge(read, battery, 'charge_current');
    const limits = read.step(battery, voltageWindow, noPoint) ?? noWindow;
    const parts = [emf, resistance, discharge, charge, limits.least, limits.greatest];
    return {
      emf: emf.of,
      resistance: soc => resistance.of(soc) / strings,
      capacity,
      dischargeLimit: discharge === undefined ? () => Number.POSITIVE_INFINITY : soc => discharge.of(soc) * strings,
      chargeLimit: charge === undefined ? () => Number.POSITIVE_INFINITY : soc => charge.of(soc) * strings,
      voltageMin: limits.least?.of ?? (() => 0),
      voltageMax: limits.greatest?.of ?? (() => Number.POSITIVE_INFINITY),
      knots: inOrder(parts.map(part => part?.knots ?? [])),
      strings,
    };
  },
});

/** All knots of several curves, each once; those of one curve are in order already. */
export function inOrder(lists: readonly (readonly number[])[]): readonly number[] {
  const some = lists.filter(list => list.length > 0);
  return some.length > 1 ? [...new Set(Float64Array.from(some.flat()).sort())] : (some[0] ?? []);
}

interface VoltageWindow {
  readonly least: OverCharge | undefined;
  readonly greatest: OverCharge | undefined;
}

const noWindow: VoltageWindow = { least: undefined, greatest: undefined };

/** Apart from the model, so that another curve at rest leaves it as it is: of one string, V. */
export const voltageWindow = defineStep<VoltageWindow>({
  name: 'voltage_window',
  on: 'battery',
  axes: [],
  compute: read => voltageLimits(read, read.self),
});

/** A·s of the whole battery at its state of health, at a current of the whole battery; NaN where nothing is stated. */
function capacityOf(read: Read, battery: Component): (current: number) => number {
  const strings = read.number(battery, 'strings');
  const health = read.number(battery, 'state_of_health');
  const reading = read.reading(battery, 'capacity');
  return current => (reading === undefined ? Number.NaN : reading.of(current / strings) * strings * health);
}

export const usableCapacity = defineResult({
  name: 'usable_capacity',
  on: 'battery',
  dimension: 'charge',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Capacity of the whole battery as it is now, from full to empty; by rate: at the smallest current stated.',
  formula: 'C = C_string(I) · strings · state of health',
  source: 'maker’s statement of the battery',
  compute: read => capacityOf(read, read.self)(0),
});

export const restVoltage = defineResult({
  name: 'rest_voltage',
  on: 'battery',
  dimension: 'voltage',
  axes: ['soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Voltage at rest at either end of the state-of-charge span.',
  formula: 'E(soc) = cells in series · e(soc)',
  source: 'open-circuit voltage as stated',
  compute: (read, at) =>
    openCircuitVoltage(read, read.self)?.of(read.number(read.self, 'soc', at.soc === 0 ? 'low' : 'high')) ?? Number.NaN,
});

export const innerResistance = defineResult({
  name: 'inner_resistance',
  on: 'battery',
  dimension: 'resistance',
  axes: ['soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Internal resistance of the whole battery at its temperature, at either end of the state-of-charge span.',
  formula: 'R = R_string(soc, ϑ) / strings; with one resistance for all temperatures R_string · growth(ϑ)',
  source: 'maker’s statement of the battery; growth over temperature as stated, or as customary for the chemistry',
  compute: (read, at) => {
    const string = stringResistance(read, read.self)?.of(read.number(read.self, 'soc', at.soc === 0 ? 'low' : 'high'));
    return string === undefined ? Number.NaN : string / read.number(read.self, 'strings');
  },
});

/** What the model is shown as. */
export const innerResults = [usableCapacity, restVoltage, innerResistance];

interface OverCharge {
  readonly of: (soc: number) => number;
  readonly knots: readonly number[];
}

/** Rest voltage over the state of charge (V): the stated curve, or a straight line through the stated window. */
function openCircuitVoltage(read: Read, battery: Component): OverCharge | undefined {
  const curve = read.reading(battery, 'open_circuit_voltage');
  if (curve !== undefined) {
    const factor = perString(read, battery, 'open_circuit_voltage');
    for (const soc of [read.number(battery, 'soc', 'low'), read.number(battery, 'soc', 'high')])
      read.at(battery, 'open_circuit_voltage', soc);
    return { of: soc => curve.of(soc) * factor, knots: curve.knots };
  }
  const low = read.number(battery, 'voltage', 'low');
  const high = read.number(battery, 'voltage', 'high');
  return Number.isNaN(low) ? undefined : { of: soc => low + (high - low) * soc, knots: [] };
}

/** A fact of one string over the state of charge, at the battery's temperature where that is its axis. */
export function overCharge(read: Read, battery: Component, property: string): OverCharge | undefined {
  const reading = read.along(battery, property, 'soc', read.number(battery, 'temperature'));
  if (reading === undefined) return undefined;
  for (const end of ['low', 'high'] as const) read.reach(battery, property, reading, read.number(battery, 'soc', end));
  return reading;
}

/** Of one string, ohm; one value for all temperatures grows as stated, or as is customary for the chemistry. */
function stringResistance(read: Read, battery: Component): OverCharge | undefined {
  const stated = overCharge(read, battery, 'resistance');
  if (stated === undefined || read.axesOf(battery, 'resistance').includes('temperature')) return stated;
  const growth = read.at(battery, 'resistance_growth', read.number(battery, 'temperature'));
  return Number.isNaN(growth) ? stated : { of: soc => stated.of(soc) * growth, knots: stated.knots };
}

/** Of one string, V: each end by its own fact where it varies, else by the window for all states. */
function voltageLimits(read: Read, battery: Component): VoltageWindow {
  const end = (property: string, corner: 'low' | 'high'): OverCharge | undefined => {
    const own = overCharge(read, battery, property);
    if (own !== undefined) {
      const factor = perString(read, battery, property);
      return { of: soc => own.of(soc) * factor, knots: own.knots };
    }
    const limit = read.number(battery, 'voltage_limits', corner) * perString(read, battery, 'voltage_limits');
    return Number.isNaN(limit) ? undefined : { of: () => limit, knots: [] };
  };
  return { least: end('least_voltage', 'low'), greatest: end('greatest_voltage', 'high') };
}

/** How many times a fact counts for a string. */
export function perString(read: Read, battery: Component, property: string): number {
  return read.perUnit(battery, property) === 'cell' ? read.number(battery, 'cells_in_series') : 1;
}

/** Asks the battery's voltage and resistance for a state of charge, so that one beyond their ends is found. */
export function askCurves(read: Read, battery: Component, soc: number): void {
  for (const property of ['open_circuit_voltage', 'resistance'])
    if (read.axisOf(battery, property) === 'soc') read.at(battery, property, soc);
}

/** The span of the state of charge that a duty uses: its own, or the battery's. */
export function socSpan(read: Read, battery: Component, duty: Component | undefined): { bottom: number; top: number } {
  const of = duty !== undefined && read.has(duty, 'soc') ? duty : battery;
  return { bottom: read.number(of, 'soc', 'low'), top: read.number(of, 'soc', 'high') };
}

/** The battery of the component's route, or the several that stand there side by side. */
export function batteriesOf(read: Read, component: Component = read.self): readonly Component[] {
  const tags = read.route(component)?.batteries ?? [];
  return tags.map(tag => read.component(tag)).filter(battery => battery !== undefined);
}
