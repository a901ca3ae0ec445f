// Results of the network: its voltage band and the fault current at the connection.
import { networkFaultCurrent } from '../physics/grid.ts';
import { defineResult } from './definition.ts';

export const voltageLow = defineResult({
  name: 'voltage_low',
  on: 'grid',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning: 'Lowest steady voltage at the connection point, line to line rms.',
  formula: 'U_min = lower end of the stated voltage',
  source: 'definition',
  compute: read => read.number(read.self, 'voltage', 'low'),
});

export const voltageHigh = defineResult({
  name: 'voltage_high',
  on: 'grid',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning: 'Highest steady voltage at the connection point, line to line rms.',
  formula: 'U_max = upper end of the stated voltage',
  source: 'definition',
  compute: read => read.number(read.self, 'voltage', 'high'),
});

export const faultCurrentMin = defineResult({
  name: 'fault_current_min',
  on: 'grid',
  dimension: 'current',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning: 'Three-phase fault current of the network at the connection point, at its lowest fault power.',
  formula: 'I_k = S_k / (√3·U_n)',
  source: 'definition; IEC 60909-0 with the fault power as stated',
  compute: read =>
    networkFaultCurrent(read.number(read.self, 'voltage'), read.number(read.self, 'fault_power', 'low')) ?? Number.NaN,
});

export const faultCurrentMax = defineResult({
  name: 'fault_current_max',
  on: 'grid',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning: 'Three-phase fault current of the network at the connection point, at its highest fault power.',
  formula: 'I_k = S_k / (√3·U_n)',
  source: 'definition; IEC 60909-0 with the fault power as stated',
  compute: read =>
    networkFaultCurrent(read.number(read.self, 'voltage'), read.number(read.self, 'fault_power', 'high')) ?? Number.NaN,
});

export const gridResults = [voltageLow, voltageHigh, faultCurrentMin, faultCurrentMax];
