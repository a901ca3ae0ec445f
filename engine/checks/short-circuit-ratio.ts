// Is the network firm enough for what its converters are made for?
import type { Component } from '../model/plant.ts';
import type { Route } from '../model/topology.ts';
import { shortCircuitRatio } from '../results/grid.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';
import { formsIn } from './island-judgement.ts';
import { listed } from './not-checked.ts';

const property = 'least_short_circuit_ratio';

const messages = {
  weak: (f: { converter: string; grid: string; ratio: string; least: string; where: string }) =>
    `The network at ${f.grid} has ${f.ratio} times the power of the converters on it at its lowest short-circuit power; ${f.converter} is made for ${f.least} times at least${f.where}.`,
  customary: (f: { converters: string; grid: string; ratio: string; least: string; where: string }) =>
    `The network at ${f.grid} has ${f.ratio} times the power of the converters on it at its lowest short-circuit power, less than the customary ${f.least}${f.where}: only the maker of ${f.converters} can say whether a control of current is stable there; ask, and state \`least_short_circuit_ratio\`.`,
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
  source:
    'maker’s statement of the converter, `least_short_circuit_ratio`; else practice `short_circuit_ratio`: below 3 a network counts as weak (encyclopedia article on short-circuit ratio; IEEE 1204, from memory)',
  on: 'converter',
  bad: [['ac_current = 850 A', 'ac_current = 850 A\n  least_short_circuit_ratio = 20']],
  run: (context, converter) => {
    const grid = context.component(context.graph.routesOf(converter.tag)[0]?.grid);
    if (grid === undefined) return;
    const leastIn = (caseIndex: number) => context.number(converter, property, 'nominal', caseIndex);
    const stated = context.states(converter, property);
    if (!stated) sayCustomary(context, converter, grid);
    if (stated && context.fact(grid, 'fault_power') === undefined && !grid.failed.has('fault_power')) {
      const place = context.place(converter, property);
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
      place: context.place(converter, property, spot.caseIndex),
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

/** At the first whose maker says nothing. Where the plant makes the voltage itself, nothing follows the network's. */
function sayCustomary(context: CheckContext, converter: Component, grid: Component): void {
  const routes = context.graph.routesOf(grid.tag);
  const isSilent = (route: Route): boolean => {
    const each = context.component(route.converter);
    return each !== undefined && !context.states(each, property) && !each.failed.has(property);
  };
  if (routes.find(isSilent)?.converter !== converter.tag) return;
  const wantedIn = (caseIndex: number) => context.practice('short_circuit_ratio', caseIndex);
  const follows = (caseIndex: number): boolean =>
    context.plant.duties.some(duty => !formsIn(context.cases[caseIndex]!, duty));
  const limitIn = (caseIndex: number): number => wantedIn(caseIndex).number;
  // Mostly the network is firm, whatever the duties do.
  if (context.pastLimit(grid, shortCircuitRatio, limitIn) === undefined) return;
  const spot = context.pastLimit(grid, shortCircuitRatio, limitIn, ({ caseIndex }) => follows(caseIndex));
  if (spot === undefined) return;
  const wanted = wantedIn(spot.caseIndex);
  context.say({
    severity: 'warning',
    component: converter,
    place: context.place(grid, 'fault_power', spot.caseIndex),
    related: wanted.stated,
    spot,
    limit: wanted,
    message: messages.customary({
      converters: listed([...new Set(routes.filter(isSilent).map(route => route.converter))]),
      grid: grid.tag,
      ratio: context.show(spot),
      least: wanted.display,
      where: context.where(spot),
    }),
  });
}
