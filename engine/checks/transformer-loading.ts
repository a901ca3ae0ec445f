// Does the transformer carry the duty?

import type { Component } from '../model/plant.ts';
import type { Step } from '../results/definition.ts';
import { type Flow, flow } from '../results/flow.ts';
import { loading, requiredRating } from '../results/transformer.ts';
import { nextPreferredRating } from '../tables/preferred-ratings.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

const messages = {
  over: (f: { transformer: string; required: string; rated: string; loading: string; where: string }) =>
    `${f.transformer} is overloaded: the duty needs ${f.required} where ${f.rated} is its rating, ${f.loading}${f.where}. Active power alone is not what a transformer is sized by: reactive power, the lowest voltage and the filter count too.`,
  above: (f: { transformer: string; loading: string; wanted: string; where: string }) =>
    `${f.transformer} is loaded to ${f.loading} of its rating, above the ${f.wanted} of the house rules${f.where}.`,
};

export const transformerLoading = defineCheck({
  code: 'transformer_loading',
  group: 'current',
  title: 'The transformer carries too much current',
  why: 'A transformer is rated by current: overload ages its insulation fast, and it is sized by apparent power at the lowest voltage, not by active power.',
  remedy: 'Take the next preferred rating, or ask for less power or reactive power.',
  source: 'IEC 60076-1, rated power; practice `transformer_loading`: 100 %, common practice, no source',
  on: 'transformer',
  bad: [
    ['rated_power = 500 kVA', 'rated_power = 400 kVA'],
    ['require T1.loading <= 95 %\n', ''],
  ],
  run: (context, transformer) => {
    const spot = context.worst(transformer, loading);
    if (spot === undefined) return;
    const wanted = context.practice('transformer_loading', spot.caseIndex);
    if (spot.value <= wanted.number && spot.value <= 1) return;
    const place = context.place(transformer, 'rated_power', spot.caseIndex);
    const where = context.where(spot);
    const common = {
      component: transformer,
      place,
      related:
        spot.duty === undefined
          ? []
          : context.related([
              spot.duty,
              spot.duty.facts.has('discharge') ? 'discharge' : 'charge',
              'This duty asks for it.',
            ]),
      spot,
      limit: wanted,
    };
    if (spot.value <= 1) {
      context.say({
        ...common,
        severity: 'warning',
        message: messages.above({
          transformer: transformer.tag,
          loading: context.show(spot),
          wanted: wanted.display,
          where,
        }),
      });
      return;
    }
    const required = context.beside(spot, transformer, requiredRating);
    const rated = context.number(transformer, 'rated_power', 'nominal', spot.caseIndex);
    const valuePlace = context.valuePlace(transformer, 'rated_power');
    const spare = context.practice('transformer_spare', spot.caseIndex).number;
    // A larger transformer has less impedance and draws a little other current: half a per cent covers that.
    const next = nextPreferredRating(
      (1.005 * required) / Math.max(0.01, Math.min(wanted.number, 1 - (Number.isNaN(spare) ? 0 : spare))),
    );
    context.say({
      ...common,
      severity: 'error',
      message: messages.over({
        transformer: transformer.tag,
        required: show(required, dimensions.apparent_power),
        rated: show(rated, dimensions.apparent_power),
        loading: context.show(spot),
        where,
      }),
      fixes:
        valuePlace === undefined || next === undefined || !everyDutyPasses(context, transformer)
          ? []
          : [
              {
                title: `Take the preferred rating ${show(next, dimensions.apparent_power)}`,
                safe: false,
                edits: [{ place: valuePlace, text: show(next, dimensions.apparent_power) }],
              },
            ],
    });
  },
});

/** A duty whose power does not get through at all needs a rating that nobody knows yet. */
function everyDutyPasses(context: CheckContext, transformer: Component): boolean {
  const converters = context.graph.routesOf(transformer.tag).map(route => context.component(route.converter));
  return context.cases.every((_, caseIndex) =>
    context.plant.duties.every(duty =>
      converters.every(converter => {
        if (converter === undefined) return true;
        const { values } = context.graph.slab(converter, flow as Step<unknown>, caseIndex, duty);
        return (values as readonly (Flow | undefined)[]).every(solved => solved?.ok !== false);
      }),
    ),
  );
}
