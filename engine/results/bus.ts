// Results of a bus: the voltage that what is connected to it gives.
import { cellBehind } from '../model/cells.ts';
import { directElements, type Route } from '../model/topology.ts';
import { acPath } from './ac-path.ts';
import { voltageMax, voltageMin } from './battery.ts';
import { restVoltageMax, restVoltageMin } from './battery-at-rest.ts';
import { dcVoltageMax, dcVoltageMin } from './converter-voltage.ts';
import { type At, defineResult } from './definition.ts';
import { flow, networkVoltage } from './flow.ts';
import type { Read } from './read.ts';

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

/** Whether it lies between a converter and its battery; undefined where no route passes. */
export function onDirectSide(read: Read): boolean | undefined {
  const route = read.route(read.self);
  return route === undefined ? undefined : directElements(route).some(element => element.tag === read.self.tag);
}

/** Network volts for one volt at the bus, at no load. */
function ratioTo(read: Read): number {
  const route = read.route(read.self);
  const converter = route === undefined ? undefined : read.component(route.converter);
  const path = converter === undefined ? undefined : read.step(converter, acPath, noPoint);
  const part = path?.parts.find(candidate => candidate.tag === read.self.tag);
  if (path === undefined || part === undefined) return Number.NaN;
  return path.elements
    .slice(0, part.from)
    .reduce((product, element) => (element.kind === 'ratio' ? product * element.ratio : product), 1);
}

export const nominalVoltage = defineResult({
  name: 'nominal_voltage',
  on: 'bus',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Voltage of a bus on the AC side at nominal network voltage and no load, line to line rms.',
  formula: 'U = U_n / ratio',
  source: 'IEC 60076-1, voltage ratio (from memory)',
  compute: read => {
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined || onDirectSide(read) !== false ? undefined : read.component(tag);
    return grid === undefined ? Number.NaN : read.number(grid, 'voltage') / ratioTo(read);
  },
});

export const loadedVoltage = defineResult({
  name: 'loaded_voltage',
  on: 'bus',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Voltage of a bus on the AC side under the duty, line to line rms.',
  formula: 'U = |U_n + Σ Z·I|, phasors stepped from the connection point',
  source: 'circuit theory: cascaded two-ports',
  compute: (read, at) => {
    for (const route of read.routes(read.self)) {
      const converter = read.component(route.converter);
      const solved = converter === undefined ? undefined : read.step(converter, flow, at);
      const part = solved?.ok === true ? solved.path.parts.find(({ tag }) => tag === read.self.tag) : undefined;
      if (solved?.ok === true && part !== undefined) return solved.ladder.voltage[part.from]!;
    }
    return Number.NaN;
  },
});

function extreme(read: Read, end: 'lowest' | 'highest'): number {
  const values: number[] = [];
  if (onDirectSide(read) === true) {
    for (const route of read.routes(read.self)) values.push(directVoltage(read, route, end));
  } else {
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    if (grid === undefined) return Number.NaN;
    values.push(
      networkVoltage(read, grid, undefined, { direction: 0, voltage: end === 'lowest' ? 0 : 2, soc: 0 }) /
        ratioTo(read),
    );
    values.push(read.worst(read.self, loadedVoltage, end));
  }
  return extremeOf(values, end);
}

function extremeOf(values: readonly number[], end: 'lowest' | 'highest'): number {
  const known = values.filter(value => !Number.isNaN(value));
  if (known.length === 0) return Number.NaN;
  return end === 'lowest' ? Math.min(...known) : Math.max(...known);
}

/** At the converter's terminals; behind a chopper, at the battery's. */
function directVoltage(read: Read, route: Route, end: 'lowest' | 'highest'): number {
  const cell = route.cells[cellBehind(route, read.self.tag)];
  if (cell === undefined) {
    const converter = read.component(route.converter);
    if (converter === undefined) return Number.NaN;
    return read.value(converter, end === 'lowest' ? dcVoltageMin : dcVoltageMax, noPoint);
  }
  const values = cell.batteries.flatMap(tag => {
    const battery = read.component(tag);
    if (battery === undefined) return [];
    const loaded = read.worst(battery, end === 'lowest' ? voltageMin : voltageMax, end);
    return [read.value(battery, end === 'lowest' ? restVoltageMin : restVoltageMax, noPoint), loaded];
  });
  return extremeOf(values, end);
}

export const voltageLow = defineResult({
  name: 'voltage_low',
  on: 'bus',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Lowest lasting voltage of the bus, idle or under a duty; on the DC side at the converters’ terminals, behind a chopper at the battery’s.',
  formula: 'U_min = min(idle, every duty)',
  source: 'definition',
  compute: read => extreme(read, 'lowest'),
});

export const voltageHigh = defineResult({
  name: 'voltage_high',
  on: 'bus',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning:
    'Highest lasting voltage of the bus, idle or under a duty; on the DC side at the converters’ terminals, behind a chopper at the battery’s.',
  formula: 'U_max = max(idle, every duty)',
  source: 'definition',
  compute: read => extreme(read, 'highest'),
});

export const busResults = [nominalVoltage, loadedVoltage, voltageLow, voltageHigh];
