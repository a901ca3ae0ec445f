// Does the transformer carry the duty?

import type { JudgedNumber } from '../finding.ts';
import type { Component } from '../model/plant.ts';
import type { Step } from '../results/definition.ts';
import { type Flow, flow } from '../results/flow.ts';
import { harmonicLossFactor } from '../results/harmonics.ts';
import { loading, requiredRating } from '../results/transformer.ts';
import {
  deratedLoading,
  harmonicBound,
  relativeRise,
  siteFactor,
  thermalLoading,
} from '../results/transformer-thermal.ts';
import { nextPreferredRating } from '../tables/preferred-ratings.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';

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
  harmonics: (f: {
    transformer: string;
    loading: string;
    thermal: string;
    factor: string;
    eddy: string;
    where: string;
  }) =>
    `With its harmonics ${f.transformer} is as warm as at ${f.thermal} of its rating, more than it may carry; by current it is loaded to ${f.loading}${f.where}. They multiply the eddy loss of its windings by ${f.factor}, and ${f.eddy} of its load loss is eddy loss.`,
};

export const transformerLoading = defineCheck({
  code: 'transformer_loading',
  group: 'current',
  title: 'The transformer carries too much current',
  why: 'A transformer is rated by current: overload ages its insulation fast, and it is sized by apparent power at the lowest voltage, not by active power. Thin air, heat and harmonics leave less of its rating.',
  remedy:
    'Take the next preferred rating, ask for less power or reactive power, or state the `overload` that its maker allows for passing duties.',
  source:
    'IEC 60076-1, rated power; practice `transformer_loading`: 100 %, common practice, no source; altitude: IEC 60076-11, IEC 60076-2 (from memory)',
  on: 'transformer',
  bad: [
    ['rated_power = 500 kVA', 'rated_power = 400 kVA'],
    ['require T1.loading <= 95 %\n', ''],
  ],
  run: (context, transformer) => {
    const most = context.worst(transformer, deratedLoading);
    if (most === undefined) return;
    const passes = (spot: Spot): boolean => spot.value > 1 && passing(context, transformer, spot) === '';
    const spot = passes(most) ? context.worst(transformer, deratedLoading, candidate => !passes(candidate)) : most;
    if (spot === undefined) return;
    const wanted = context.practice('transformer_loading', spot.caseIndex);
    if (spot.value > 1) sayOver(context, transformer, spot, wanted);
    else if (spot.value > wanted.number) {
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
    } else sayHarmonics(context, transformer, spot.value);
  },
});

function common(context: CheckContext, transformer: Component, spot: Spot, limit: JudgedNumber) {
  return {
    component: transformer,
    place: context.place(transformer, 'rated_power', spot.caseIndex),
    related:
      spot.duty === undefined
        ? []
        : context.related([
            spot.duty,
            spot.duty.facts.has('discharge') ? 'discharge' : 'charge',
            'This duty asks for it.',
          ]),
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
      why: passing(context, transformer, spot) ?? '',
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
}

/** Only where the ripple could matter at all is the spectrum computed. */
function sayHarmonics(context: CheckContext, transformer: Component, most: number): void {
  const worth = context.cases.some((_, caseIndex) => {
    const { values } = context.graph.slab(transformer, harmonicBound as Step<unknown>, caseIndex, undefined);
    return !(most <= (values[0] as number));
  });
  if (!worth) return;
  const passes = (spot: Spot): boolean => passing(context, transformer, { ...spot, result: deratedLoading }) === '';
  const spot = context.worst(transformer, thermalLoading, candidate => candidate.value > 1 && !passes(candidate));
  if (spot === undefined) return;
  context.say({
    ...common(context, transformer, spot, { name: undefined, number: 1, display: '100 %' }),
    severity: 'warning',
    message: messages.harmonics({
      transformer: transformer.tag,
      loading: show(context.beside(spot, transformer, loading), dimensions.ratio),
      thermal: context.show(spot),
      factor: show(context.beside(spot, transformer, harmonicLossFactor, noPoint), dimensions.count),
      eddy: show(context.number(transformer, 'eddy_loss', 'nominal', spot.caseIndex), dimensions.ratio),
      where: context.where(spot),
    }),
  });
}

/**
 * What the stated overload leaves uncovered of a passing duty, as the end of a sentence; empty where it covers it,
 * undefined where none is stated or the duty lasts.
 */
function passing(context: CheckContext, transformer: Component, spot: Spot): string | undefined {
  const allowed = context.number(transformer, 'overload', 'nominal', spot.caseIndex);
  const { duty } = spot;
  if (Number.isNaN(allowed) || duty === undefined) return undefined;
  if (!(context.number(duty, 'duration', 'nominal', spot.caseIndex) > 0)) return undefined;
  const ratio = (value: number): string => show(value, dimensions.ratio);
  const current = context.beside(spot, transformer, loading);
  if (current > allowed)
    return `; ${ratio(current)} of its rated current is more than the ${ratio(allowed)} that its overload allows`;
  const rise = context.beside(spot, transformer, relativeRise);
  return rise <= 1 ? '' : `; it would warm up to ${ratio(rise)} of the permitted rise`;
}

function deratedText(context: CheckContext, transformer: Component, spot: Spot): string {
  const site = context.beside(spot, transformer, siteFactor, noPoint);
  return site < 1 ? `, of which altitude and ambient leave ${show(site, dimensions.ratio)}` : '';
}

const noPoint = { direction: 0, voltage: 0, soc: 0 };

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
