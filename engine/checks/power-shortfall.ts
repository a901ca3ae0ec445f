// Is there any current at all that delivers the power asked for?
import { type Component, factIn, type Plant } from '../model/plant.ts';
import { voltageHeadroom, voltageLimit, voltageMax, voltageMin } from '../results/battery.ts';
import { dcFlow, flowThroughChoppers } from '../results/dc-flow.ts';
import { stringsInService } from '../results/duty-battery.ts';
import { dischargeEndSoc } from '../results/energy.ts';
import { flow } from '../results/flow.ts';
import { fullPowerEnd } from '../results/recharge.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { listed, tagsOf } from './not-checked.ts';
import { batteriesOf } from './winding.ts';

const messages = {
  noString: (f: { battery: string; duty: string; inCase: string }) =>
    `${f.duty} must hold with one string lost, but ${f.battery} has only one${f.inCase}: 0 strings are left to carry it.`,
  noUnit: (f: { converter: string; duty: string; inCase: string }) =>
    `${f.duty} must hold with one unit lost, but ${f.converter} is the only converter${f.inCase}: 0 units are left to carry it.`,
  battery: (f: { battery: string; duty: string; largest: string; inCase: string }) =>
    `No current delivers what ${f.duty} asks of ${f.battery}${f.inCase}: at the end of its span it gives at most ${f.largest}, where half of its voltage drops over its own resistance.`,
  path: (f: { converter: string; duty: string; largest: string; inCase: string }) =>
    `The way between the network and ${f.converter} can’t carry what ${f.duty} asks${f.inCase}: at most ${f.largest}.`,
  voltage: (f: { battery: string; voltage: string; limit: string; where: string; from: string }) =>
    `${f.battery} would have to stand at ${f.voltage} to take the power, above its limit of ${f.limit}${f.where}: the charge tapers off before${f.from}, and the power is not there up to the top of the span.`,
  sag: (f: { battery: string; voltage: string; limit: string; where: string; from: string }) =>
    `${f.battery} sags to ${f.voltage} under the power asked for, below its limit of ${f.limit}${f.where}: the discharge ends before${f.from}, and the power is not there down to the bottom of the span.`,
};

export const powerShortfall = defineCheck({
  code: 'power_shortfall',
  group: 'energy',
  title: 'No current delivers the power asked for',
  why: 'Through a given resistance or reactance only so much power can pass: beyond it, more current means less power.',
  remedy: 'Ask for less power, take more strings or cells in series, or less impedance in between.',
  source: 'P_max = E²/(4·R); circuit theory',
  on: 'converter',
  bad: [
    ['charge = 250 kW', 'charge = 15 kW'],
    [
      'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }',
      'resistance = curve temperature { 0 °C 4 Ω, 45 °C 3.9 Ω }',
    ],
  ],
  notChecked: otherUnits,
  run: (context, converter) => {
    const batteries = batteriesOf(context, converter);
    const stringless = batteries.filter(battery => (context.worst(battery, stringsInService)?.value ?? 1) < 1);
    for (const duty of context.plant.duties) {
      for (const battery of stringless) sayNoString(context, battery, duty);
      sayNoUnit(context, converter, duty);
      if (!fails(context, converter, duty)) continue;
      for (const caseIndex of context.cases.keys()) if (saySmallest(context, converter, duty, caseIndex)) break;
    }
    for (const way of ['charge', 'discharge'] as const)
      for (const battery of batteries) sayVoltageLimit(context, battery, way);
  },
});

/** Alike units are one as good as the other; of unlike ones the largest converter is not always the worst to lose. */
function otherUnits(plant: Plant): string | undefined {
  const lost = plant.topology.rest?.lost;
  const losing = plant.duties.filter(duty =>
    plant.cases.some(plantCase => {
      const value = factIn(plantCase, duty, 'lost')?.value;
      return value?.type === 'word' && value.word === 'unit';
    }),
  );
  const others = tagsOf(plant, 'converter').filter(tag => tag !== lost);
  if (lost === undefined || losing.length === 0 || others.length === 0 || unitsAreAlike(plant)) return undefined;
  const during = listed(losing.map(({ tag }) => tag));
  return `${during} with ${listed(others)} lost instead of ${lost}: the largest converter alone is taken out, and the units are not alike`;
}

function unitsAreAlike({ components }: Plant): boolean {
  const written = ({ facts }: Component): string =>
    JSON.stringify([...facts].map(([name, fact]) => [name, fact.written]).sort());
  return (['converter', 'filter', 'chopper', 'battery'] as const).every(
    kind => new Set(components.filter(each => each.kind.name === kind).map(written)).size <= 1,
  );
}

function saySmallest(context: CheckContext, converter: Component, duty: Component, caseIndex: number): boolean {
  const path = smallest(context.steps(converter, flow, caseIndex, duty))?.largest;
  const chopped =
    path === undefined ? smallest(context.steps(converter, flowThroughChoppers, caseIndex, duty)) : undefined;
  const direct = context.figures(converter, dcFlow.figure.largest, caseIndex, duty).filter(each => !Number.isNaN(each));
  const alone = { ok: false, largest: Math.min(...direct.map(Math.abs)), ends: undefined } as const;
  const inner = chopped ?? (direct.length === 0 ? undefined : alone);
  const cell = context.graph.routesOf(converter.tag)[0]?.cells[inner?.ends?.store ?? 0];
  const all = batteriesOf(context, converter);
  const batteries = cell === undefined ? all : all.filter(({ tag }) => cell.batteries.includes(tag));
  const largest = path ?? inner?.ends?.largest ?? inner?.largest;
  if (largest === undefined) return false;
  const { name } = context.cases[caseIndex]!;
  const facts = {
    duty: duty.tag,
    largest: show(Math.abs(largest), dimensions.active_power),
    inCase: context.inCase(caseIndex),
  };
  context.say({
    severity: 'error',
    component: converter,
    place: context.place(
      duty,
      factIn(context.cases[caseIndex]!, duty, 'discharge') === undefined ? 'charge' : 'discharge',
      caseIndex,
    ),
    related: context.related(
      caseIndex,
      ...batteries.map(battery => [battery, 'resistance', 'The battery’s resistance.'] as const),
    ),
    point: {
      case: name === '' ? undefined : name,
      duty: duty.tag,
      voltage: undefined,
      soc: undefined,
      direction: undefined,
    },
    limit: { name: undefined, number: Math.abs(largest), display: facts.largest },
    message:
      path !== undefined
        ? messages.path({ ...facts, converter: converter.tag })
        : messages.battery({ ...facts, battery: listed(batteries.map(({ tag }) => tag)) }),
  });
  return true;
}

/** The one string of a battery is what the duty wants to do without. */
function sayNoString(context: CheckContext, battery: Component, duty: Component): void {
  const spot = context.worstUnder(battery, stringsInService, [duty]);
  if (spot === undefined || spot.value >= 1) return;
  context.say({
    severity: 'error',
    component: battery,
    place: context.place(duty, 'lost', spot.caseIndex),
    related: context.related(spot.caseIndex, [battery, 'strings', 'Number of strings.']),
    spot,
    message: messages.noString({ battery: battery.tag, duty: duty.tag, inCase: context.inCase(spot.caseIndex) }),
  });
}

/** The one converter of the plant is what the duty wants to do without. */
function sayNoUnit(context: CheckContext, converter: Component, duty: Component): void {
  if (context.plant.topology.rest?.routes.length !== 0) return;
  const caseIndex = context.cases.findIndex((_, index) => context.read(converter, index, duty).unitLost());
  if (caseIndex < 0) return;
  context.say({
    severity: 'error',
    component: converter,
    place: context.place(duty, 'lost', caseIndex),
    message: messages.noUnit({
      converter: converter.tag,
      duty: duty.tag,
      inCase: context.inCase(caseIndex),
    }),
  });
}

/** A charge that drives the battery to its highest voltage before the top of the span, or a discharge to its lowest. */
function sayVoltageLimit(context: CheckContext, battery: Component, way: 'charge' | 'discharge'): void {
  const duties = context.plant.duties.filter(duty => duty.facts.has('discharge') === (way === 'discharge'));
  const result = way === 'charge' ? voltageMax : voltageMin;
  const worst = context.worstUnder(battery, voltageHeadroom, duties);
  if (worst?.duty === undefined) return;
  const bound = context.beside(worst, battery, voltageLimit);
  const spot = { ...worst, result, value: context.beside(worst, battery, result) };
  if (worst.value >= -1e-9 * bound) return;
  const limit = { name: `${battery.tag}.voltage_limit`, number: bound, display: show(bound, dimensions.voltage) };
  context.say({
    severity: 'error',
    component: battery,
    place: context.place(worst.duty, way, spot.caseIndex),
    related: context.related(
      spot.caseIndex,
      [battery, 'voltage_limits', 'The battery’s limits.'],
      [battery, way === 'charge' ? 'greatest_voltage' : 'least_voltage', 'The limit as it varies.'],
      [battery, 'soc', `The ${way === 'charge' ? 'top' : 'bottom'} of this span counts.`],
    ),
    spot,
    limit,
    message: messages[way === 'charge' ? 'voltage' : 'sag']({
      battery: battery.tag,
      voltage: context.show(spot),
      limit: limit.display,
      where: context.where(spot),
      from: stopsAt(context, battery, worst, way),
    }),
  });
}

/** Where the voltage limit is met on the way, where that is inside the run at all. */
function stopsAt(context: CheckContext, battery: Component, worst: Spot, way: 'charge' | 'discharge'): string {
  const result = way === 'charge' ? fullPowerEnd : dischargeEndSoc;
  const soc = context.beside(worst, battery, result);
  return Number.isNaN(soc) ? '' : `, at ${show(soc, dimensions.ratio)} state of charge`;
}

/** Of columns that were looked through: while nothing that they depend on changes, they stay the same list. */
const looked = new WeakMap<Columns, boolean>();

type Columns = ReturnType<CheckContext['columns']>;

/** Whether the network's way, or the batteries, can't deliver anywhere what the duty asks. */
function fails(context: CheckContext, converter: Component, duty: Component): boolean {
  return (
    anywhere(context.columns(converter, flow, duty), hasFailed) ||
    anywhere(context.columns(converter, dcFlow, duty), fallsShort)
  );
}

function anywhere(columns: Columns, fails: (values: readonly unknown[]) => boolean): boolean {
  const known = looked.get(columns);
  if (known !== undefined) return known;
  const found = columns.some(({ values }) => fails(values));
  looked.set(columns, found);
  return found;
}

function hasFailed(values: readonly unknown[]): boolean {
  return (values as readonly Solved[]).some(solved => solved?.ok === false);
}

/** Of the figures of `dcFlow`: the largest power is known only where no current delivers what is asked for. */
function fallsShort(values: readonly unknown[]): boolean {
  const { width, figure } = dcFlow;
  for (let index = figure.largest.place; index < values.length; index += width)
    if (!Number.isNaN(values[index] as number)) return true;
  return false;
}

type Solved = { readonly ok: true } | Failing | undefined;
type Failing = { readonly ok: false; readonly largest: number };

function smallest<T extends Solved>(all: readonly T[]): Extract<T, { ok: false }> | undefined {
  let least: Extract<T, { ok: false }> | undefined;
  for (const solved of all) {
    if (solved?.ok === false && (least === undefined || Math.abs(solved.largest) < Math.abs(least.largest)))
      least = solved as Extract<T, { ok: false }>;
  }
  return least;
}
