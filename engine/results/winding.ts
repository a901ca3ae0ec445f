// The window of the converter-side winding voltage: what bounds it above and below, and what binds each end.
//
// Each bound is the winding voltage at which one condition is just met, all else as stated: found on the same ladders
// as everything else, with the winding voltage as the unknown. The transformer keeps its per-cent impedance.
import type { Component } from '../model/plant.ts';
import { noLoadVoltage } from '../physics/ladder.ts';
import type { Terminals } from '../physics/other-winding.ts';
import { acPathAt, blockedPath, sourceImpedance } from './ac-path.ts';
import { ratedCurrent } from './converter-current.ts';
import { modulationFactor } from './converter-voltage.ts';
import { dcFlowOver } from './dc-flow.ts';
import { defineResult, defineStep, pointsOf, type Step, socEnds } from './definition.ts';
import { highestNetworkVoltage } from './diodes.ts';
import { demand, networkVoltage } from './flow.ts';
import { overloadRatio } from './overload.ts';
import { highestVoltageCorner } from './path-corner.ts';
import type { Read } from './read.ts';
import { standingDcVoltage } from './standing-dc.ts';
import { boundary } from './winding-boundary.ts';
import { boundariesUnderDuty, ladderByWinding, unloadedByWinding, windingOf } from './winding-path.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

const maxDiode = defineStep<number>({
  name: 'winding_max_diode_of',
  on: 'converter',
  axes: [],
  compute: read => {
    const winding = windingOf(read);
    const source = sourceImpedance(read, 'weakest');
    if (winding === undefined || source === undefined) return Number.NaN;
    const allowed = standingDcVoltage(read, 'connected') / Math.SQRT2;
    const network = highestNetworkVoltage(read, winding.grid);
    const blocked = read.step(read.self, blockedPath, noPoint);
    const ladderAt = ladderByWinding(read, winding, blocked, highestVoltageCorner);
    return boundary(winding.stated, voltage => {
      const ladder = ladderAt(voltage);
      const found = ladder === undefined ? undefined : noLoadVoltage(ladder.elements, network, source);
      return found?.ok === true ? found.voltage - allowed : Number.NaN;
    });
  },
});

const maxControl = defineStep<number>({
  name: 'winding_max_control_of',
  on: 'converter',
  axes: [],
  compute: read => {
    const winding = windingOf(read);
    if (winding === undefined) return Number.NaN;
    const available = read.value(read.self, modulationFactor, noPoint) * standingDcVoltage(read, 'lowest');
    const bounds = (
      [
        [1, 'control_margin'],
        [2, 'control_margin_worst'],
      ] as const
    ).map(([voltage, limit]) => {
      const point = { direction: 0, voltage, soc: 0 };
      const network = networkVoltage(read, winding.grid, undefined, point);
      const allowed = available / (1 + read.number(read.practice, limit));
      const arriving = unloadedByWinding(winding, acPathAt(read, network, point), network);
      return boundary(winding.stated, tried => (arriving(tried)?.terminalVoltage ?? Number.NaN) - allowed);
    });
    return Math.min(...bounds);
  },
});

/** The least bound of one duty, sought closely. */
const maxLoad = defineStep<number>({
  name: 'winding_max_load_of',
  on: 'converter',
  axes: ['duty'],
  compute: read => leastLoadBound(read, Number.POSITIVE_INFINITY),
});

/** The bound of the duty that asks for most: most others lie above it, and need not be known closely. */
const hardestLoad = defineStep<number>({
  name: 'winding_max_load_of_hardest',
  on: 'converter',
  axes: [],
  compute: read => known(ofHardest(read, maxLoad)) ?? Number.POSITIVE_INFINITY,
});

/** As `maxLoad`, sought closely only where it lies below the one of the duty that asks for most. */
const maxLoadIfLess = defineStep<number>({
  name: 'winding_max_load_if_less',
  on: 'converter',
  axes: ['duty'],
  compute: read => leastLoadBound(read, read.step(read.self, hardestLoad, noPoint) ?? Number.POSITIVE_INFINITY),
});

/** V: the least of the duty, or the one that is known where none lies below that; NaN where none can be told. */
function leastLoadBound(read: Read, knownBound: number): number {
  const margin = read.number(read.practice, 'control_margin_worst');
  const boundaryAt = boundariesUnderDuty(read, 2);
  const flows = socEnds.map((_, soc) => dcFlowOver(read, { direction: 0, voltage: 2, soc }));
  let least = knownBound;
  let seen = false;
  for (const { direction, soc } of loadPoints) {
    const factor = read.value(read.self, modulationFactor, { direction, voltage: 2, soc }) / (1 + margin);
    const excess = (arriving: Terminals): number => {
      const found = flows[soc]!(arriving);
      if (found === undefined) return Number.NaN;
      // No current delivers the power: more losses than at the winding sought.
      return found.ok ? arriving.terminalVoltage - factor * found.converterVoltage : Number.POSITIVE_INFINITY;
    };
    const bound = boundaryAt(direction, excess, { below: least });
    if (bound < least) least = bound;
    seen ||= !Number.isNaN(bound);
  }
  return seen ? least : Number.NaN;
}

const loadPoints = pointsOf({ axes: ['direction', 'soc'] });

const minCurrent = defineStep<number>({
  name: 'winding_min_current_of',
  on: 'converter',
  axes: ['duty'],
  compute: read => greatestCurrentBound(read, Number.NEGATIVE_INFINITY),
});

/** As with the load: most other duties leave the winding lower. */
const hardestCurrent = defineStep<number>({
  name: 'winding_min_current_of_hardest',
  on: 'converter',
  axes: [],
  compute: read => ofHardest(read, minCurrent),
});

const minCurrentIfMore = defineStep<number>({
  name: 'winding_min_current_if_more',
  on: 'converter',
  axes: ['duty'],
  compute: read =>
    greatestCurrentBound(read, known(read.step(read.self, hardestCurrent, noPoint)) ?? Number.NEGATIVE_INFINITY),
});

/** V: the greatest of the duty, or the one that is known where none lies above that; NaN where none can be told. */
function greatestCurrentBound(read: Read, knownBound: number): number {
  const overload = overloadRatio(read, read.demand);
  const permitted = overload > 1 ? overload : read.number(read.practice, 'converter_loading');
  const boundaryAt = boundariesUnderDuty(read, 0);
  let greatest = knownBound;
  let seen = false;
  for (const { direction } of currentPoints) {
    const allowed = read.value(read.self, ratedCurrent, { direction, voltage: 0, soc: 0 }) * permitted;
    const bound = boundaryAt(direction, arriving => allowed - arriving.terminalCurrent, { above: greatest });
    if (bound > greatest) greatest = bound;
    seen ||= !Number.isNaN(bound);
  }
  return seen ? greatest : Number.NaN;
}

const currentPoints = pointsOf({ axes: ['direction'] });

/** What bounds the winding under the duty that asks for most power; NaN where there is no such duty. */
function ofHardest(read: Read, bound: Step<number>): number {
  let most = Number.NEGATIVE_INFINITY;
  let hardest: Component | undefined;
  for (const duty of read.duties) {
    for (const at of demandPoints) {
      const active = read.step(read.self, demand, at, duty)?.active ?? Number.NaN;
      if (!(active > most)) continue;
      most = active;
      hardest = duty;
    }
  }
  return (hardest && read.step(read.self, bound, noPoint, hardest)) ?? Number.NaN;
}

const demandPoints = pointsOf(demand);

function known(number: number | undefined): number | undefined {
  return Number.isNaN(number) ? undefined : number;
}

/** The least or greatest of the converters' bounds over the routes of the transformer. */
function overRoutes(read: Read, end: 'least' | 'greatest', pull: (converter: Component) => readonly number[]): number {
  let found = Number.NaN;
  for (const route of read.routes(read.self)) {
    const converter = read.component(route.converter);
    for (const bound of converter === undefined ? [] : pull(converter)) {
      if (Number.isNaN(bound)) continue;
      if (Number.isNaN(found) || (end === 'least' ? bound < found : bound > found)) found = bound;
    }
  }
  return found;
}

export const windingMaxDiode = defineResult({
  name: 'winding_max_diode',
  on: 'transformer',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'all tolerances at their worst',
  meaning:
    'Highest secondary voltage at which the blocked diodes stay below the battery at its lowest connected state of charge, or below the link that a chopper holds.',
  formula: '√2 · U_b(U_2) = E(soc_lowest), solved for U_2',
  source: 'see diode_margin',
  compute: read => overRoutes(read, 'least', converter => [read.step(converter, maxDiode, noPoint) ?? Number.NaN]),
});

export const windingMaxControl = defineResult({
  name: 'winding_max_control',
  on: 'transformer',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Highest secondary voltage at which the control margin at rest is kept, at nominal and at highest network voltage.',
  formula: 'k·E(soc_min) / (1 + margin) = U_0(U_2), solved for U_2; the smaller of the two',
  source: 'margins of the practice',
  compute: read => overRoutes(read, 'least', converter => [read.step(converter, maxControl, noPoint) ?? Number.NaN]),
});

export const windingMaxLoad = defineResult({
  name: 'winding_max_load',
  on: 'transformer',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Highest secondary voltage at which the converter still reaches every duty’s voltage, with margin, at the highest network voltage.',
  formula: 'U_av / (1 + margin_worst) = U_c(U_2), solved for U_2; the smallest over all duties',
  source: 'margins of the practice',
  compute: read =>
    overRoutes(read, 'least', converter =>
      read.duties.map(duty => read.step(converter, maxLoadIfLess, noPoint, duty) ?? Number.NaN),
    ),
});

export const windingMax = defineResult({
  name: 'winding_max',
  on: 'transformer',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Upper end of the window for the secondary voltage: the least of its bounds.',
  formula: 'min(winding_max_diode, winding_max_control, winding_max_load)',
  source: 'definition',
  compute: read =>
    least([windingMaxDiode, windingMaxControl, windingMaxLoad].map(result => read.value(read.self, result, noPoint))),
});

export const windingMinCurrent = defineResult({
  name: 'winding_min_current',
  on: 'transformer',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Lowest secondary voltage at which no duty overloads the converter, at the lowest network voltage.',
  formula:
    'I_c(U_2) = I_r · permitted loading, or · its overload where that covers the duty, solved for U_2; the largest over all duties',
  source: 'definition',
  compute: read =>
    overRoutes(read, 'greatest', converter =>
      read.duties.map(duty => read.step(converter, minCurrentIfMore, noPoint, duty) ?? Number.NaN),
    ),
});

export const windingMin = defineResult({
  name: 'winding_min',
  on: 'transformer',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Lower end of the window for the secondary voltage: the converter’s current, or the bottom of its own voltage span at the lowest network voltage.',
  formula: 'max(winding_min_current, lowest AC voltage of the converter · U_n/U_n,min)',
  source: 'definition',
  compute: read => {
    const own = overRoutes(read, 'greatest', converter => {
      const tag = read.route(converter)?.grid;
      const grid = tag === undefined ? undefined : read.component(tag);
      if (grid === undefined) return [];
      return [
        (read.number(converter, 'ac_voltage', 'low') * read.number(grid, 'voltage')) /
          read.number(grid, 'voltage', 'low'),
      ];
    });
    return -least([-read.value(read.self, windingMinCurrent, noPoint), -own]);
  },
});

function least(bounds: readonly number[]): number {
  const known = bounds.filter(bound => !Number.isNaN(bound));
  return known.length === 0 ? Number.NaN : Math.min(...known);
}

export const windingResults = [
  windingMaxDiode,
  windingMaxControl,
  windingMaxLoad,
  windingMax,
  windingMinCurrent,
  windingMin,
];
