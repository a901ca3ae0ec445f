// Watts stated for a transformer whose rating is still being picked.
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  watts: (f: { transformer: string; rated: string; losses: string }) =>
    `${f.transformer}’s rating is picked, at present ${f.rated}, but its losses stay in watts whatever is picked: ${f.losses} at present. State shares of the rating, or leave it to the regulation’s table.`,
};

export const pickedLosses = defineCheck({
  code: 'picked_losses',
  group: 'facts',
  title: 'Losses that do not follow the picked rating',
  why: 'Watts belong to one rating. As long as the rating is picked, they make every candidate but one wrong: its loss, its resistance and its heat.',
  remedy:
    'State the loss as a share of the rating, leave it out (the ecodesign regulation’s table then gives it), or state the rating.',
  source: 'definition',
  on: 'transformer',
  bad: [['rated_power = 500 kVA', 'rated_power = pick']],
  run: (context, transformer) => {
    const rated = context.fact(transformer, 'rated_power');
    if (rated?.provenance.class !== 'picked' || rated.value.type !== 'number') return;
    const { nominal } = rated.value;
    const losses = ['load_loss', 'no_load_loss'].flatMap(property => {
      const fact = context.fact(transformer, property);
      if (fact?.value.type !== 'number' || fact.value.dimension.unit !== 'W') return [];
      const watts = fact.value.nominal;
      return [{ property, watts, share: show(watts / nominal, dimensions.ratio, { digits: 3 }) }];
    });
    if (losses.length === 0) return;
    const edits = losses.flatMap(({ property, share }) => {
      const place = context.valuePlace(transformer, property);
      return place === undefined ? [] : [{ place, text: share }];
    });
    context.say({
      severity: 'warning',
      component: transformer,
      place: context.place(transformer, losses[0]!.property),
      related: context.related(0, [transformer, 'rated_power', 'The rating that is picked.']),
      message: messages.watts({
        transformer: transformer.tag,
        rated: show(nominal, dimensions.apparent_power),
        losses: losses
          .map(({ property, watts, share }) => `\`${property}\` at ${show(watts, dimensions.active_power)}, ${share}`)
          .join(', and '),
      }),
      fixes:
        edits.length < losses.length
          ? []
          : [{ title: `State ${losses.map(({ share }) => share).join(' and ')}`, safe: false, edits }],
    });
  },
});
