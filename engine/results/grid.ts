// Results of the network: its voltage band and the fault current at the connection.
import { voltageChange as changeOf, networkFaultCurrent, networkImpedance } from '../physics/grid.ts';
import { type At, defineResult } from './definition.ts';
import { flow, forms } from './flow.ts';
import { ratedPower } from './reactive.ts';
import type { Read } from './read.ts';

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
  source: 'definition; IEC 60909-0 with the fault power as stated (from memory)',
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
  source: 'definition; IEC 60909-0 with the fault power as stated (from memory)',
  compute: read =>
    networkFaultCurrent(read.number(read.self, 'voltage'), read.number(read.self, 'fault_power', 'high')) ?? Number.NaN,
});

export const voltageChange = defineResult({
  name: 'voltage_change',
  on: 'grid',
  dimension: 'ratio',
  axes: ['duty', 'direction'],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning:
    'Change of the voltage at the connection point when the duty begins or ends, at the lowest fault power, as a magnitude.',
  formula: 'ΔU/U = |R·ΔP + X·ΔQ| / U²',
  source: 'circuit theory, first order; IEC TR 61000-3-7 takes the same form (from memory)',
  compute: (read, at) => {
    // On an island there is no network to change the voltage of.
    if (forms(read, read.demand)) return Number.NaN;
    const faultPower = read.number(read.self, 'fault_power', 'low');
    const nominal = read.number(read.self, 'voltage');
    const impedance = networkImpedance(nominal, faultPower, read.number(read.self, 'x_over_r'));
    const powers = crossing(read, at);
    if (!impedance.ok || powers === undefined) return Number.NaN;
    return Math.abs(changeOf(impedance, nominal, powers.active, powers.reactive) ?? Number.NaN);
  },
});

/** Powers of all converters at the connection point under the duty, at nominal voltage. */
function crossing(read: Read, at: At): { active: number; reactive: number } | undefined {
  let active = 0;
  let reactive = 0;
  let any = false;
  for (const route of read.routes(read.self)) {
    const converter = read.component(route.converter);
    const solved =
      converter === undefined
        ? undefined
        : read.step(converter, flow, { direction: at.direction, voltage: 1, soc: at.soc });
    if (solved?.ok !== true) continue;
    any = true;
    active += solved.ladder.activePower[0]!;
    reactive += solved.ladder.reactivePower[0]!;
  }
  return any ? { active, reactive } : undefined;
}

export const shortCircuitRatio = defineResult({
  name: 'short_circuit_ratio',
  on: 'grid',
  dimension: 'count',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Lowest short-circuit power at the connection point over the rated power of all converters on it together: how firmly the network leads them.',
  formula: 'SCR = S_k,min / Σ S_r',
  source: 'definition; IEEE 1204 takes the same ratio for converters on weak networks (from memory)',
  compute: read => {
    let rated = 0;
    for (const route of read.routes(read.self)) {
      const converter = read.component(route.converter);
      rated += converter === undefined ? Number.NaN : read.value(converter, ratedPower, noPoint);
    }
    return rated > 0 ? read.number(read.self, 'fault_power', 'low') / rated : Number.NaN;
  },
});

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

export const gridResults = [
  voltageLow,
  voltageHigh,
  faultCurrentMin,
  faultCurrentMax,
  shortCircuitRatio,
  voltageChange,
];
