// Does each string stay within the current that its maker permits?
import { stringCurrent, stringCurrentLimit, stringReserve } from '../results/battery.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  over: (f: { battery: string; current: string; limit: string; way: string; where: string; strings: string }) =>
    `Each string of ${f.battery} carries ${f.current} where ${f.limit} is what its maker permits for ${f.way}${f.where}${f.strings}.`,
};

export const batteryCurrent = defineCheck({
  code: 'battery_current',
  group: 'current',
  title: 'A string carries more current than permitted',
  why: 'Cells that carry more than their permitted current heat up, age and trip; charging cold lithium cells plates metal in them, which ends in short circuits. Energy alone does not size a battery.',
  remedy:
    'Take more strings, ask for less power, raise the bottom of the state-of-charge span, or keep the battery warmer.',
  source: 'maker’s statement of the battery',
  on: 'battery',
  bad: [['charge = 250 kW', 'charge = 400 kW']],
  run: (context, battery) => {
    const spot = context.worst(battery, stringReserve);
    if (spot === undefined || spot.value >= 0 || spot.duty === undefined) return;
    const limit = context.beside(spot, battery, stringCurrentLimit);
    const current = context.beside(spot, battery, stringCurrent);
    const charging = !spot.duty.facts.has('discharge');
    const strings = context.number(battery, 'strings', 'nominal', spot.caseIndex);
    const enough = limit > 0 ? Math.ceil((current * strings) / limit) : undefined;
    context.say({
      severity: 'error',
      component: battery,
      place: context.place(battery, 'strings', spot.caseIndex),
      related: context.related(
        [battery, charging ? 'charge_current' : 'discharge_current', 'What one string may carry.'],
        [spot.duty, charging ? 'charge' : 'discharge', 'This duty asks for it.'],
      ),
      spot: { ...spot, result: stringCurrent, value: current },
      limit: { name: `${battery.tag}.string_current_limit`, number: limit, display: show(limit, dimensions.current) },
      message: messages.over({
        battery: battery.tag,
        current: show(current, dimensions.current),
        limit: show(limit, dimensions.current),
        way: charging ? 'charging' : 'discharging',
        where: context.where(spot),
        strings:
          enough === undefined || enough > 20 * strings ? '' : `; by current alone about ${enough} strings would do`,
      }),
    });
  },
});
