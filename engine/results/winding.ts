// The window of the converter-side winding voltage: what bounds it above and below, and what binds each end.
//
// Each bound is the winding voltage at which one condition is just met, all else as stated: found by solving the same
// ladders as everything else with the winding voltage as the unknown. The transformer keeps its per-cent impedance.
import type { Component } from '../model/plant.ts';
import { type LadderSolution, noLoadVoltage, solveLadder } from '../physics/ladder.ts';
import { signChange } from '../physics/sign-change.ts';
import { cornerAt, highestVoltageCorner, makeAcPath, type PathCorner, sourceImpedance } from './ac-path.ts';
import { ratedCurrent } from './converter-current.ts';
import { modulationFactor } from './converter-voltage.ts';
import { dcFlowOver } from './dc-flow.ts';
import { type At, defineResult, defineStep, pointsOf } from './definition.ts';
import { highestNetworkVoltage } from './diodes.ts';
import { demand, mostTaken, networkVoltage, solveFor } from './flow.ts';
import { overloadRatio } from './overload.ts';
import type { Read } from './read.ts';
import { standingDcVoltage } from './standing-dc.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** Tried winding voltages: from a twentieth to twenty times of the stated one, at first in steps of a tenth. */
const reach = 20;
const stride = 1.1;

/**
 * The winding voltage nearest to the stated one at which `excess` changes sign, sought by strides on a logarithmic
 * scale and then closely: positive excess means too high. Strides, since far above the stated voltage the filter
 * resonates with the transformer, and what happens there bounds nothing here. NaN where there is no change within reach.
 * Without bound where it turns out not to lie below `least`: then nothing is sought closely.
 */
function boundary(stated: number, excess: (voltage: number) => number, least = Number.POSITIVE_INFINITY): number {
  if (!(stated > 0)) return Number.NaN;
  const here = excess(stated);
  if (Number.isNaN(here)) return Number.NaN;
  if (here <= 0 && stated >= least) return Number.POSITIVE_INFINITY;
  const factor = here > 0 ? 1 / stride : stride;
  let near = [stated, here] as const;
  let far = [stated * factor, excess(stated * factor)] as const;
  while (far[1] > 0 === here > 0) {
    near = far;
    if (here <= 0 && near[0] >= least) return Number.POSITIVE_INFINITY;
    const next = far[0] * factor;
    if (Number.isNaN(far[1]) || next > stated * reach || next < stated / reach) return Number.NaN;
    far = [next, excess(next)];
  }
  if (Number.isNaN(far[1])) return Number.NaN;
  if (here > 0 && far[0] >= least) return Number.POSITIVE_INFINITY;
  return here > 0 ? signChange(far, near, excess) : signChange(near, far, excess);
}

interface Winding {
  readonly transformer: Component;
  readonly stated: number;
}

/** The transformer whose converter-side winding is asked for: the one nearest to the converter, not reversed. */
function windingOf(read: Read): Winding | undefined {
  const passed = read.route(read.self)?.ac.findLast(element => element.kind === 'transformer');
  const transformer = passed === undefined || passed.reversed ? undefined : read.component(passed.tag);
  return transformer === undefined ? undefined : { transformer, stated: read.number(transformer, 'secondary_voltage') };
}

/** The ladder with another winding voltage in the place of the stated one. */
function pathWith(read: Read, corner: PathCorner, secondaryVoltage: number) {
  return makeAcPath(read, { ...corner, secondaryVoltage });
}

const maxDiode = defineStep<number>({
  name: 'winding_max_diode_of',
  on: 'converter',
  axes: [],
  compute: read => {
    const winding = windingOf(read);
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    const source = sourceImpedance(read, 'weakest');
    if (winding === undefined || grid === undefined || source === undefined) return Number.NaN;
    const allowed = standingDcVoltage(read, 'connected') / Math.SQRT2;
    const network = highestNetworkVoltage(read, grid);
    return boundary(winding.stated, voltage => {
      const path = pathWith(read, highestVoltageCorner, voltage);
      const found = path === undefined ? undefined : noLoadVoltage(path.elements, network, source);
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
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    if (winding === undefined || grid === undefined) return Number.NaN;
    const available = read.value(read.self, modulationFactor, noPoint) * standingDcVoltage(read, 'lowest');
    const bounds = (
      [
        [1, 'control_margin'],
        [2, 'control_margin_worst'],
      ] as const
    ).map(([voltage, limit]) => {
      const point = { ...noPoint, voltage };
      const network = networkVoltage(read, grid, undefined, point);
      const allowed = available / (1 + read.number(read.practice, limit));
      return boundary(winding.stated, tried => {
        const path = pathWith(read, cornerAt(network, point), tried);
        const solved = path === undefined ? undefined : solveLadder(path.elements, network, 0, 0);
        return solved?.ok === true ? solved.terminalVoltage - allowed : Number.NaN;
      });
    });
    return Math.min(...bounds);
  },
});

const maxLoad = defineStep<number>({
  name: 'winding_max_load_of',
  on: 'converter',
  axes: ['duty', 'direction', 'soc'],
  compute: (read, at) => loadBound(read, at),
});

/** The bound of the duty that takes most: most others lie above it, and need not be known closely. */
const hardestLoad = defineStep<number>({
  name: 'winding_max_load_of_hardest',
  on: 'converter',
  axes: [],
  compute: read => {
    const powers = read.duties.map(duty => read.figure(read.self, mostTaken.figure.power, noPoint, duty));
    const most = Math.max(...powers.filter(power => !Number.isNaN(power)));
    const hardest = read.duties[powers.indexOf(most)];
    if (hardest === undefined) return Number.POSITIVE_INFINITY;
    const bounds = loadPoints.map(at => read.step(read.self, maxLoad, at, hardest) ?? Number.NaN);
    return Math.min(...bounds.filter(bound => !Number.isNaN(bound)));
  },
});

/** As `maxLoad`; without bound where it does not lie below the one of the duty that takes most. */
const maxLoadIfLess = defineStep<number>({
  name: 'winding_max_load_if_less',
  on: 'converter',
  axes: ['duty', 'direction', 'soc'],
  compute: (read, at) => loadBound(read, at, () => read.step(read.self, hardestLoad, noPoint)),
});

const loadPoints = pointsOf({ axes: ['direction', 'soc'] });

function loadBound(read: Read, at: At, least?: () => number | undefined): number {
  const margin = read.number(read.practice, 'control_margin_worst');
  const point = { ...at, voltage: 2 };
  const factor = read.value(read.self, modulationFactor, point) / (1 + margin);
  const dc = dcFlowOver(read, point);
  const excess = (ladder: LadderSolution): number => {
    const found = dc(ladder);
    if (found === undefined) return Number.NaN;
    // No current delivers the power: more losses than at the winding sought.
    return found.ok ? ladder.terminalVoltage - factor * found.converterVoltage : Number.POSITIVE_INFINITY;
  };
  return underDuty(read, point, excess, least);
}

const minCurrent = defineStep<number>({
  name: 'winding_min_current_of',
  on: 'converter',
  axes: ['duty', 'direction'],
  compute: (read, at) => {
    const overload = overloadRatio(read, read.demand);
    const permitted = overload > 1 ? overload : read.number(read.practice, 'converter_loading');
    const allowed = read.value(read.self, ratedCurrent, at) * permitted;
    return underDuty(read, { ...at, voltage: 0 }, ladder => allowed - ladder.terminalCurrent);
  },
});

/** The boundary of a condition on the loaded ladder of the duty. */
function underDuty(
  read: Read,
  at: At,
  excess: (ladder: LadderSolution) => number,
  least?: () => number | undefined,
): number {
  const winding = windingOf(read);
  const asked = read.step(read.self, demand, at);
  const tag = read.route(read.self)?.grid;
  const grid = tag === undefined ? undefined : read.component(tag);
  if (winding === undefined || asked === undefined || grid === undefined) return Number.NaN;
  const network = networkVoltage(read, grid, read.demand, at);
  const excessAt = (voltage: number): number => {
    const path = pathWith(read, cornerAt(network, at), voltage);
    const solved = path === undefined ? undefined : solveFor(read, asked, path, network);
    if (solved === undefined || (!solved.ok && solved.problem !== 'no_solution')) return Number.NaN;
    // Too little voltage to carry the power at all.
    return solved.ok ? excess(solved) : Number.NEGATIVE_INFINITY;
  };
  return boundary(winding.stated, excessAt, least?.());
}

/** The least or greatest of a converter's bound over the routes, duties and points of the transformer. */
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

const both = [0, 1] as const;

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
    overRoutes(read, 'least', converter => [
      ...read.duties.flatMap(duty => loadPoints.map(at => read.step(converter, maxLoadIfLess, at, duty) ?? Number.NaN)),
      read.step(converter, hardestLoad, noPoint) ?? Number.NaN,
    ]),
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
      read.duties.flatMap(duty =>
        both.map(direction => read.step(converter, minCurrent, { direction, voltage: 0, soc: 0 }, duty) ?? Number.NaN),
      ),
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
