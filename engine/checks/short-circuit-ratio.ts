// Is the network firm enough for what its converters are made for?
import { shortCircuitRatio } from '../results/grid.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  weak: (f: { converter: string; grid: string; ratio: string; least: string; where: string }) =>
    `The network at ${f.grid} has ${f.ratio} times the power of the converters on it at its lowest short-circuit power; ${f.converter} is made for ${f.least} times at least${f.where}.`,
  notJudged: (f: { converter: string; grid: string }) =>
    `${f.converter}’s least short-circuit ratio is not checked: ${f.grid} states no \`fault_power\`.`,
};

export const shortCircuitRatioCheck = defineCheck({
  code: 'short_circuit_ratio',
  group: 'voltage',
  title: 'The network is weaker than the converter is made for',
  why: 'A control of current follows the voltage that it measures. On a weak network its own current moves that voltage, and below a certain ratio the control hunts or loses its footing.',
  remedy:
    'Ask for a stronger connection or a control that is made for a weaker one (a control of voltage), or take fewer or smaller converters.',
  source: 'maker’s statement of the converter, `least_short_circuit_ratio`',
  on: 'converter',
  bad: [['ac_current = 850 A', 'ac_current = 850 A\n  least_short_circuit_ratio = 20']],
  run: (context, converter) => {
    const grid = context.component(context.graph.routesOf(converter.tag)[0]?.grid);
    if (grid === undefined) return;
    const leastIn = (caseIndex: number) => context.number(converter, 'least_short_circuit_ratio', 'nominal', caseIndex);
    const stated = context.cases.some((_, index) => !Number.isNaN(leastIn(index)));
    if (stated && context.fact(grid, 'fault_power') === undefined && !grid.failed.has('fault_power')) {
      const place = context.place(converter, 'least_short_circuit_ratio');
      const message = messages.notJudged({ converter: converter.tag, grid: grid.tag });
      context.say({ severity: 'note', component: converter, place, message });
    }
    const spot = context.worst(grid, shortCircuitRatio, ({ value, caseIndex }) => value < leastIn(caseIndex));
    if (spot === undefined) return;
    const least = leastIn(spot.caseIndex);
    const display = show(least, dimensions.count);
    context.say({
      severity: 'error',
      component: converter,
      place: context.place(converter, 'least_short_circuit_ratio', spot.caseIndex),
      related: context.related(spot.caseIndex, [grid, 'fault_power', 'The network’s short-circuit power.']),
      spot,
      limit: { name: undefined, number: least, display },
      message: messages.weak({
        converter: converter.tag,
        grid: grid.tag,
        ratio: context.show(spot),
        least: display,
        where: context.where(spot),
      }),
    });
  },
});
