// What the measurement of a control leaves of the reactive power: errors of its transducers, and what it doesn't see.

import { seriesImpedanceReferredToConverter } from '../physics/ladder.ts';
import { acPath, sourceImpedance } from './ac-path.ts';
import { defineResult } from './definition.ts';
import { flow } from './flow.ts';
import { orZero } from './or-zero.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** As stated; else by what the duties ask. */
export function controlOf(read: Read): 'current' | 'voltage' {
  const stated = read.word(read.self, 'control');
  if (stated !== undefined) return stated === 'voltage' ? 'voltage' : 'current';
  return read.duties.some(duty => read.word(duty, 'mode') === 'forming') ? 'voltage' : 'current';
}

/** Nominal voltage at the converter's terminals: the network's through all ratios. */
function nominalVoltage(read: Read): number {
  const tag = read.route(read.self)?.grid;
  const grid = tag === undefined ? undefined : read.component(tag);
  const path = read.step(read.self, acPath, noPoint);
  return grid === undefined || path === undefined ? Number.NaN : read.number(grid, 'voltage') / path.ratio;
}

export const ratedPower = defineResult({
  name: 'rated_power',
  on: 'converter',
  dimension: 'apparent_power',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Apparent power at rated current and the nominal voltage of its side, before any derating.',
  formula: 'S_r = √3 · U_n/ratio · I_r',
  source: 'definition',
  compute: read => Math.sqrt(3) * nominalVoltage(read) * read.number(read.self, 'ac_current'),
});

export const couplingReactance = defineResult({
  name: 'coupling_reactance',
  on: 'converter',
  dimension: 'resistance',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Reactance of one phase between the converter’s terminals and the network’s source, at its highest fault power, on the converter’s side; what converters share counts once for each.',
  formula: 'X = X_choke + X_T + (X_cable + X_network) / ratio²',
  source: 'circuit theory, shunts left out',
  compute: read => {
    const path = read.step(read.self, acPath, noPoint);
    const source = sourceImpedance(read, 'strongest');
    if (path === undefined || source === undefined) return Number.NaN;
    const found = seriesImpedanceReferredToConverter(path.elements, source);
    return found.ok ? found.reactance : Number.NaN;
  },
});

export const reactiveError = defineResult({
  name: 'reactive_error',
  on: 'converter',
  dimension: 'reactive_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning:
    'Greatest error of its reactive power by the errors of its measurements. A control of voltage makes its voltage wrong by the error, and the reactance alone limits the current; one of current is wrong by what its transducers are wrong.',
  formula: 'voltage: ΔQ = ε_u · U_n² / X; current: ΔQ = ε_i · √3·U_n·I_r + ε_u · |Q|',
  source: 'circuit theory, first order',
  compute: (read, at) => {
    const ofVoltage = read.number(read.self, 'voltage_error');
    const ofCurrent = read.number(read.self, 'current_error');
    if (Number.isNaN(ofVoltage) && Number.isNaN(ofCurrent)) return Number.NaN;
    const solved = read.step(read.self, flow, at);
    if (solved?.ok !== true) return Number.NaN;
    if (controlOf(read) === 'voltage')
      return (ofVoltage * nominalVoltage(read) ** 2) / read.value(read.self, couplingReactance, noPoint);
    const reactive = Math.abs(solved.ladder.reactivePower[0]!);
    return orZero(ofCurrent) * read.value(read.self, ratedPower, noPoint) + orZero(ofVoltage) * reactive;
  },
});

export const unmeasuredReactivePower = defineResult({
  name: 'unmeasured_reactive_power',
  on: 'converter',
  dimension: 'reactive_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Reactive power of what stands between its measuring point and the connection point, as a magnitude: the control does not see it.',
  formula: 'ΔQ = |Q at the connection point − Q at the measuring point|',
  source: 'circuit theory: cascaded two-ports',
  compute: (read, at) => {
    const boundary = measuredAt(read);
    const solved = boundary === undefined ? undefined : read.step(read.self, flow, at);
    if (solved?.ok !== true || boundary === undefined) return Number.NaN;
    const { reactivePower } = solved.ladder;
    return Math.abs(reactivePower[0]! - reactivePower[boundary]!);
  },
});

/** Boundary of the ladder at which the control measures; undefined where nothing is stated, or a place off the way. */
function measuredAt(read: Read): number | undefined {
  const tag = read.word(read.self, 'measuring_point');
  if (tag === undefined) return undefined;
  if (tag === read.route(read.self)?.grid) return 0;
  const path = read.step(read.self, acPath, noPoint);
  if (tag === read.self.tag) return path?.elements.length;
  return path?.parts.find(part => part.tag === tag)?.from;
}

export const reactiveResults = [ratedPower, couplingReactance, reactiveError, unmeasuredReactivePower];
