// Does the converter's DC side carry the battery's current?
import { dcCurrent } from '../results/converter-current.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  over: (f: { converter: string; current: string; limit: string; where: string }) =>
    `${f.converter}’s DC side carries ${f.current} where ${f.limit} is its rating${f.where}: a battery at low voltage needs more current for the same power.`,
};

export const dcCurrentCheck = defineCheck({
  code: 'dc_current',
  group: 'current',
  title: 'Too much current on the DC side',
  why: 'Terminals, contactors and the DC link are rated for a direct current of their own, which binds when the battery’s voltage is low.',
  remedy: 'Raise the bottom of the state-of-charge span, take more cells in series, or ask for less power.',
  source: 'maker’s statement of the converter',
  on: 'converter',
  bad: [['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 850 V\n  dc_current = 500 A']],
  run: (context, converter) => {
    const limitIn = (caseIndex: number): number => context.number(converter, 'dc_current', 'nominal', caseIndex);
    const spot = context.pastLimit(converter, dcCurrent, limitIn);
    if (spot === undefined) return;
    const limit = limitIn(spot.caseIndex);
    const shown = show(limit, dimensions.current);
    context.say({
      severity: 'error',
      component: converter,
      place: context.place(converter, 'dc_current', spot.caseIndex),
      spot,
      limit: { name: undefined, number: limit, display: shown },
      message: messages.over({
        converter: converter.tag,
        current: context.show(spot),
        limit: shown,
        where: context.where(spot),
      }),
    });
  },
});
