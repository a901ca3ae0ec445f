// Results of a chopper: the voltages of its battery side, its duty ratio, its current and its loss.
import type { RouteCell } from '../model/cells.ts';
import { directElements } from '../model/topology.ts';
import { chopperFlow } from '../physics/chopper.ts';
import { restVoltageMax, restVoltageMin } from './battery-at-rest.ts';
import { flowThroughChoppers } from './dc-flow.ts';
import type { StoreFlow } from './dc-way.ts';
import { type At, defineResult, defineStep } from './definition.ts';
import { batterySide, cellOf, linkVoltageMax, linkVoltageMin } from './link.ts';
import type { Read } from './read.ts';

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

interface Carried {
  readonly storeVoltage: number;
  /** A of the whole chopper at either side, magnitudes. */
  readonly lowCurrent: number;
  readonly highCurrent: number;
  /** W. */
  readonly loss: number;
}

/** What the chopper carries under a duty, all its converters together; they share it in fixed parts. */
const carried = defineStep<Carried | undefined>({
  name: 'chopper_carried',
  on: 'chopper',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  compute: (read, at) => {
    const found = solvedRoute(read, at);
    if (found === undefined) return undefined;
    const { store, share } = found;
    const { voltage, linkVoltage } = store;
    const batteryIsLow = batterySide(read, read.self) === 'low';
    const flow = chopperFlow({
      low: batteryIsLow ? voltage : linkVoltage,
      high: batteryIsLow ? linkVoltage : voltage,
      power: ((batteryIsLow ? 1 : -1) * (linkVoltage * store.linkCurrent)) / share,
      at: batteryIsLow ? 'high' : 'low',
      efficiency: read.number(read.self, 'efficiency'),
    });
    if (!flow.ok) return undefined;
    return {
      storeVoltage: voltage,
      lowCurrent: Math.abs(flow.lowCurrent),
      highCurrent: Math.abs(flow.highCurrent),
      loss: flow.loss,
    };
  },
});

function solvedRoute(read: Read, at: At): { store: StoreFlow; share: number } | undefined {
  const isSelf = ({ chopper }: RouteCell): boolean => chopper === read.self.tag;
  for (const route of read.routes(read.self)) {
    const converter = read.component(route.converter);
    const solved = converter === undefined ? undefined : read.step(converter, flowThroughChoppers, at);
    const store = solved?.ok === true ? solved.stores[route.cells.findIndex(isSelf)] : undefined;
    const share = directElements(route).find(element => element.tag === read.self.tag)?.share;
    if (store !== undefined && share !== undefined) return { store, share };
  }
  return undefined;
}

export const storeVoltage = defineResult({
  name: 'store_voltage',
  on: 'chopper',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Voltage at the chopper’s terminals on the side of the battery under the duty.',
  formula: 'U = E(soc) − I·(R_battery + R_cable)',
  source: 'Kirchhoff',
  compute: (read, at) => read.step(read.self, carried, at)?.storeVoltage ?? Number.NaN,
});

/** Battery at rest as the chopper sees it. */
function rest(read: Read, result: typeof restVoltageMin): number {
  const batteries = (cellOf(read)?.batteries ?? []).map(tag => read.component(tag));
  const voltages = batteries.map(battery =>
    battery === undefined ? Number.NaN : read.value(battery, result, noPoint),
  );
  if (voltages.length === 0) return Number.NaN;
  return result === restVoltageMin ? Math.min(...voltages) : Math.max(...voltages);
}

export const storeVoltageMin = defineResult({
  name: 'store_voltage_min',
  on: 'chopper',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Lowest voltage on the side of the battery in operation: at rest at the bottom of the state-of-charge span, or under a duty.',
  formula: 'min(E(soc_min), U under every duty)',
  source: 'definition',
  compute: read => least(rest(read, restVoltageMin), read.worst(read.self, storeVoltage, 'lowest')),
});

export const storeVoltageMax = defineResult({
  name: 'store_voltage_max',
  on: 'chopper',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Highest voltage on the side of the battery in operation: at rest at the top of the state-of-charge span, or while charging.',
  formula: 'max(E(soc_max), U under every duty)',
  source: 'definition',
  compute: read => -least(-rest(read, restVoltageMax), -read.worst(read.self, storeVoltage, 'highest')),
});

function least(a: number, b: number): number {
  if (Number.isNaN(a)) return b;
  return Number.isNaN(b) ? a : Math.min(a, b);
}

export const dutyRatio = defineResult({
  name: 'duty_ratio',
  on: 'chopper',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Share of the time for which the upper switch conducts under the duty, the link at its lowest.',
  formula: 'D = U_low / U_high',
  source: 'volt-seconds of the choke, losses left out; Rashid, Power Electronics, ch. 5 (from memory)',
  compute: (read, at) =>
    ratio(read, read.value(read.self, storeVoltage, at), read.value(read.self, linkVoltageMin, noPoint)),
});

export const dutyRatioMin = defineResult({
  name: 'duty_ratio_min',
  on: 'chopper',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Lowest duty ratio of the upper switch in operation.',
  formula: 'D = U_low,min / U_high,max',
  source: 'volt-seconds of the choke, losses left out; Rashid, Power Electronics, ch. 5 (from memory)',
  compute: read =>
    batterySide(read, read.self) === 'low'
      ? read.value(read.self, storeVoltageMin, noPoint) / read.value(read.self, linkVoltageMax, noPoint)
      : read.value(read.self, linkVoltageMin, noPoint) / read.value(read.self, storeVoltageMax, noPoint),
});

export const dutyRatioMax = defineResult({
  name: 'duty_ratio_max',
  on: 'chopper',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Highest duty ratio of the upper switch in operation; from 100 % on the lower side would stand above the higher one, and the diode between them conduct unchecked.',
  formula: 'D = U_low,max / U_high,min',
  source: 'volt-seconds of the choke, losses left out; Rashid, Power Electronics, ch. 5 (from memory)',
  compute: read =>
    batterySide(read, read.self) === 'low'
      ? read.value(read.self, storeVoltageMax, noPoint) / read.value(read.self, linkVoltageMin, noPoint)
      : read.value(read.self, linkVoltageMax, noPoint) / read.value(read.self, storeVoltageMin, noPoint),
});

function ratio(read: Read, store: number, link: number): number {
  return batterySide(read, read.self) === 'low' ? store / link : link / store;
}

export const current = defineResult({
  name: 'current',
  on: 'chopper',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Direct current on the side of the lower voltage under the duty, as a magnitude.',
  formula: 'I = P / U_low, loss included',
  source: 'conservation of energy',
  compute: (read, at) => read.step(read.self, carried, at)?.lowCurrent ?? Number.NaN,
});

export const highSideCurrent = defineResult({
  name: 'high_side_current',
  on: 'chopper',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Direct current on the side of the higher voltage under the duty, as a magnitude.',
  formula: 'I = P / U_high, loss included',
  source: 'conservation of energy',
  compute: (read, at) => read.step(read.self, carried, at)?.highCurrent ?? Number.NaN,
});

export const loading = defineResult({
  name: 'loading',
  on: 'chopper',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Current on the side of the lower voltage as a share of the rating.',
  formula: 'I / I_r',
  source: 'definition',
  compute: (read, at) => read.value(read.self, current, at) / read.number(read.self, 'current'),
});

export const loss = defineResult({
  name: 'loss',
  on: 'chopper',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Loss of the chopper under the duty, in whichever direction the power flows.',
  formula: 'P_v = P_out · (1/η − 1)',
  source: 'maker’s statement of the chopper; the same efficiency at every current',
  compute: (read, at) => read.step(read.self, carried, at)?.loss ?? Number.NaN,
});

export const chopperResults = [
  storeVoltage,
  storeVoltageMin,
  storeVoltageMax,
  dutyRatio,
  dutyRatioMin,
  dutyRatioMax,
  current,
  highSideCurrent,
  loading,
  loss,
];
