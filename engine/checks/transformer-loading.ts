// Does the transformer carry the duty?

import type { JudgedNumber } from '../finding.ts';
import type { Component } from '../model/plant.ts';
import type { Step } from '../results/definition.ts';
import { type Flow, flow } from '../results/flow.ts';
import { requiredRating } from '../results/transformer.ts';
import { deratedLoading, harmonicBound, harmonicFactor, siteFactor } from '../results/transformer-thermal.ts';
import { nextPreferredRating } from '../tables/preferred-ratings.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { uncovered } from './transformer-overload.ts';

const messages = {
  over: (f: {
    transformer: string;
    required: string;
    rated: string;
    derated: string;
    loading: string;
    where: string;
    why: string;
  }) =>
    `${f.transformer} is overloaded: the duty needs ${f.required} where ${f.rated} is its rating${f.derated}, ${f.loading}${f.where}${f.why}. Active power alone is not what a transformer is sized by: reactive power, the lowest voltage and the filter count too.`,
  above: (f: { transformer: string; loading: string; derated: string; wanted: string; where: string }) =>
    `${f.transformer} is loaded to ${f.loading} of its rating${f.derated}, above the ${f.wanted} of the house rules${f.where}.`,
};

export const transformerLoading = defineCheck({
  code: 'transformer_loading',
  group: 'current',
  title: 'The transformer carries too much current',
  why: 'A transformer is rated by current: overload ages its insulation fast, and it is sized by apparent power at the lowest voltage, not by active power. Thin air and heat leave less of its rating.',
  remedy:
    'Take the next preferred rating, ask for less power or reactive power, or state the `overload` that its maker allows for passing duties.',
  source:
    'IEC 60076-1, rated power (from memory); practice `transformer_loading`: 100 %, common practice, no source; altitude: IEC 60076-11, IEC 60076-2 (from memory)',
  on: 'transformer',
  bad: [
    ['rated_power = 500 kVA', 'rated_power = 400 kVA'],
    ['require T1.loading <= 95 %\n', ''],
  ],
  run: (context, transformer) => {
    const most = context.worst(transformer, deratedLoading);
    if (most === undefined) return;
    const passes = (spot: Spot): boolean => spot.value > 1 && uncovered(context, transformer, spot) === '';
    const counts = passes(most) ? (candidate: Spot): boolean => !passes(candidate) : undefined;
    const highest = counts === undefined ? most : context.worst(transformer, deratedLoading, counts);
    if (highest === undefined) return;
    const wantedIn = (caseIndex: number) => context.practice('transformer_loading', caseIndex);
    if (highest.value > 1) {
      sayOver(context, transformer, highest, wantedIn(highest.caseIndex));
      return;
    }
    const spot = context.pastLimit(transformer, deratedLoading, caseIndex => wantedIn(caseIndex).number, counts);
    if (spot !== undefined) {
      const wanted = wantedIn(spot.caseIndex);
      context.say({
        ...common(context, transformer, spot, wanted),
        severity: 'warning',
        message: messages.above({
          transformer: transformer.tag,
          loading: context.show(spot),
          derated: deratedText(context, transformer, spot),
          wanted: wanted.display,
          where: context.where(spot),
        }),
      });
    }
  },
});

function common(context: CheckContext, transformer: Component, spot: Spot, limit: JudgedNumber) {
  return {
    component: transformer,
    place: context.place(transformer, 'rated_power', spot.caseIndex),
    related: context.duty(spot),
    spot,
    limit,
  };
}

function sayOver(context: CheckContext, transformer: Component, spot: Spot, wanted: JudgedNumber): void {
  const required = context.beside(spot, transformer, requiredRating);
  const rated = context.number(transformer, 'rated_power', 'nominal', spot.caseIndex);
  const valuePlace = context.valuePlace(transformer, 'rated_power');
  const spare = context.practice('transformer_spare', spot.caseIndex).number;
  const site = context.beside(spot, transformer, siteFactor, noPoint);
  // A larger transformer has less impedance and draws a little other current: half a per cent covers that.
  const next = nextPreferredRating(
    (1.005 * required) / Math.max(0.01, Math.min(site * wanted.number, 1 - (Number.isNaN(spare) ? 0 : spare))),
  );
  context.say({
    ...common(context, transformer, spot, wanted),
    severity: 'error',
    message: messages.over({
      transformer: transformer.tag,
      required: show(required, dimensions.apparent_power),
      rated: show(rated, dimensions.apparent_power),
      derated: deratedText(context, transformer, spot),
      loading: context.show(spot),
      where: context.where(spot),
      why: uncovered(context, transformer, spot) ?? '',
    }),
    fixes:
      valuePlace === undefined ||
      next === undefined ||
      !everyDutyPasses(context, transformer) ||
      !harmonicsLeave(context, transformer, next, required / (site * next))
        ? []
        : [
            {
              title: `Take the preferred rating ${show(next, dimensions.apparent_power)}`,
              safe: false,
              edits: [{ place: valuePlace, text: show(next, dimensions.apparent_power) }],
            },
          ],
  });
}

/**
 * Whether the harmonics leave a larger transformer so much of its rating: behind its smaller impedance they grow no more
 * than its rating does, and the eddy loss with their square.
 */
function harmonicsLeave(context: CheckContext, transformer: Component, rating: number, share: number): boolean {
  return context.cases.every((_, caseIndex) => {
    const growth = Math.max(1, rating / context.number(transformer, 'rated_power', 'nominal', caseIndex));
    const least = growth / Math.sqrt(1 / (share * share) - 1 + growth * growth);
    // The bound is at hand; only where it isn't enough are the spectra worth their time.
    if (context.steps(transformer, harmonicBound, caseIndex)[0]! >= least) return true;
    const known = context.graph.value(transformer, harmonicFactor, caseIndex, undefined, noPoint);
    return Number.isNaN(known) ? share <= 1 : known >= least;
  });
}

function deratedText(context: CheckContext, transformer: Component, spot: Spot): string {
  const site = context.beside(spot, transformer, siteFactor, noPoint);
  return site < 1 ? `, of which altitude and ambient leave ${show(site, dimensions.ratio)}` : '';
}

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** A duty whose power does not get through at all needs a rating that nobody knows yet. */
function everyDutyPasses(context: CheckContext, transformer: Component): boolean {
  const converters = context.graph.routesOf(transformer.tag).flatMap(route => context.component(route.converter) ?? []);
  return context.cases.every((_, caseIndex) =>
    context.plant.duties.every(duty =>
      converters.every(converter => {
        const { values } = context.graph.slab(converter, flow as Step<unknown>, caseIndex, duty);
        return (values as readonly (Flow | undefined)[]).every(solved => solved?.ok !== false);
      }),
    ),
  );
}
