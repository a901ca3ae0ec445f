// Nothing says when the battery's contactors open: would the diodes conduct further down?
import type { Component } from '../model/plant.ts';
import { batteryModel } from '../results/battery-model.ts';
import { blockedPeak } from '../results/diodes.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';
import { batteriesOf, chopperOf } from './winding.ts';

const messages = {
  unknown: (f: { battery: string; empty: string; peak: string; converter: string; floor: string; span: string }) =>
    `Nothing says when ${f.battery}’s contactors open. It was judged down to ${f.span}; a battery emptied further rests as low as ${f.empty}, below the crest of ${f.peak} at the blocked ${f.converter}, and the diodes would charge it unchecked. Ask at which state of charge the contactors surely open${f.floor}.`,
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
    if (chopperOf(context, converter) !== undefined) return;
    for (const battery of batteriesOf(context, converter)) say(context, converter, battery);
  },
});

function say(context: CheckContext, converter: Component, battery: Component): void {
  if (battery.facts.has('lowest_connected') || battery.failed.has('lowest_connected')) return;
  const spot = context.worst(converter, blockedPeak);
  const model = context.read(battery).step(battery, batteryModel, noPoint);
  if (spot === undefined || model === undefined) return;
  const floor = context.number(battery, 'soc', 'low');
  if (!(model.emf(0) < spot.value) || !(model.emf(floor) >= spot.value)) return;
  const margin = context.practice('diode_margin', spot.caseIndex).number;
  const stops = stopSoc(model.emf, spot.value * (1 + margin), floor);
  const insertAt = battery.insertAt;
  context.say({
    severity: 'warning',
    component: battery,
    place: context.place(battery, 'soc'),
    spot,
    limit: { name: undefined, number: model.emf(0), display: show(model.emf(0), dimensions.voltage) },
    message: messages.unknown({
      battery: battery.tag,
      converter: converter.tag,
      empty: show(model.emf(0), dimensions.voltage),
      peak: show(spot.value, dimensions.voltage),
      span: show(floor, dimensions.ratio),
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

/** The lowest whole per cent at which the battery rests at this voltage; undefined where the span does not reach it. */
export function stopSoc(emf: (soc: number) => number, wanted: number, top: number): string | undefined {
  for (let percent = 0; percent <= 100 * top + 1e-9; percent++) if (emf(percent / 100) >= wanted) return `${percent} %`;
  return undefined;
}
