// Does a duty shake the voltage of a weak network?
import { voltageChange } from '../results/grid.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  large: (f: { grid: string; change: string; wanted: string; where: string }) =>
    `The voltage at ${f.grid} jumps by ${f.change} when this begins or ends, more than the ${f.wanted} that is allowed${f.where}.`,
};

export const voltageChangeCheck = defineCheck({
  code: 'voltage_change',
  group: 'voltage',
  title: 'A jump of the network’s voltage',
  why: 'On a weak connection a step of power changes the voltage of everybody connected there: lights flicker, other converters trip.',
  remedy:
    'Ramp the power, ask for less, use reactive power against it, or ask the network’s owner what is allowed (`voltage_change_limit`).',
  source: 'stated by the network’s owner; else practice `voltage_change`: 3 %, common practice, no source',
  on: 'grid',
  bad: [['fault_power = 9 MVA .. 14 MVA', 'fault_power = 9 MVA .. 14 MVA\n  voltage_change_limit = 1 %']],
  run: (context, grid) => {
    const spot = context.worst(grid, voltageChange);
    if (spot === undefined) return;
    const stated = context.number(grid, 'voltage_change_limit', 'nominal', spot.caseIndex);
    const practice = context.practice('voltage_change', spot.caseIndex);
    const wanted = Number.isNaN(stated)
      ? practice
      : { name: undefined, number: stated, display: show(stated, dimensions.ratio) };
    if (!(spot.value > wanted.number)) return;
    context.say({
      severity: Number.isNaN(stated) ? 'warning' : 'error',
      component: grid,
      place: context.place(grid, Number.isNaN(stated) ? 'fault_power' : 'voltage_change_limit', spot.caseIndex),
      related:
        spot.duty === undefined
          ? []
          : context.related([
              spot.duty,
              spot.duty.facts.has('discharge') ? 'discharge' : 'charge',
              'This duty does it.',
            ]),
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
