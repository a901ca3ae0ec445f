// Nothing says when the battery's contactors open: would the diodes conduct further down?
import { type Component, failedIn } from '../model/plant.ts';
import { batteryModel } from '../results/battery-model.ts';
import { blockedPeak } from '../results/diodes.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { batteriesOf, choppersOf } from './winding.ts';

const messages = {
  unknown: (f: {
    battery: string;
    empty: string;
    peak: string;
    converter: string;
    floor: string;
    span: string;
    inCase: string;
  }) =>
    `Nothing says when ${f.battery}’s contactors open. It was judged down to ${f.span}${f.inCase}; a battery emptied further rests as low as ${f.empty}, below the crest of ${f.peak} at the blocked ${f.converter}, and the diodes would charge it unchecked. Ask at which state of charge the contactors surely open${f.floor}.`,
};

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export const connectedBelowFloor = defineCheck({
  code: 'connected_below_floor',
  group: 'voltage',
  title: 'It is not said when the battery disconnects',
  why: 'Self-discharge, auxiliaries and a failed control take a battery below the span that operation uses. As long as its contactors stay closed there, the blocked converter’s diodes see that lower voltage.',
  remedy:
    'State `lowest_connected`: the state of charge, or the voltage, at which the battery’s own protection has surely opened the contactors.',
  source: 'six-pulse bridge: diodes conduct where √2·U exceeds the DC voltage',
  on: 'converter',
  bad: [
    ['0 % 2.60 V', '0 % 2.40 V'],
    ['  lowest_connected = 0 %\n', ''],
  ],
  run: (context, converter: Component) => {
    // Behind a chopper the blocked diodes see the link, not the battery.
    if (choppersOf(context, converter).length > 0) return;
    for (const battery of batteriesOf(context, converter)) say(context, converter, battery);
  },
});

export interface Asked {
  readonly spot: Spot;
  readonly empty: number;
  readonly floor: number;
}

/** Each case by its own battery and crest; told is the one in which an empty battery rests furthest below. */
function say(context: CheckContext, converter: Component, battery: Component): void {
  const asked = askedAt(context, battery, [...context.spots(converter, blockedPeak)]);
  if (asked.length === 0) return;
  const short = asked.map(({ spot, empty }) => spot.value - empty);
  const { spot, empty, floor } = asked[short.indexOf(Math.max(...short))]!;
  const crests = asked.map(found => found.spot);
  const stops = stopAbove(context, battery, crests);
  const insertAt = battery.insertAt;
  context.say({
    severity: 'warning',
    component: battery,
    place: context.place(battery, 'soc', spot.caseIndex),
    spot,
    limit: { name: undefined, number: empty, display: show(empty, dimensions.voltage) },
    message: messages.unknown({
      battery: battery.tag,
      converter: converter.tag,
      empty: show(empty, dimensions.voltage),
      peak: show(spot.value, dimensions.voltage),
      span: show(floor, dimensions.ratio),
      inCase: context.inCase(spot.caseIndex),
      floor: stops === undefined ? '' : `; from ${stops} upwards the diodes stay blocked`,
    }),
    fixes:
      stops === undefined || insertAt === undefined
        ? []
        : [
            {
              title: `State that the contactors open at ${stops}`,
              safe: false,
              edits: [{ place: insertAt, text: `\n  lowest_connected = ${stops}` }],
            },
          ],
  });
}

/** Those of these crests, each in its case, at which it must be asked when the battery disconnects. */
export function askedAt(context: CheckContext, battery: Component, crests: readonly Spot[]): readonly Asked[] {
  return crests.map(spot => askedIn(context, battery, spot)).filter(found => found !== undefined);
}

/** Undefined where the case says when it disconnects, where the crest is lower, and where the diodes conduct above. */
function askedIn(context: CheckContext, battery: Component, spot: Spot): Asked | undefined {
  const { caseIndex, value: crest } = spot;
  if (failedIn(context.cases[caseIndex]!, battery, 'lowest_connected')) return undefined;
  if (context.fact(battery, 'lowest_connected', caseIndex) !== undefined) return undefined;
  const model = context.read(battery, caseIndex).step(battery, batteryModel, noPoint);
  if (model === undefined) return undefined;
  const [empty, floor] = [model.emf(0), context.number(battery, 'soc', 'low', caseIndex)];
  return empty < crest && model.emf(floor) >= crest ? { spot, empty, floor } : undefined;
}

/**
 * The lowest whole per cent at which the battery rests above these crests, with the margin of each case; undefined where
 * some case uses the battery further down.
 */
export function stopAbove(context: CheckContext, battery: Component, crests: Iterable<Spot>): string | undefined {
  const floors = context.cases.map((_, caseIndex) => context.number(battery, 'soc', 'low', caseIndex));
  const top = 100 * Math.min(...floors) + 1e-9;
  let percent = 0;
  for (const { value, caseIndex } of crests) {
    const model = context.read(battery, caseIndex).step(battery, batteryModel, noPoint);
    const wanted = value * (1 + context.practice('diode_margin', caseIndex).number);
    while (percent <= top && !(model !== undefined && model.emf(percent / 100) >= wanted)) percent++;
  }
  return percent <= top ? `${percent} %` : undefined;
}
