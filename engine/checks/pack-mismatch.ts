// Do batteries side by side rest at one voltage? Otherwise one charges the other, and nothing controls it.
import type { Component } from '../model/plant.ts';
import { batteryModel } from '../results/battery-model.ts';
import { equalisingCurrent, type Unequal, unequalBatteries } from '../results/equalising.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { soundExample } from './example.ts';
import { listed } from './not-checked.ts';

interface Facts {
  readonly high: string;
  readonly low: string;
  readonly voltages: string;
  readonly soc: string;
  readonly current: string;
  readonly where: string;
}

const messages = {
  over: (f: Facts & { limit: string; which: string; way: string }) =>
    `${f.high} and ${f.low} stand side by side, but rest at ${f.voltages} at ${f.soc} state of charge${f.where}: whenever they are joined there ${f.current} flows from ${f.high} into ${f.low}, beyond the ${f.limit} that ${f.which} permits for ${f.way}, and no converter stands between them.`,
  unequal: (f: Facts) =>
    `${f.high} and ${f.low} stand side by side, but rest at ${f.voltages} at ${f.soc} state of charge${f.where}: joined there ${f.current} flows from ${f.high} into ${f.low}, and they never share as reckoned, since they come to rest at unequal states of charge.`,
};

/** Share of the voltage (common practice, no source). */
const customary = 0.005;

const line = 'connect MAIN -> T1 -> F1 -> K1 -> B1';

/** The sound example with another battery of so many cells in series beside the first. */
function withSecond(cells: number): readonly [string, string] {
  const first = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf(line));
  const second = first.replace('B1', 'B2').replace(/cells_in_series = \d+/, `cells_in_series = ${cells}`);
  return [line, `${second}${line}\nconnect K1 -> B2`];
}

export const packMismatch = defineCheck({
  code: 'pack_mismatch',
  group: 'current',
  title: 'Batteries side by side rest at different voltages',
  why: 'Batteries on one pair of conductors have one voltage. Where their cells, or the number of cells in series, differ, they rest at it with unequal states of charge: one is full, or empty, before the other, and when their contactors close with equal charge, a current that only their resistances limit flows from the one into the other. It may weld contactors, blow fuses and harm cells.',
  remedy:
    'Put batteries of the same cells and the same number in series side by side, or give each a converter or a chopper of its own. Have contactors close only at nearly equal voltages.',
  source: 'Kirchhoff; half a per cent of the voltage: common practice, no source',
  on: 'converter',
  bad: [withSecond(236)],
  mended: [withSecond(224)],
  notChecked: plant => {
    const groups = plant.topology.routes.flatMap(({ batteries, cells }) =>
      cells.length === 0 ? [batteries] : cells.map(cell => cell.batteries),
    );
    const tags = [...new Set(groups.filter(({ length }) => length > 1).flat())];
    return tags.length === 0
      ? undefined
      : `what flows between ${listed(tags)} when their contactors close at unequal states of charge`;
  },
  run: (context, converter) => {
    let gravest: Judged | undefined;
    for (const spot of context.spots(converter, equalisingCurrent)) {
      const judged = judge(context, converter, spot);
      if (judged !== undefined && (gravest === undefined || isGraver(judged, gravest))) gravest = judged;
    }
    if (gravest !== undefined) say(context, gravest);
  },
});

interface Judged {
  readonly spot: Spot;
  readonly found: Unequal;
  readonly high: Component;
  readonly low: Component;
  /** Of the battery that gives and of the one that takes, A: what flows, and what its maker permits there. */
  readonly bounds: readonly Bound[];
}

interface Bound {
  readonly battery: Component;
  readonly way: 'charge' | 'discharge';
  readonly current: number;
  readonly limit: number;
}

/** How far it is past what is permitted, A; negative while all of it is. Each case has limits of its own. */
function beyond({ bounds }: Judged): number {
  return Math.max(...bounds.map(({ current, limit }) => current - limit));
}

/** Without limits the larger current is the graver. */
function isGraver(one: Judged, other: Judged): boolean {
  const [a, b] = [beyond(one), beyond(other)];
  return a === b ? one.spot.value > other.spot.value : a > b;
}

/** Undefined where the batteries rest at one voltage. */
function judge(context: CheckContext, converter: Component, spot: Spot): Judged | undefined {
  const found = context.read(converter, spot.caseIndex).step(converter, unequalBatteries, spot.at);
  if (found === undefined) return undefined;
  const { soc, voltages, currents } = found;
  const [least, most] = [Math.min(...voltages), Math.max(...voltages)];
  if (!(most - least > customary * least)) return undefined;
  const batteries = found.batteries.map(tag => context.component(tag));
  const [given, taken] = [Math.max(...currents), Math.min(...currents)];
  const [high, low] = [batteries[currents.indexOf(given)], batteries[currents.indexOf(taken)]];
  if (high === undefined || low === undefined) return undefined;
  const limitOf = (battery: Component, way: 'discharge' | 'charge'): number => {
    const model = context.read(battery, spot.caseIndex).step(battery, batteryModel, spot.at);
    return (way === 'charge' ? model?.chargeLimit(soc) : model?.dischargeLimit(soc)) ?? Number.POSITIVE_INFINITY;
  };
  const bounds: readonly Bound[] = [
    { battery: low, way: 'charge', current: -taken, limit: limitOf(low, 'charge') },
    { battery: high, way: 'discharge', current: given, limit: limitOf(high, 'discharge') },
  ];
  return { spot, found, high, low, bounds };
}

function say(context: CheckContext, { spot, found, high, low, bounds }: Judged): void {
  const { soc, voltages } = found;
  const passed = bounds.find(({ current, limit }) => current > limit);
  const amperes = passed?.current ?? spot.value;
  const { batteries } = found;
  const volts = ({ tag }: Component): string => show(voltages[batteries.indexOf(tag)]!, dimensions.voltage);
  const facts: Facts = {
    high: high.tag,
    low: low.tag,
    voltages: `${volts(high)} and ${volts(low)}`,
    soc: show(soc, dimensions.ratio),
    current: show(amperes, dimensions.current),
    where: context.where(spot),
  };
  const declaredLater = batteries.indexOf(high.tag) > batteries.indexOf(low.tag) ? high : low;
  const other = declaredLater === high ? low : high;
  const property = declaredLater.facts.has('open_circuit_voltage') ? 'cells_in_series' : 'voltage';
  const common = {
    component: declaredLater,
    place: context.place(declaredLater, property, spot.caseIndex),
    related: context.related(
      spot.caseIndex,
      [other, 'cells_in_series', 'The other battery’s cells in series.'],
      [other, 'open_circuit_voltage', 'The other battery’s voltage at rest.'],
      [declaredLater, 'open_circuit_voltage', 'Its own voltage at rest.'],
    ),
    spot: { ...spot, value: amperes },
  };
  if (passed === undefined) {
    context.say({ ...common, severity: 'warning', message: messages.unequal(facts) });
    return;
  }
  const limit = show(passed.limit, dimensions.current);
  context.say({
    ...common,
    severity: 'error',
    limit: { name: undefined, number: passed.limit, display: limit },
    message: messages.over({
      ...facts,
      limit,
      which: passed.battery.tag,
      way: passed.way === 'charge' ? 'charging' : 'discharging',
    }),
  });
}
