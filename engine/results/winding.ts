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
import { type At, defineResult, defineStep, directions, pointsOf, type Step } from './definition.ts';
import { highestNetworkVoltage } from './diodes.ts';
import { demand, mostTaken, networkVoltage, solveFor } from './flow.ts';
import { overloadRatio } from './overload.ts';
import type { Read } from './read.ts';
import { standingDcVoltage } from './standing-dc.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** Tried winding voltages: from a twentieth to twenty times of the stated one, at first in steps of a tenth. */
const stride = 1.1;
const strides = Math.floor(Math.log(20) / Math.log(stride));

/** Where a boundary may lie to be of any use, V: of one that lies elsewhere no more is wanted than that. */
interface Wanted {
  /** Not below: then it is without bound, and nothing is sought closely. */
  readonly below?: number | undefined;
  /** Not above. */
  readonly above?: number | undefined;
}

/**
 * The winding voltage nearest to the stated one at which `excess` changes sign, sought by strides on a logarithmic
 * scale and then closely: positive excess means too high. Strides, since far above the stated voltage the filter
 * resonates with the transformer, and what happens there bounds nothing here. NaN where there is no change within reach.
 */
function boundary(stated: number, excess: (voltage: number) => number, wanted: Wanted = {}): number {
  if (!(stated > 0)) return Number.NaN;
  const { below = Number.POSITIVE_INFINITY, above = Number.NEGATIVE_INFINITY } = wanted;
  const here = excess(stated);
  if (Number.isNaN(here)) return Number.NaN;
  const down = here > 0;
  const elsewhere = down ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const isElsewhere = (voltage: number): boolean => (down ? voltage <= above : voltage >= below);
  // No stride leads beyond what is wanted: there it is seen whether the boundary lies farther on.
  const stepFrom = (voltage: number): number =>
    down ? Math.max(voltage / stride, above) : Math.min(voltage * stride, below);
  if (isElsewhere(stated)) return elsewhere;
  let near = [stated, here] as const;
  for (let step = 0; step < strides; step++) {
    const next = stepFrom(near[0]);
    const far = [next, excess(next)] as const;
    if (Number.isNaN(far[1])) return Number.NaN;
    if (far[1] > 0 !== down) {
      // The change lies in this stride.
      if (down && far[0] >= below) return Number.POSITIVE_INFINITY;
      return down ? signChange(far, near, excess) : signChange(near, far, excess);
    }
    if (isElsewhere(next)) return elsewhere;
    near = far;
  }
  return Number.NaN;
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
  const { impedance, capacitance, ratio, tapping } = corner;
  return makeAcPath(read, { impedance, capacitance, ratio, tapping, secondaryVoltage });
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
      const point = { direction: 0, voltage, soc: 0 };
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
  column: read => loadBounds(read),
});

/** The bound of the duty that takes most: most others lie above it, and need not be known closely. */
const hardestLoad = defineStep<number>({
  name: 'winding_max_load_of_hardest',
  on: 'converter',
  axes: [],
  compute: read => Math.min(...boundsOfHardest(read, maxLoad, loadPoints)),
});

/** As `maxLoad`; without bound where it does not lie below the one of the duty that takes most. */
const maxLoadIfLess = defineStep<number>({
  name: 'winding_max_load_if_less',
  on: 'converter',
  axes: ['duty', 'direction', 'soc'],
  column: read => loadBounds(read, () => ({ below: read.step(read.self, hardestLoad, noPoint) })),
});

const loadPoints = pointsOf({ axes: ['direction', 'soc'] });

function loadBounds(read: Read, wanted?: () => Wanted): (at: At) => number {
  const margin = read.number(read.practice, 'control_margin_worst');
  const boundAt = underDuty(read, 2);
  return at => {
    const point = { direction: at.direction, voltage: 2, soc: at.soc };
    const factor = read.value(read.self, modulationFactor, point) / (1 + margin);
    const dc = dcFlowOver(read, point);
    const excess = (ladder: LadderSolution): number => {
      const found = dc(ladder);
      if (found === undefined) return Number.NaN;
      // No current delivers the power: more losses than at the winding sought.
      return found.ok ? ladder.terminalVoltage - factor * found.converterVoltage : Number.POSITIVE_INFINITY;
    };
    return boundAt(at.direction, excess, wanted?.());
  };
}

const minCurrent = defineStep<number>({
  name: 'winding_min_current_of',
  on: 'converter',
  axes: ['duty', 'direction'],
  column: read => currentBounds(read),
});

/** As with the load: most other duties leave the winding lower. */
const hardestCurrent = defineStep<number>({
  name: 'winding_min_current_of_hardest',
  on: 'converter',
  axes: [],
  compute: read => {
    const bounds = boundsOfHardest(read, minCurrent, currentPoints);
    return bounds.length === 0 ? Number.NaN : Math.max(...bounds);
  },
});

const minCurrentIfMore = defineStep<number>({
  name: 'winding_min_current_if_more',
  on: 'converter',
  axes: ['duty', 'direction'],
  column: read => currentBounds(read, () => ({ above: known(read.step(read.self, hardestCurrent, noPoint)) })),
});

const currentPoints = pointsOf({ axes: ['direction'] });

function currentBounds(read: Read, wanted?: () => Wanted): (at: At) => number {
  const overload = overloadRatio(read, read.demand);
  const permitted = overload > 1 ? overload : read.number(read.practice, 'converter_loading');
  const boundAt = underDuty(read, 0);
  return at => {
    const allowed =
      read.value(read.self, ratedCurrent, { direction: at.direction, voltage: 0, soc: at.soc }) * permitted;
    return boundAt(at.direction, ladder => allowed - ladder.terminalCurrent, wanted?.());
  };
}

/** What bounds the winding under the duty that takes most power, where it is known; none where there is no such duty. */
function boundsOfHardest(read: Read, bound: Step<number>, points: readonly At[]): readonly number[] {
  const powers = read.duties.map(duty => read.figure(read.self, mostTaken.figure.power, noPoint, duty));
  const most = Math.max(...powers.filter(power => !Number.isNaN(power)));
  const hardest = read.duties[powers.indexOf(most)];
  if (hardest === undefined) return [];
  return points.flatMap(at => known(read.step(read.self, bound, at, hardest)) ?? []);
}

function known(number: number | undefined): number | undefined {
  return Number.isNaN(number) ? undefined : number;
}

type BoundaryAt = (direction: number, excess: (ladder: LadderSolution) => number, wanted?: Wanted) => number;

/**
 * The boundaries of conditions on the loaded ladder of the duty, at the network's `voltage`, by its place. What points try
 * alike is solved once: the stated winding, and the one that is wanted.
 */
function underDuty(read: Read, voltage: number): BoundaryAt {
  const winding = windingOf(read);
  const tag = read.route(read.self)?.grid;
  const grid = tag === undefined ? undefined : read.component(tag);
  if (winding === undefined || grid === undefined) return () => Number.NaN;
  const network = networkVoltage(read, grid, read.demand, { direction: 0, voltage, soc: 0 });
  const corner = cornerAt(network, { direction: 0, voltage, soc: 0 });
  const pathAt = remembered((tried: number) => pathWith(read, corner, tried));
  const solvers = directions.map((_, direction) => {
    const asked = read.step(read.self, demand, { direction, voltage, soc: 0 });
    return remembered((tried: number) => {
      const path = asked && pathAt(tried);
      return path && solveFor(read, asked, path, network);
    });
  });
  return (direction, excess, wanted) => {
    const solve = solvers[direction]!;
    const excessAt = (tried: number): number => {
      const solved = solve(tried);
      if (solved === undefined || (!solved.ok && solved.problem !== 'no_solution')) return Number.NaN;
      // Too little voltage to carry the power at all.
      return solved.ok ? excess(solved) : Number.NEGATIVE_INFINITY;
    };
    return boundary(winding.stated, excessAt, wanted);
  };
}

/** Works it out once for each number. */
function remembered<T>(of: (number: number) => T): (number: number) => T {
  const known = new Map<number, T>();
  return number => {
    if (!known.has(number)) known.set(number, of(number));
    return known.get(number)!;
  };
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
    overRoutes(read, 'greatest', converter => [
      ...read.duties.flatMap(duty =>
        currentPoints.map(at => read.step(converter, minCurrentIfMore, at, duty) ?? Number.NaN),
      ),
      read.step(converter, hardestCurrent, noPoint) ?? Number.NaN,
    ]),
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
