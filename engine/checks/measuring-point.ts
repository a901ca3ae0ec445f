// Does the control measure where the reactive power is promised, and well enough?
import type { Fix } from '../finding.ts';
import type { Component } from '../model/plant.ts';
import { controlOf, ratedPower, reactiveError, unmeasuredReactivePower } from '../results/reactive.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';

const messages = {
  behind: (f: { converter: string; point: string; inCase: string; between: string; reactive: string }) =>
    `${f.converter}’s control measures at ${f.point}${f.inCase}, behind ${f.between}${f.reactive}: what is promised at the network is not what it controls.`,
  share: (f: { reactive: string; share: string; where: string }) =>
    `, and does not see their ${f.reactive} of reactive power, ${f.share} of its rating${f.where}`,
  elsewhere: (f: { converter: string; point: string; inCase: string }) =>
    `${f.converter}’s control measures at ${f.point}${f.inCase}, which does not lie between it and its network.`,
  inexact: (f: { converter: string; error: string; share: string; wanted: string; why: string; where: string }) =>
    `By the errors of its measurements ${f.converter}’s reactive power may be wrong by ${f.error}, ${f.share} of its rating, more than the customary ${f.wanted}${f.where}: ${f.why}.`,
};

const ofVoltage =
  'a control of voltage makes its voltage wrong by what it measures wrong, and the reactance alone limits the current';
const ofCurrent = 'the transducers are too coarse for it';

export const measuringPoint = defineCheck({
  code: 'measuring_point',
  group: 'voltage',
  title: 'Reactive power measured in the wrong place, or too coarsely',
  why: 'Reactive power is promised at the connection point. A control that measures behind transformer or filter leaves theirs out; one that makes a voltage turns a small error of its measurement into much reactive power, the more the smaller the reactance.',
  remedy:
    'Measure on the network side of filter and transformer, with better transducers, or let the control correct its reactive power by a slow loop there.',
  source: 'circuit theory: ΔI_q = ΔU/X; practice `reactive_error`: 5 %, common practice, no source',
  on: 'converter',
  bad: [['ac_current = 850 A', 'ac_current = 850 A\n  control = voltage\n  voltage_error = 2 %']],
  run: (context, converter) => {
    judgePlaces(context, converter);
    judgeErrors(context, converter);
  },
});

/** Every place at which it measures in some case, once: in the first case that says so. */
function judgePlaces(context: CheckContext, converter: Component): void {
  const points = context.cases.map((_, caseIndex) => pointIn(context, converter, caseIndex));
  for (const [caseIndex, point] of points.entries())
    if (point !== undefined && points.indexOf(point) === caseIndex) judgePlace(context, converter, point, caseIndex);
}

function pointIn(context: CheckContext, converter: Component, caseIndex: number): string | undefined {
  const word = context.fact(converter, 'measuring_point', caseIndex)?.value;
  return word?.type === 'word' ? word.word : undefined;
}

function judgePlace(context: CheckContext, converter: Component, point: string, caseIndex: number): void {
  const route = context.graph.routesOf(converter.tag)[0];
  if (route?.grid === undefined || point === route.grid) return;
  const at = point === converter.tag ? route.ac.length : route.ac.findIndex(({ tag }) => tag === point);
  const place = context.place(converter, 'measuring_point', caseIndex);
  const fixes = measureAt(context, converter, route.grid, caseIndex);
  if (at < 0) {
    const message = messages.elsewhere({ converter: converter.tag, point, inCase: context.inCase(caseIndex) });
    context.say({ severity: 'warning', component: converter, place, message, fixes });
    return;
  }
  const between = route.ac.slice(0, at).filter(({ kind }) => kind === 'transformer' || kind === 'filter');
  if (between.length === 0) return;
  const isThere = (spot: Spot): boolean => pointIn(context, converter, spot.caseIndex) === point;
  const spot = context.worst(converter, unmeasuredReactivePower, isThere);
  const rated = spot === undefined ? Number.NaN : context.beside(spot, converter, ratedPower);
  const reactive =
    spot === undefined
      ? ''
      : messages.share({
          reactive: context.show(spot),
          share: show(spot.value / rated, dimensions.ratio),
          where: context.where(spot),
        });
  context.say({
    severity: 'warning',
    component: converter,
    place,
    related: between.map(({ tag }) => ({ place: context.component(tag)!.place, message: 'Stands in between.' })),
    spot,
    message: messages.behind({
      converter: converter.tag,
      point,
      // A number says in which case it is the worst.
      inCase: spot === undefined ? context.inCase(caseIndex) : '',
      between: between.map(({ tag }) => tag).join(' and '),
      reactive,
    }),
    fixes,
  });
}

function measureAt(context: CheckContext, converter: Component, grid: string, caseIndex: number): readonly Fix[] {
  // It names a component of the plant, which a part can't.
  const place = context.valuePlace(converter, 'measuring_point', caseIndex)!;
  return [{ title: `Measure at ${grid}`, safe: false, edits: [{ place, text: grid }] }];
}

function judgeErrors(context: CheckContext, converter: Component): void {
  const shareOf = (value: number, caseIndex: number) =>
    value / context.graph.value(converter, ratedPower, caseIndex, undefined, { direction: 0, voltage: 0, soc: 0 });
  const spot = context.worst(
    converter,
    reactiveError,
    ({ value, caseIndex }) => shareOf(value, caseIndex) > context.practice('reactive_error', caseIndex).number,
  );
  if (spot === undefined) return;
  const wanted = context.practice('reactive_error', spot.caseIndex);
  const share = shareOf(spot.value, spot.caseIndex);
  const control = controlOf(context.read(converter, spot.caseIndex));
  const property = control === 'voltage' ? 'voltage_error' : 'current_error';
  context.say({
    severity: 'warning',
    component: converter,
    place: context.place(converter, property, spot.caseIndex),
    related: context.related(spot.caseIndex, [converter, 'control', 'What its control makes.']),
    spot,
    limit: {
      name: wanted.name,
      number: (wanted.number * spot.value) / share,
      display: show((wanted.number * spot.value) / share, dimensions.reactive_power),
    },
    message: messages.inexact({
      converter: converter.tag,
      error: context.show(spot),
      share: show(share, dimensions.ratio),
      wanted: wanted.display,
      why: control === 'voltage' ? ofVoltage : ofCurrent,
      where: context.where(spot),
    }),
  });
}
