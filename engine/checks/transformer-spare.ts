// Does the transformer keep the reserve that the house rules ask for?
import { spare } from '../results/transformer.ts';
import { defineCheck } from './check.ts';

const messages = {
  little: (f: { transformer: string; spare: string; wanted: string; where: string }) =>
    `${f.transformer} keeps ${f.spare} of its rating free, less than the ${f.wanted} that the house rules ask for${f.where}.`,
};

export const transformerSpare = defineCheck({
  code: 'transformer_spare',
  group: 'current',
  title: 'Less spare in the transformer than agreed',
  why: 'A transformer outlives the duty that it was bought for; a house rule keeps room for the next one.',
  remedy: 'Take the next preferred rating, or accept the smaller reserve with its reason and date.',
  source: 'practice `transformer_spare`: a rule of the house',
  on: 'transformer',
  bad: [['transformer_spare = 5 %', 'transformer_spare = 20 %']],
  givesWayTo: ['transformer_loading'],
  run: (context, transformer) => {
    const least = context.worst(transformer, spare);
    if (least === undefined || least.value < 0) return;
    const wantedIn = (caseIndex: number) => context.practice('transformer_spare', caseIndex);
    const spot = context.pastLimit(transformer, spare, caseIndex => wantedIn(caseIndex).number);
    if (spot === undefined) return;
    const wanted = wantedIn(spot.caseIndex);
    context.say({
      severity: 'warning',
      component: transformer,
      place: context.place(transformer, 'rated_power', spot.caseIndex),
      related: wanted.stated,
      spot,
      limit: wanted,
      message: messages.little({
        transformer: transformer.tag,
        spare: context.show(spot),
        wanted: wanted.display,
        where: context.where(spot),
      }),
    });
  },
});
