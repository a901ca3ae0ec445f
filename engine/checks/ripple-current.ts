// Is the converter-side choke large enough for the switching frequency?
import { ripple, rippleBound } from '../results/filter.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { Spot } from './context.ts';

const messages = {
  large: (f: { filter: string; ripple: string; share: string; converter: string; wanted: string }) =>
    `The ripple in ${f.filter}’s converter-side choke reaches ${f.ripple} peak to peak, ${f.share} of ${f.converter}’s rated peak current, more than the customary ${f.wanted}: it heats the choke and takes current from the semiconductors.`,
};

export const rippleCurrentCheck = defineCheck({
  code: 'ripple_current',
  group: 'filter',
  title: 'A large ripple current',
  why: 'The choke between converter and capacitor limits the ripple that switching makes. Too small, it overheats, and the semiconductors switch off more current than the fundamental tells.',
  remedy: 'Take more converter-side inductance or a higher switching frequency.',
  source: 'practice `ripple`: 30 % peak to peak of the rated peak, common practice, no source',
  on: 'filter',
  bad: [['transformer_spare = 5 %', 'transformer_spare = 5 %\n  ripple = 15 %']],
  run: (context, filter) => {
    const converter = context.component(context.graph.routesOf(filter.tag)[0]?.converter);
    if (converter === undefined) return;
    const ratedIn = (caseIndex: number) => context.number(converter, 'ac_current', 'nominal', caseIndex) * Math.SQRT2;
    const past = ({ value, caseIndex }: Spot) =>
      value > context.practice('ripple', caseIndex).number * ratedIn(caseIndex);
    // Where the bound holds, nobody has to follow the switching.
    if (context.worst(filter, rippleBound, past) === undefined) return;
    const spot = context.worst(filter, ripple, past);
    if (spot === undefined) return;
    const rated = ratedIn(spot.caseIndex);
    const wanted = context.practice('ripple', spot.caseIndex);
    context.say({
      severity: 'warning',
      component: filter,
      place: context.place(filter, 'converter_inductance', spot.caseIndex),
      related: context.related(spot.caseIndex, [converter, 'switching_frequency', 'The switching frequency.']),
      spot,
      limit: {
        name: wanted.name,
        number: wanted.number * rated,
        display: show(wanted.number * rated, dimensions.current),
      },
      message: messages.large({
        filter: filter.tag,
        ripple: context.show(spot),
        share: show(spot.value / rated, dimensions.ratio),
        converter: converter.tag,
        wanted: wanted.display,
      }),
    });
  },
});
