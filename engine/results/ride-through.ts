// What a converter must stand while the network dips, swells or changes its frequency: current, voltage, diodes.
import type { Component } from '../model/plant.ts';
import { noLoadVoltage, solveLadder } from '../physics/ladder.ts';
import { type Envelope, longestRide } from '../physics/ride-through.ts';
import { acPath, blockedPath, sourceImpedance } from './ac-path.ts';
import { ratedCurrent } from './converter-current.ts';
import { modulationFactor } from './converter-voltage.ts';
import { defineResult } from './definition.ts';
import { conductionAt } from './diodes.ts';
import { askedEnvelope, type EnvelopeProperty } from './envelope.ts';
import { demand, forms } from './flow.ts';
import { choppersOf } from './link.ts';
import type { Read } from './read.ts';
import { standingDcVoltage } from './standing-dc.ts';
import { blockedStates, openingIn } from './states.ts';

const noPoint = { direction: 0, voltage: 1, soc: 0 };

function gridOf(read: Read): Component | undefined {
  const tag = read.route(read.self)?.grid;
  return tag === undefined ? undefined : read.component(tag);
}

function asked(read: Read, property: EnvelopeProperty): Envelope | undefined {
  const grid = gridOf(read);
  return grid === undefined ? undefined : askedEnvelope(read, grid, property);
}

/** V at the connection point in the highest swell or the lowest dip; NaN where no curve asks for one. */
function extreme(read: Read, property: EnvelopeProperty): number {
  const grid = gridOf(read);
  const first = asked(read, property)?.points[0]?.level;
  return grid === undefined || first === undefined ? Number.NaN : first * read.number(grid, 'voltage');
}

export const swellPeak = defineResult({
  name: 'swell_peak',
  on: 'converter',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning: 'Crest of the voltage at the blocked converter in the highest swell that must be ridden through.',
  formula: 'Û_s = √2 · U_b at the first level of high_voltage_ride_through',
  source: 'circuit theory: the ladder with no current at the converter',
  compute: read => {
    const voltage = extreme(read, 'high_voltage_ride_through') * (1 + unbalance(read));
    const path = Number.isNaN(voltage) ? undefined : read.step(read.self, blockedPath, noPoint);
    const source = path && sourceImpedance(read, 'weakest');
    if (path === undefined || source === undefined) return Number.NaN;
    const found = noLoadVoltage(path.elements, voltage, source);
    return found.ok ? Math.SQRT2 * found.voltage : Number.NaN;
  },
});

function unbalance(read: Read): number {
  const grid = gridOf(read);
  const stated = grid === undefined ? Number.NaN : read.number(grid, 'unbalance', 'high');
  return Number.isNaN(stated) ? 0 : stated;
}

export const swellMargin = defineResult({
  name: 'swell_margin',
  on: 'converter',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'all tolerances at their worst',
  meaning:
    'What the battery rests above the crest of the highest swell at the lowest state of charge at which it is still connected; negative: blocked diodes conduct.',
  formula: 'E(soc_lowest) / Û_s − 1',
  source: 'six-pulse bridge: no conduction while U_dc > √2·U',
  compute: read => {
    const peak = read.value(read.self, swellPeak, noPoint);
    return Number.isNaN(peak) ? Number.NaN : standingDcVoltage(read, 'connected') / peak - 1;
  },
});

export const swellTime = defineResult({
  name: 'swell_time',
  on: 'converter',
  dimension: 'time',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning: 'How long a swell can lift the blocked crest above the battery, as long as no device opens sooner.',
  formula: 't: level(t) · Û_s / level(0) = E(soc_lowest); at most the slowest opening time',
  source: 'definition',
  compute: read => {
    const envelope = asked(read, 'high_voltage_ride_through');
    const margin = read.value(read.self, swellMargin, noPoint);
    if (envelope === undefined || Number.isNaN(margin)) return Number.NaN;
    if (margin >= 0) return 0;
    const lasts = longestRide(envelope, envelope.points[0]!.level * (1 + margin)) ?? 0;
    const times = blockedStates.map(state => openingIn(read, read.self, state).time);
    const slowest = times.some(Number.isNaN) ? Number.POSITIVE_INFINITY : Math.max(...times);
    return Math.min(lasts, slowest);
  },
});

export const swellCharge = defineResult({
  name: 'swell_charge',
  on: 'converter',
  dimension: 'charge',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning: 'Charge that blocked diodes drive into the battery in a swell, at most: at its highest level all the time.',
  formula: 'Q = I_d(Û_s) · t',
  source: 'time-domain solution, see diode_current',
  compute: read => {
    const time = read.value(read.self, swellTime, noPoint);
    // Behind a chopper the diodes face its link, not the battery.
    if (time === 0 || choppersOf(read).length > 0) return time === 0 ? 0 : Number.NaN;
    const voltage = extreme(read, 'high_voltage_ride_through') * (1 + unbalance(read));
    const conduction = conductionAt(read, voltage, standingDcVoltage(read, 'connected'));
    return (conduction?.meanCurrent ?? Number.NaN) * time;
  },
});

export const swellReserve = defineResult({
  name: 'swell_reserve',
  on: 'converter',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'What the converter can make above its idle voltage in the highest swell, the battery at rest at the bottom of its span; negative: it loses control and trips.',
  formula: 'k · E(soc_min) / U_0(swell) − 1',
  source: 'modulation limit, see modulation_factor',
  compute: read => {
    const voltage = extreme(read, 'high_voltage_ride_through');
    const path = Number.isNaN(voltage) ? undefined : read.step(read.self, acPath, noPoint);
    if (path === undefined) return Number.NaN;
    const solved = solveLadder(path.elements, voltage, 0, 0);
    const factor = read.value(read.self, modulationFactor, noPoint);
    return solved.ok ? (factor * standingDcVoltage(read, 'lowest')) / solved.terminalVoltage - 1 : Number.NaN;
  },
});

export const swellDcVoltage = defineResult({
  name: 'swell_dc_voltage',
  on: 'converter',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning:
    'Highest DC voltage at the converter in the highest swell: the battery at rest at the top of its span, or the crest that the diodes let through where that is higher.',
  formula: 'max(E(soc_max), Û_s)',
  source: 'six-pulse bridge: the DC side never stands below the crest; what the battery holds down is left out',
  compute: read => {
    const peak = read.value(read.self, swellPeak, noPoint);
    // NaN absorbs.
    return Number.isNaN(peak) ? Number.NaN : Math.max(peak, standingDcVoltage(read, 'highest'));
  },
});

export const dipReactiveCurrent = defineResult({
  name: 'dip_reactive_current',
  on: 'converter',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Reactive current that the network asks of the converter in the deepest dip, at its terminals, rms.',
  formula: 'I_q = min(gain · (1 − U/U_n), 1) · I_r',
  source: 'definition of the gain; limited to the rated current, as connection rules do (from memory)',
  compute: read => {
    const grid = gridOf(read);
    const level = asked(read, 'low_voltage_ride_through')?.points[0]?.level;
    const gain = grid === undefined ? Number.NaN : read.number(grid, 'reactive_current_gain');
    if (level === undefined) return Number.NaN;
    const share = Number.isNaN(gain) ? 0 : Math.min(1, Math.max(0, gain * (1 - level)));
    return share * read.value(read.self, ratedCurrent, noPoint);
  },
});

export const dipCurrent = defineResult({
  name: 'dip_current',
  on: 'converter',
  dimension: 'current',
  axes: ['duty'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Current at the converter terminals that would hold the duty’s active power in the deepest dip beside the reactive current that is asked for, rms; shunts and losses left out.',
  formula: 'I = √((P / (√3·U) · ratio)² + I_q²)',
  source: 'definition of active and reactive current',
  compute: read => {
    const voltage = extreme(read, 'low_voltage_ride_through');
    // No power crosses a voltage of nothing.
    if (!(voltage > 0) || forms(read, read.demand)) return Number.NaN;
    const path = read.step(read.self, acPath, noPoint);
    const power =
      read.step(read.self, demand, noPoint) ?? read.step(read.self, demand, { direction: 1, voltage: 0, soc: 0 });
    if (path === undefined || power === undefined) return Number.NaN;
    const active = (Math.abs(power.active) / (Math.sqrt(3) * voltage)) * path.ratio;
    return Math.hypot(active, read.value(read.self, dipReactiveCurrent, noPoint));
  },
});

export const dipPowerShare = defineResult({
  name: 'dip_power_share',
  on: 'converter',
  dimension: 'ratio',
  axes: ['duty'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Share of the duty’s active power that the rated current still carries in the deepest dip.',
  formula: 'min(1, √(I_r² − I_q²) / I_p)',
  source: 'definition',
  compute: read => {
    const rated = read.value(read.self, ratedCurrent, noPoint);
    const reactive = read.value(read.self, dipReactiveCurrent, noPoint);
    const whole = read.value(read.self, dipCurrent, noPoint);
    const active = Math.sqrt(Math.max(0, whole * whole - reactive * reactive));
    if (Number.isNaN(active)) return Number.NaN;
    return active === 0 ? 1 : Math.min(1, Math.sqrt(Math.max(0, rated * rated - reactive * reactive)) / active);
  },
});

export const rideThroughResults = [
  swellPeak,
  swellMargin,
  swellTime,
  swellCharge,
  swellReserve,
  swellDcVoltage,
  dipReactiveCurrent,
  dipCurrent,
  dipPowerShare,
];
