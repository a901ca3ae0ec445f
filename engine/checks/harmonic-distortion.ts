// Does the plant keep the limits of harmonics that the network's owner has named?
import { type Component, failedIn, type Plant } from '../model/plant.ts';
import type { Result } from '../results/definition.ts';
import {
  currentDistortion,
  demandLimit,
  type JudgedOrder,
  voltageDistortion,
  voltageLimit,
  worstCurrent,
  worstCurrentRatio,
  worstHarmonicRatio,
  worstVoltage,
} from '../results/harmonics.ts';
import { modulationIndexMin } from '../results/modulation.ts';
import type { Read } from '../results/read.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { has, listed, without } from './not-checked.ts';

const messages = {
  single: (f: {
    what: string;
    grid: string;
    order: number;
    frequency: string;
    ratio: string;
    limit: string;
    of: string;
    where: string;
  }) =>
    `Harmonic ${f.order} (${f.frequency}) of the ${f.what} at ${f.grid} reaches ${f.ratio} of the ${f.of}, more than the ${f.limit} of the limits named there${f.where}.`,
  total: (f: { what: string; grid: string; ratio: string; limit: string; of: string; where: string }) =>
    `The harmonics of the ${f.what} at ${f.grid} come to ${f.ratio} of the ${f.of} together, more than the ${f.limit} of the limits named there${f.where}.`,
  unknownLowOrders: (f: { grid: string; converters: string; state: string }) =>
    `${f.grid} is judged without the low orders of ${f.converters}: 5, 7, 11 and so on are not checked, since ${f.state} no \`harmonics\`.`,
  notJudged: (f: { grid: string; why: string }) =>
    `The limits of harmonics named at ${f.grid} are not checked: ${f.why}.`,
};

/** The total and the single harmonics of one quantity, with what judges them. */
interface Quantity {
  readonly what: string;
  readonly of: string;
  readonly total: Result;
  readonly single: Result;
  readonly limit: (read: Read) => number;
  readonly worst: (read: Read) => JudgedOrder | undefined;
}

const quantities: readonly Quantity[] = [
  {
    what: 'voltage',
    of: 'fundamental',
    total: voltageDistortion,
    single: worstHarmonicRatio,
    limit: voltageLimit,
    worst: worstVoltage,
  },
  {
    what: 'current',
    of: 'greatest demand current',
    total: currentDistortion,
    single: worstCurrentRatio,
    limit: demandLimit,
    worst: worstCurrent,
  },
];

export const harmonicDistortion = defineCheck({
  code: 'harmonic_distortion',
  group: 'filter',
  title: 'More harmonics than the network’s owner allows',
  why: 'What the converters’ switching and control leave in the current distorts the voltage for everybody at the connection, heats their machines and capacitors, and may excite resonances.',
  remedy:
    'Move the filter’s resonance away from the harmonic that binds, enlarge the filter, raise the switching frequency, or ask for a stronger connection.',
  source:
    'the set named in `distortion_limit`: EN 50160, IEC 61000-2-4 (from memory), IEEE 519 (2022 edition, its limits of current from memory; it sends generating plants to IEEE 1547 or 2800 first), IACS UR E24',
  on: 'grid',
  bad: [
    ['rated_power = 500 kVA', 'rated_power = 630 kVA'],
    ['x_over_r = 5', 'x_over_r = 5\n  distortion_limit = en_50160'],
    [
      'switching_frequency = 4 kHz',
      'switching_frequency = 4 kHz\n  harmonics = curve order { 5 1.5 %, 7 1 %, 11 0.5 %, 13 0.5 %, 19 1 % }',
    ],
  ],
  notChecked: leftOut,
  run: (context, grid) => {
    if (!context.cases.some((_, index) => context.fact(grid, 'distortion_limit', index) !== undefined)) return;
    sayWhatIsMissing(context, grid);
    for (const quantity of quantities) judge(context, grid, quantity);
  },
});

function leftOut(plant: Plant): string | undefined {
  const grids = without(plant, 'grid', 'distortion_limit');
  if (grids.length > 0)
    return `harmonics at ${listed(grids)}, where no \`distortion_limit\` names the limits that hold`;
  if (!has(plant, 'grid')) return undefined;
  const silent = without(plant, 'converter', 'harmonics');
  const low = `low orders of ${listed(silent)}, for which no \`harmonics\` are stated, and `;
  return `harmonics: ${silent.length === 0 ? '' : low}orders above those that the limits count`;
}

/** One finding for each quantity: of the total and the single harmonic the one that is farther past its limit. */
function judge(context: CheckContext, grid: Component, quantity: Quantity): void {
  const single = context.worst(grid, quantity.single);
  const total = context.worst(grid, quantity.total, spot => spot.value > limitAt(context, spot, quantity));
  const past = total === undefined ? 0 : total.value / limitAt(context, total, quantity);
  if (single !== undefined && single.value > Math.max(1, past)) saySingle(context, grid, quantity, single);
  else if (total !== undefined) sayTotal(context, grid, quantity, total);
}

function limitAt(context: CheckContext, spot: Spot, quantity: Quantity): number {
  return quantity.limit(context.read(spot.component, spot.caseIndex));
}

function saySingle(context: CheckContext, grid: Component, quantity: Quantity, spot: Spot): void {
  const worst = quantity.worst(context.read(grid, spot.caseIndex));
  if (worst === undefined) return;
  const frequency = worst.order * context.number(grid, 'frequency', 'nominal', spot.caseIndex);
  context.say({
    severity: 'error',
    component: grid,
    place: context.place(grid, 'distortion_limit', spot.caseIndex),
    related: contributors(context, grid, spot.caseIndex),
    spot,
    limit: { name: undefined, number: 1, display: show(1, dimensions.ratio) },
    message: messages.single({
      what: quantity.what,
      of: quantity.of,
      grid: grid.tag,
      order: worst.order,
      frequency: show(frequency, dimensions.frequency),
      ratio: show(worst.ratio, dimensions.ratio),
      limit: show(worst.limit, dimensions.ratio),
      where: context.where(spot),
    }),
  });
}

function sayTotal(context: CheckContext, grid: Component, quantity: Quantity, spot: Spot): void {
  const limit = limitAt(context, spot, quantity);
  context.say({
    severity: 'error',
    component: grid,
    place: context.place(grid, 'distortion_limit', spot.caseIndex),
    related: contributors(context, grid, spot.caseIndex),
    spot,
    limit: { name: undefined, number: limit, display: show(limit, dimensions.ratio) },
    message: messages.total({
      what: quantity.what,
      of: quantity.of,
      grid: grid.tag,
      ratio: context.show(spot),
      limit: show(limit, dimensions.ratio),
      where: context.where(spot),
    }),
  });
}

function convertersOf(context: CheckContext, grid: Component): readonly Component[] {
  return context.graph.routesOf(grid.tag).flatMap(route => context.component(route.converter) ?? []);
}

function contributors(context: CheckContext, grid: Component, caseIndex: number) {
  return convertersOf(context, grid).flatMap(converter =>
    context.related(
      caseIndex,
      [converter, 'harmonics', 'The harmonics that the maker states.'],
      [converter, 'switching_frequency', 'The switching frequency.'],
    ),
  );
}

/** A limit that can't be judged, or not in full, is said to be so; what was not understood is told elsewhere. */
function sayWhatIsMissing(context: CheckContext, grid: Component): void {
  const converters = convertersOf(context, grid);
  if (converters.length === 0 || notUnderstood(context, grid, converters)) return;
  const note = (message: string): void =>
    context.say({ severity: 'note', component: grid, place: context.place(grid, 'distortion_limit'), message });
  const why = whyNotJudged(context, grid, converters);
  if (why !== undefined) note(messages.notJudged({ grid: grid.tag, why }));
  const silent = converters.filter(converter =>
    context.cases.every((_, caseIndex) => context.fact(converter, 'harmonics', caseIndex) === undefined),
  );
  if (why !== undefined || silent.length === 0) return;
  const state = silent.length === 1 ? 'it states' : 'they state';
  note(messages.unknownLowOrders({ grid: grid.tag, converters: silent.map(({ tag }) => tag).join(' and '), state }));
}

function whyNotJudged(context: CheckContext, grid: Component, converters: readonly Component[]): string | undefined {
  if (context.fact(grid, 'fault_power') === undefined)
    return 'without `fault_power` there is no impedance on which harmonics make a voltage';
  if (context.worst(grid, voltageDistortion) === undefined) {
    // Where the modulation isn't known either, a fact is missing, and that is told there.
    const known = converters.every(converter => context.worst(converter, modulationIndexMin) !== undefined);
    return known ? 'the converters modulate beyond their linear range, or their carrier is too slow' : undefined;
  }
  return Number.isNaN(voltageLimit(context.read(grid))) && context.fact(grid, 'distortion_limit') !== undefined
    ? 'the set has no limits for this voltage'
    : undefined;
}

function notUnderstood(context: CheckContext, grid: Component, converters: readonly Component[]): boolean {
  const facts = converters.flatMap(converter =>
    ['harmonics', 'switching_frequency', 'modulation'].map(property => [converter, property] as const),
  );
  return context.cases.some(each =>
    [...facts, [grid, 'fault_power'] as const].some(([component, property]) => failedIn(each, component, property)),
  );
}
