// Voltages of the converter: what the duty needs at its terminals, and what its DC side can make of the battery.
import { solveBlockedLadder, solveLadder } from '../physics/ladder.ts';
import { effectiveModulation, type Modulation, voltageFactor } from '../physics/modulation.ts';
import { acPathAt } from './ac-path.ts';
import { excess, product, same } from './columns.ts';
import { dcFlow } from './dc-flow.ts';
import { defineResult } from './definition.ts';
import { flow, networkVoltage } from './flow.ts';
import { standingDcVoltage } from './standing-dc.ts';
import { starPointOf } from './star-point.ts';
import { takenFrom } from './taken.ts';

export const terminalVoltage = defineResult({
  name: 'terminal_voltage',
  on: 'converter',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Voltage that the duty needs at the converter terminals, fundamental, line to line rms.',
  formula: 'U_c = |U_n + Σ Z·I|, phasors stepped from the connection point through cables, transformer and filter',
  source: 'circuit theory: cascaded two-ports',
  taken: takenFrom(flow, solved => (solved?.ok === true ? solved.ladder.terminalVoltage : Number.NaN)),
});

export const idleVoltage = defineResult({
  name: 'idle_voltage',
  on: 'converter',
  dimension: 'voltage',
  axes: ['voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Voltage at the converter terminals with no power at the connection point, line to line rms.',
  formula: 'U_0 = |ladder at P = 0, Q = 0|',
  source: 'circuit theory: cascaded two-ports',
  compute: (read, at) => {
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    if (grid === undefined) return Number.NaN;
    const network = networkVoltage(read, grid, undefined, at);
    const path = acPathAt(read, network, at);
    const solved = path === undefined ? undefined : solveLadder(path.elements, network, 0, 0);
    return solved?.ok === true ? solved.terminalVoltage : Number.NaN;
  },
});

export const modulationFactor = defineResult({
  name: 'modulation_factor',
  on: 'converter',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Highest line-to-line fundamental, rms, for one volt of DC voltage, without overmodulation.',
  formula:
    'k = 1/√2 (space vector, third harmonic); √3/(2·√2) (sine, and wherever the star point on the converter’s side is earthed or loaded)',
  source: 'Mohan, Undeland, Robbins, Power Electronics, ch. 8 (from memory; recomputed by Fourier analysis)',
  compute: read => {
    const stated = read.word(read.self, 'modulation');
    const modulation: Modulation = stated === 'sine' || stated === 'third_harmonic' ? stated : 'space_vector';
    return voltageFactor[effectiveModulation(modulation, starPointOf(read))];
  },
});

export const dcVoltage = defineResult({
  name: 'dc_voltage',
  on: 'converter',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Voltage at the converter’s DC terminals under the duty.',
  formula: 'U_dc = E(soc) − I·(R_battery + R_cable); behind a chopper U_link − I·R_cable',
  source: 'Kirchhoff',
  taken: same(dcFlow.figure.voltage),
});

export const dcVoltageMin = defineResult({
  name: 'dc_voltage_min',
  on: 'converter',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Lowest DC voltage in operation: at rest at the bottom of the state-of-charge span, or under a duty; behind a chopper the lowest that it holds.',
  formula: 'U_dc,min = min(E(soc_min) or U_link, U_dc under every duty)',
  source: 'definition',
  compute: read => {
    const rest = standingDcVoltage(read, 'lowest');
    return smaller(rest, read.worst(read.self, dcVoltage, 'lowest'));
  },
});

export const dcVoltageMax = defineResult({
  name: 'dc_voltage_max',
  on: 'converter',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Highest DC voltage in operation: at rest at the top of the state-of-charge span, or while charging.',
  formula: 'U_dc,max = max(E(soc_max) or U_link, U_dc under every duty)',
  source: 'definition',
  compute: read => {
    const rest = standingDcVoltage(read, 'highest');
    return -smaller(-rest, -read.worst(read.self, dcVoltage, 'highest'));
  },
});

export const voltageAvailable = defineResult({
  name: 'voltage_available',
  on: 'converter',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Highest voltage that the converter can make from its DC voltage under the duty, line to line rms, before any margin.',
  formula: 'U_av = k · U_dc',
  source: 'modulation limit, see modulation_factor',
  taken: product(modulationFactor, dcVoltage),
});

export const voltageReserve = defineResult({
  name: 'voltage_reserve',
  on: 'converter',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'What the converter can make above what the duty needs, as a share of what it needs.',
  formula: 'U_av / U_c − 1',
  source: 'definition',
  taken: excess(voltageAvailable, terminalVoltage),
});

export const controlMargin = defineResult({
  name: 'control_margin',
  on: 'converter',
  dimension: 'ratio',
  axes: ['voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'What the converter can make above the idle voltage at its terminals, with the battery at rest at the bottom of its span, or with the link at the lowest voltage that its chopper holds.',
  formula: 'k · E(soc_min) / U_0 − 1; behind a chopper U_link for E',
  source: 'definition',
  compute: (read, at) => {
    const rest = standingDcVoltage(read, 'lowest');
    return (read.value(read.self, modulationFactor, at) * rest) / read.value(read.self, idleVoltage, at) - 1;
  },
});

export const noLoadReactivePower = defineResult({
  name: 'no_load_reactive_power',
  on: 'converter',
  dimension: 'reactive_power',
  axes: ['voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Reactive power that cables, transformer and filter deliver to the network while the converter carries no current; negative: they take it up.',
  formula: 'Q_0 = Q_C − Q_m, from the ladder with no current at the converter',
  source: 'circuit theory: cascaded two-ports',
  compute: (read, at) => {
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    if (grid === undefined) return Number.NaN;
    const network = networkVoltage(read, grid, undefined, at);
    const path = acPathAt(read, network, at);
    const solved = path === undefined ? undefined : solveBlockedLadder(path.elements, network, noImpedance);
    return solved?.ok === true ? solved.reactivePower[0]! : Number.NaN;
  },
});

const noImpedance = { resistance: 0, reactance: 0 };

/** The smaller of two numbers of which one may be missing. */
function smaller(a: number, b: number): number {
  if (Number.isNaN(a)) return b;
  return Number.isNaN(b) ? a : Math.min(a, b);
}

export const converterVoltageResults = [
  terminalVoltage,
  idleVoltage,
  modulationFactor,
  dcVoltage,
  dcVoltageMin,
  dcVoltageMax,
  voltageAvailable,
  voltageReserve,
  controlMargin,
  noLoadReactivePower,
];
