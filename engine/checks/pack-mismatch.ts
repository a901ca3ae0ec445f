// Do batteries side by side rest at one voltage? Otherwise one charges the other, and nothing controls it.
import type { Component } from '../model/plant.ts';
import { batteryModel } from '../results/battery-model.ts';
import { equalisingCurrent, type Unequal, unequalBatteries } from '../results/equalising.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { listed } from './not-checked.ts';
import { batteriesOf } from './winding.ts';

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

/** Share of the voltage. */
const customary = 0.005;

/** The sound example with another battery of so many cells in series beside the first. */
const withSecond = (cells: number) =>
  [
    'connect MAIN -> T1 -> F1 -> K1 -> B1',
    `battery B2 {
  cells_in_series = ${cells}
  strings = 4
  capacity = 280 Ah
  open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V }
  voltage_limits = 2.80 V .. 3.60 V per cell
  resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }
  soc = 10 % .. 90 %
  lowest_connected = 0 %
  discharge_current = 280 A
  charge_current = curve temperature { 0 °C 0 A, 10 °C 70 A, 25 °C 140 A, 45 °C 140 A }
  temperature = 20 °C
}

connect MAIN -> T1 -> F1 -> K1 -> B1
connect K1 -> B2`,
  ] as const;

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
    const several = plant.topology.routes.filter(({ batteries }) => batteries.length > 1);
    const tags = [...new Set(several.flatMap(({ batteries }) => batteries))];
    return tags.length === 0
      ? undefined
      : `what flows between ${listed(tags)} when their contactors close at unequal states of charge`;
  },
  run: (context, converter) => {
    const spot = context.worst(converter, equalisingCurrent);
    const found = spot && context.read(converter, spot.caseIndex).step(converter, unequalBatteries, spot.at);
    if (spot === undefined || found === undefined) return;
    const [least, most] = [Math.min(...found.voltages), Math.max(...found.voltages)];
    if (!(most - least > customary * least)) return;
    say(context, converter, spot, found);
  },
});

function say(context: CheckContext, converter: Component, spot: Spot, { soc, voltages, currents }: Unequal): void {
  const batteries = batteriesOf(context, converter);
  const place = (index: number): number =>
    currents.indexOf(index === 0 ? Math.max(...currents) : Math.min(...currents));
  const [from, into] = [place(0), place(1)];
  const [high, low] = [batteries[from], batteries[into]];
  if (high === undefined || low === undefined) return;
  const limitOf = (battery: Component, way: 'discharge' | 'charge'): number => {
    const model = context.read(battery, spot.caseIndex).step(battery, batteryModel, spot.at);
    return (way === 'charge' ? model?.chargeLimit(soc) : model?.dischargeLimit(soc)) ?? Number.POSITIVE_INFINITY;
  };
  const bounds = [
    { battery: low, way: 'charge', current: -currents[into]!, limit: limitOf(low, 'charge') },
    { battery: high, way: 'discharge', current: currents[from]!, limit: limitOf(high, 'discharge') },
  ] as const;
  const passed = bounds.find(({ current, limit }) => current > limit);
  const amperes = passed?.current ?? Math.max(...currents.map(Math.abs));
  const volts = (index: number): string => show(voltages[index]!, dimensions.voltage);
  const facts: Facts = {
    high: high.tag,
    low: low.tag,
    voltages: `${volts(from)} and ${volts(into)}`,
    soc: show(soc, dimensions.ratio),
    current: show(amperes, dimensions.current),
    where: context.where(spot),
  };
  const declaredLater = batteries.indexOf(high) > batteries.indexOf(low) ? high : low;
  const other = declaredLater === high ? low : high;
  const property = declaredLater.facts.has('open_circuit_voltage') ? 'cells_in_series' : 'voltage';
  const common = {
    component: declaredLater,
    place: context.place(declaredLater, property, spot.caseIndex),
    related: context.related(
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
