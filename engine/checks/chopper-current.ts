// Does the chopper carry the current that the power needs at the lowest voltage of its low side?
import { current } from '../results/chopper.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  over: (f: { chopper: string; current: string; limit: string; where: string }) =>
    `${f.chopper}’s low side carries ${f.current} where ${f.limit} is its rating${f.where}: the lower the voltage there, the more current the same power needs.`,
};

export const chopperCurrent = defineCheck({
  code: 'chopper_current',
  group: 'current',
  title: 'Too much current through a chopper',
  why: 'Switches and chokes of a chopper are rated for the current on its low side, which is largest at the end of a discharge, when the battery’s voltage is lowest.',
  remedy:
    'Take a chopper with a larger rating or several of them, more cells in series, a higher bottom of the state-of-charge span, or less power.',
  source: 'maker’s statement of the chopper',
  on: 'chopper',
  bad: [
    [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      'chopper Q1 {\n  low_side_voltage = 250 V .. 420 V\n  high_side_voltage = 600 V .. 850 V\n  link_voltage = 750 V ± 1 %\n  current = 900 A\n}\n\nconnect MAIN -> T1 -> F1 -> K1 -> Q1 -> B1',
    ],
    ['cells_in_series = 224', 'cells_in_series = 112'],
    ['strings = 4', 'strings = 8'],
  ],
  run: (context, chopper) => {
    const limitIn = (caseIndex: number): number => context.number(chopper, 'current', 'nominal', caseIndex);
    const spot = context.pastLimit(chopper, current, limitIn);
    if (spot === undefined) return;
    const limit = limitIn(spot.caseIndex);
    const shown = show(limit, dimensions.current);
    context.say({
      severity: 'error',
      component: chopper,
      place: context.place(chopper, 'current', spot.caseIndex),
      spot,
      limit: { name: undefined, number: limit, display: shown },
      message: messages.over({
        chopper: chopper.tag,
        current: context.show(spot),
        limit: shown,
        where: context.where(spot),
      }),
    });
  },
});
