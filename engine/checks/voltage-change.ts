// Does a duty shake the voltage of a weak network?
import { type Component, factIn, type Plant } from '../model/plant.ts';
import { voltageChange } from '../results/grid.ts';
import { inrushDip } from '../results/inrush.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';
import { listed } from './not-checked.ts';

const messages = {
  large: (f: { grid: string; change: string; wanted: string; where: string }) =>
    `The voltage at ${f.grid} jumps by ${f.change} when this begins or ends, more than the ${f.wanted} that is allowed${f.where}.`,
  inrush: (f: { grid: string; transformer: string; dip: string; wanted: string; where: string }) =>
    `Switching ${f.transformer} on takes ${f.dip} off the voltage at ${f.grid} for the first periods, more than the ${f.wanted} that is allowed there${f.where}.`,
};

export const voltageChangeCheck = defineCheck({
  code: 'voltage_change',
  group: 'voltage',
  title: 'A jump of the network’s voltage',
  why: 'On a weak connection a step of power changes the voltage of everybody connected there: lights flicker, other converters trip.',
  remedy:
    'Ramp the power, ask for less, use reactive power against it, magnetise a transformer from the converter before it is switched on, or ask the network’s owner what is allowed (`voltage_change_limit`), and how often.',
  source: 'stated by the network’s owner; else practice `voltage_change`: 3 %, common practice, no source',
  on: 'grid',
  bad: [['fault_power = 9 MVA .. 14 MVA', 'fault_power = 9 MVA .. 14 MVA\n  voltage_change_limit = 1 %']],
  notChecked: unjudgedInrush,
  run: (context, grid) => {
    for (const transformer of transformersOf(context, grid)) judgeInrush(context, grid, transformer);
    const statedIn = (caseIndex: number) => context.number(grid, 'voltage_change_limit', 'nominal', caseIndex);
    const wantedIn = (caseIndex: number) => {
      const stated = statedIn(caseIndex);
      return Number.isNaN(stated)
        ? context.practice('voltage_change', caseIndex)
        : { name: undefined, number: stated, display: show(stated, dimensions.ratio) };
    };
    const spot = context.pastLimit(grid, voltageChange, caseIndex => wantedIn(caseIndex).number);
    if (spot === undefined) return;
    const stated = statedIn(spot.caseIndex);
    const wanted = wantedIn(spot.caseIndex);
    context.say({
      severity: Number.isNaN(stated) ? 'warning' : 'error',
      component: grid,
      place: context.place(grid, Number.isNaN(stated) ? 'fault_power' : 'voltage_change_limit', spot.caseIndex),
      related: context.duty(spot, 'This duty does it.'),
      spot,
      limit: { name: wanted.name, number: wanted.number, display: wanted.display },
      message: messages.large({
        grid: grid.tag,
        change: context.show(spot),
        wanted: wanted.display,
        where: context.where(spot),
      }),
    });
  },
});

/** A dip is judged where the maker states the inrush and the network's owner a limit. */
function unjudgedInrush(plant: Plant): string | undefined {
  const base = plant.cases[0]!;
  const isGentle = (transformer: Component) => {
    const value = factIn(base, transformer, 'magnetised_from')?.value;
    return value?.type === 'word' && value.word === 'converter_side';
  };
  const hard = plant.components.filter(each => each.kind.name === 'transformer' && !isGentle(each));
  const limited = plant.components.some(each => each.kind.name === 'grid' && each.facts.has('voltage_change_limit'));
  const open = limited ? hard.filter(each => factIn(base, each, 'inrush')?.provenance.class === 'tool') : hard;
  if (open.length === 0) return undefined;
  const lacks = limited ? '`inrush` is not stated' : 'the network states no `voltage_change_limit`';
  return `the dip of the network’s voltage when ${listed(open.map(({ tag }) => tag))} ${open.length === 1 ? 'is' : 'are'} switched on: ${lacks}`;
}

function transformersOf(context: CheckContext, grid: Component): readonly Component[] {
  const tags = context.graph.routesOf(grid.tag).flatMap(route => route.ac.map(({ tag }) => tag));
  return [...new Set(tags)]
    .flatMap(tag => context.component(tag) ?? [])
    .filter(each => each.kind.name === 'transformer');
}

/** Only the maker's figure against the owner's limit: a guess against a custom would tell nothing. */
function judgeInrush(context: CheckContext, grid: Component, transformer: Component): void {
  const limitIn = (caseIndex: number) => context.number(grid, 'voltage_change_limit', 'nominal', caseIndex);
  const isStated = (caseIndex: number) => context.fact(transformer, 'inrush', caseIndex)?.provenance.class !== 'tool';
  const spot = context.worst(
    transformer,
    inrushDip,
    ({ value, caseIndex }) => isStated(caseIndex) && value > limitIn(caseIndex),
  );
  if (spot === undefined) return;
  const limit = limitIn(spot.caseIndex);
  const display = show(limit, dimensions.ratio);
  context.say({
    severity: 'warning',
    component: grid,
    place: context.place(grid, 'voltage_change_limit', spot.caseIndex),
    related: context.related(spot.caseIndex, [transformer, 'inrush', 'Its inrush, as the maker states it.']),
    spot,
    limit: { name: undefined, number: limit, display },
    message: messages.inrush({
      grid: grid.tag,
      transformer: transformer.tag,
      dip: context.show(spot),
      wanted: display,
      where: context.where(spot),
    }),
  });
}
