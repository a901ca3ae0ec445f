// Does the converter stay on, in control and within its limits through the dips and swells that the network asks for?
import type { Component } from '../model/plant.ts';
import { covers } from '../physics/ride-through.ts';
import { ratedCurrent } from '../results/converter-current.ts';
import { modulationFactor } from '../results/converter-voltage.ts';
import { askedEnvelope, type EnvelopeProperty, envelopes, statedEnvelope } from '../results/envelope.ts';
import { dipCurrent, dipPowerShare, swellDcVoltage, swellPeak, swellReserve } from '../results/ride-through.ts';
import { standingDcVoltage } from '../results/standing-dc.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { rideThroughLeftOut, wrongCurve } from './ride-through-words.ts';

const messages = {
  curve: (f: { tag: string; property: string; why: string; inCase: string }) =>
    `\`${f.property}\` of ${f.tag} is no ride-through curve${f.inCase}: ${f.why}.`,
  covers: (f: { converter: string; grid: string; property: string; time: string; short: string; inCase: string }) =>
    `${f.converter} does not stay on as ${f.grid} asks for${f.inCase}: its \`${f.property}\` falls short of the network’s by ${f.short}, ${f.time} after the beginning.`,
  control: (f: { converter: string; lacking: string; available: string; where: string }) =>
    `In the highest swell that must be ridden through ${f.converter} lacks ${f.lacking} of the voltage that it needs to stay in control${f.where}: it can make ${f.available} from the battery at the bottom of its span, so current flows that it does not want, and it trips.`,
  direct: (f: { converter: string; voltage: string; limit: string; where: string }) =>
    `The highest swell that must be ridden through takes ${f.converter}’s DC side to ${f.voltage}, above the ${f.limit} at which it trips${f.where}.`,
  current: (f: { converter: string; needed: string; rated: string; share: string; where: string }) =>
    `To hold its power in the deepest dip ${f.converter} needs ${f.needed}, and ${f.rated} is its rating${f.where}: ${f.share} of the power is left.`,
};

export const rideThroughCheck = defineCheck({
  code: 'ride_through',
  group: 'voltage',
  title: 'The plant does not ride through what the network asks for',
  why: 'Networks ask their plants to stay connected through short dips and swells, so that one fault does not take them all away at once. In a swell the converter needs more voltage than its battery may give, and the crest may pass its DC trip; in a dip it needs more current for the same power.',
  remedy:
    'Choose a lower secondary voltage or a higher bottom of the state-of-charge span for the swell, a larger converter or less power for the dip, or a converter whose maker states the whole curve.',
  source: 'the curves as the network’s owner states them; maker’s statement of the converter',
  on: 'converter',
  bad: [
    [
      'x_over_r = 5',
      'x_over_r = 5\n  low_voltage_ride_through = curve time { 0 s 50 %, 500 ms 50 %, 510 ms 90 % }\n  power_in_dip = held',
    ],
  ],
  notChecked: rideThroughLeftOut,
  run: (context, converter) => {
    const grid = context.component(context.graph.routesOf(converter.tag)[0]?.grid);
    if (grid === undefined) return;
    for (const property of Object.keys(envelopes) as EnvelopeProperty[]) sayCurve(context, converter, grid, property);
    saySwell(context, converter, grid);
    sayDip(context, converter, grid);
  },
});

/** Curves that make no sense, and those of the converter that fall short; in the first case where that is so. */
function sayCurve(context: CheckContext, converter: Component, grid: Component, property: EnvelopeProperty): void {
  if (!context.states(grid, property) && !context.states(converter, property)) return;
  // A curve of the network is told once, at the first of its converters.
  const first = context.graph.routesOf(grid.tag)[0]?.converter === converter.tag;
  for (const caseIndex of context.cases.keys()) {
    const read = context.read(converter, caseIndex);
    const inCase = context.inCase(caseIndex);
    for (const of of first ? [grid, converter] : [converter]) {
      const stated = statedEnvelope(read, of, property);
      if (stated?.ok !== false) continue;
      const message = messages.curve({ tag: of.tag, property, why: wrongCurve(stated.problems), inCase });
      context.say({ severity: 'error', component: of, place: context.place(of, property, caseIndex), message });
      return;
    }
    const wanted = askedEnvelope(read, grid, property);
    const own = statedEnvelope(read, converter, property);
    const cover = wanted === undefined || own?.ok !== true ? undefined : covers(own.envelope, wanted);
    if (cover === undefined || cover.covered) continue;
    context.say({
      severity: 'error',
      component: converter,
      place: context.place(converter, property, caseIndex),
      related: context.related(caseIndex, [grid, property, 'This is what the network asks for.']),
      message: messages.covers({
        converter: converter.tag,
        grid: grid.tag,
        property,
        time: show(cover.time, dimensions.time),
        short: show(-cover.margin, dimensions[property.includes('frequency') ? 'frequency' : 'ratio']),
        inCase,
      }),
    });
    return;
  }
}

function saySwell(context: CheckContext, converter: Component, grid: Component): void {
  const common = { severity: 'error', component: converter } as const;
  const placeIn = (caseIndex: number) => context.place(grid, 'high_voltage_ride_through', caseIndex);
  const reserve = context.worst(converter, swellReserve);
  if (reserve !== undefined && reserve.value < 0)
    context.say({
      ...common,
      place: placeIn(reserve.caseIndex),
      spot: reserve,
      limit: { name: undefined, number: 0, display: '0 %' },
      message: messages.control({
        converter: converter.tag,
        lacking: show(-reserve.value, dimensions.ratio),
        available: show(available(context, converter, reserve), dimensions.voltage),
        where: context.where(reserve),
      }),
    });
  for (const spot of context.spots(converter, swellDcVoltage)) {
    const trip = context.number(converter, 'dc_trip', 'nominal', spot.caseIndex);
    const limit = Number.isNaN(trip) ? context.number(converter, 'dc_voltage', 'high', spot.caseIndex) : trip;
    // What the battery alone lifts too high is a matter of dc_window.
    if (!(spot.value > limit) || !(context.beside(spot, converter, swellPeak) > limit)) continue;
    const display = show(limit, dimensions.voltage);
    context.say({
      ...common,
      place: placeIn(spot.caseIndex),
      related: context.related(spot.caseIndex, [
        converter,
        Number.isNaN(trip) ? 'dc_voltage' : 'dc_trip',
        'Up to here it runs.',
      ]),
      spot,
      limit: { name: undefined, number: limit, display },
      message: messages.direct({
        converter: converter.tag,
        voltage: context.show(spot),
        limit: display,
        where: context.where(spot),
      }),
    });
    return;
  }
}

function available(context: CheckContext, converter: Component, spot: Spot): number {
  const read = context.read(converter, spot.caseIndex);
  return read.value(converter, modulationFactor, spot.at) * standingDcVoltage(read, 'lowest');
}

/** Only where the power must be held: else the current is limited and the power falls with the voltage. */
function sayDip(context: CheckContext, converter: Component, grid: Component): void {
  const held = (spot: Spot): boolean => {
    const word = context.fact(grid, 'power_in_dip', spot.caseIndex)?.value;
    const rated = context.beside(spot, converter, ratedCurrent);
    return word?.type === 'word' && word.word === 'held' && spot.value > rated;
  };
  const spot = context.worst(converter, dipCurrent, held);
  if (spot === undefined) return;
  const rated = context.beside(spot, converter, ratedCurrent);
  context.say({
    severity: 'error',
    component: converter,
    place: context.place(grid, 'low_voltage_ride_through', spot.caseIndex),
    related: [
      ...context.related(spot.caseIndex, [converter, 'ac_current', 'The rating of the converter.']),
      ...context.duty(spot),
    ],
    spot,
    limit: { name: `${converter.tag}.rated_current`, number: rated, display: show(rated, dimensions.current) },
    message: messages.current({
      converter: converter.tag,
      needed: context.show(spot),
      rated: show(rated, dimensions.current),
      share: show(context.beside(spot, converter, dipPowerShare), dimensions.ratio),
      where: context.where(spot),
    }),
  });
}
