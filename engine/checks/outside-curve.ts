// A curve was asked for a point beyond its ends: no silent extrapolation.
import { propertyOf } from '../kinds/index.ts';
import type { Property } from '../kinds/kind.ts';
import type { Component } from '../model/plant.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

const messages = {
  outside: (f: {
    tag: string;
    property: string;
    first: string;
    last: string;
    axis: string;
    x: string;
    inCase: string;
    known: string;
  }) =>
    `\`${f.property}\` of ${f.tag} is ${f.known} for ${f.axis} from ${f.first} to ${f.last}, and was asked at ${f.x}${f.inCase}: the value at the end was taken, and what was judged with it is not certain.`,
};

/** Curves that stand behind a hazard, or behind what a battery may carry: beyond their ends nothing can be promised. */
const grave = new Set(['open_circuit_voltage', 'charge_current', 'discharge_current', 'altitude_derating']);

export const outsideCurve = defineCheck({
  code: 'outside_curve',
  group: 'facts',
  title: 'A curve does not reach far enough',
  why: 'Outside its points a curve says nothing: a resistance that rises steeply in the cold, or a charge current that falls to nothing, can’t be guessed.',
  remedy: 'Ask the maker for the missing points, or keep operation inside the stated ones.',
  source: 'definition',
  on: 'plant',
  looksEverywhere: true,
  bad: [['temperature = 20 °C', 'temperature = 50 °C']],
  run: context => {
    const seen = new Set<string>();
    for (const outside of context.graph.outsideCurves()) {
      const key = `${outside.tag}.${outside.property}.${outside.x < outside.first ? 'below' : 'above'}`;
      const component = context.component(outside.tag);
      if (component === undefined || seen.has(key)) continue;
      // A maker's curve that nobody stated is missed by `ambient_range`.
      const assumed = context.fact(component, outside.property, outside.caseIndex)?.provenance.class === 'tool';
      if (assumed && outside.property === 'ambient_derating') continue;
      seen.add(key);
      sayOutside(context, component, outside);
    }
  },
});

function sayOutside(
  context: CheckContext,
  component: Component,
  outside: ReturnType<CheckContext['graph']['outsideCurves']>[number],
): void {
  const property = propertyOf(component.kind, outside.property)!;
  const { axes } = property.type as Extract<Property['type'], { readonly is: 'quantity' }>;
  const dimension = dimensions[axes!.find(candidate => candidate.name === outside.axis)!.dimension];
  const { name } = context.cases[outside.caseIndex]!;
  const place = asked(context, component, outside) ?? context.place(component, outside.property, outside.caseIndex);
  context.say({
    severity: grave.has(outside.property) ? 'error' : 'warning',
    component,
    place,
    related: context.related(outside.caseIndex, [component, outside.property, 'The curve.']),
    point: {
      case: name === '' ? undefined : name,
      duty: undefined,
      voltage: undefined,
      soc: undefined,
      direction: undefined,
    },
    message: messages.outside({
      tag: component.tag,
      property: outside.property,
      axis: withArticle(outside.axis === 'soc' ? 'state of charge' : outside.axis),
      first: show(outside.first, dimension),
      last: show(outside.last, dimension),
      x: show(outside.x, dimension),
      inCase: context.inCase(outside.caseIndex),
      known:
        context.fact(component, outside.property, outside.caseIndex)?.provenance.class === 'tool'
          ? 'assumed by the tool'
          : 'stated',
    }),
  });
}

const withArticle = (noun: string): string => `${/^[aeiou]/.test(noun) ? 'an' : 'a'} ${noun}`;

/** The fact that asks too much of the curve, where the author can act on it: a temperature, an altitude. */
function asked(context: CheckContext, component: Component, outside: { axis: string; caseIndex: number }) {
  const { axis, caseIndex } = outside;
  const [owner, property] =
    axis === 'temperature' && component.kind.name === 'battery'
      ? [component, 'temperature']
      : axis === 'altitude'
        ? [context.plant.site, 'altitude']
        : axis === 'temperature' && component.kind.name === 'converter'
          ? [context.plant.site, 'ambient']
          : [];
  if (owner === undefined || property === undefined) return undefined;
  // What the tool assumed is written nowhere; then the curve is the place to act.
  return context.fact(owner, property, caseIndex)?.whole && context.place(owner, property, caseIndex);
}
