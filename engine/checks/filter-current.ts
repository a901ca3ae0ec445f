// Do the filter's chokes carry the current?
import { current } from '../results/filter.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  over: (f: { filter: string; current: string; limit: string; where: string }) =>
    `${f.filter}’s chokes carry ${f.current} where ${f.limit} is their rating${f.where}.`,
};

export const filterCurrent = defineCheck({
  code: 'filter_current',
  group: 'current',
  title: 'Too much current in the filter',
  why: 'A choke that carries more than its rated current overheats; beyond it its core saturates and the ripple grows.',
  remedy: 'Take chokes for more current, or ask for less power.',
  source: 'maker’s statement of the filter',
  on: 'filter',
  bad: [['converter_inductance = 100 µH', 'converter_inductance = 100 µH\n  rated_current = 700 A']],
  run: (context, filter) => {
    const limitIn = (caseIndex: number): number => context.number(filter, 'rated_current', 'nominal', caseIndex);
    const spot = context.pastLimit(filter, current, limitIn);
    if (spot === undefined) return;
    const limit = limitIn(spot.caseIndex);
    const shown = show(limit, dimensions.current);
    context.say({
      severity: 'error',
      component: filter,
      place: context.place(filter, 'rated_current', spot.caseIndex),
      spot,
      limit: { name: undefined, number: limit, display: shown },
      message: messages.over({
        filter: filter.tag,
        current: context.show(spot),
        limit: shown,
        where: context.where(spot),
      }),
    });
  },
});
