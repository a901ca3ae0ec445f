// Is a duty above the rated current within the overload that the converter's maker states?
import { current, loading, ratedCurrent } from '../results/converter-current.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { Spot } from './context.ts';
import { excessText, overloadExcesses } from './overload-cover.ts';

const messages = {
  over: (f: { converter: string; current: string; rated: string; loading: string; why: string; where: string }) =>
    `${f.converter}’s overload does not cover ${f.current}, ${f.loading} of the ${f.rated} that it carries lastingly${f.where}: ${f.why}.`,
};

export const converterOverload = defineCheck({
  code: 'converter_overload',
  group: 'current',
  title: 'More than the stated overload',
  why: 'A converter may carry more than its rating for a while, if it was cool before and cools again. Longer, higher or more often than its maker states, its semiconductors overheat within seconds to minutes.',
  remedy: 'Take a larger converter, ask for less or shorter, or leave more time between the runs.',
  source: 'maker’s statement of the overload; duty classes of IEC 60146-1-1 (from memory)',
  on: 'converter',
  bad: [
    ['ac_current = 850 A', 'ac_current = 700 A\n  overload = 150 % for 60 s every 600 s'],
    ['transformer_spare = 5 %', 'transformer_spare = 5 %\n  ripple = 50 %'],
  ],
  run: (context, converter) => {
    if (!((context.worst(converter, loading)?.value ?? 0) > 1)) return;
    const exceeds = (spot: Spot): boolean =>
      spot.value > 1 && (overloadExcesses(context, converter, spot)?.length ?? 0) > 0;
    const spot = context.worst(converter, loading, exceeds);
    if (spot === undefined) return;
    const rated = context.beside(spot, converter, ratedCurrent);
    const stated = context.fact(converter, 'overload', spot.caseIndex) === undefined ? 'overload_class' : 'overload';
    context.say({
      severity: 'error',
      component: converter,
      place: context.place(converter, stated, spot.caseIndex),
      related: context.duty(spot),
      spot,
      limit: { name: `${converter.tag}.rated_current`, number: rated, display: show(rated, dimensions.current) },
      message: messages.over({
        converter: converter.tag,
        current: show(context.beside(spot, converter, current), dimensions.current),
        rated: show(rated, dimensions.current),
        loading: context.show(spot),
        why: excessText(overloadExcesses(context, converter, spot)![0]!),
        where: context.where(spot),
      }),
    });
  },
});
