// Does the battery stay inside the DC voltage that the converter is built for?
import type { Component } from '../model/plant.ts';
import { dcVoltageMax, dcVoltageMin } from '../results/converter-voltage.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { dcSource, dcSourceName } from './winding.ts';

const messages = {
  above: (f: { converter: string; source: string; voltage: string; limit: string; what: string; where: string }) =>
    `${f.source} takes ${f.converter}’s DC side to ${f.voltage}, above ${f.what} ${f.limit}${f.where}: it trips, or is damaged.`,
  below: (f: { converter: string; source: string; voltage: string; limit: string; where: string }) =>
    `${f.source} takes ${f.converter}’s DC side down to ${f.voltage}, below its least operating voltage ${f.limit}${f.where}: it can’t run there.`,
};

export const dcWindow = defineCheck({
  code: 'dc_window',
  group: 'voltage',
  title: 'The battery leaves the converter’s DC voltage span',
  why: 'Semiconductors and capacitors are rated for a DC voltage; above it they fail. Below its least voltage a converter can’t supply its own control or make the network’s voltage.',
  remedy:
    'Change the number of cells in series or the state-of-charge span, or take a converter with another DC voltage span.',
  source: 'maker’s statement of the converter',
  on: 'converter',
  bad: [['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 740 V']],
  run: (context, converter) => {
    if (!sayAbove(context, converter, 'dc_trip', 'nominal', 'its trip at'))
      sayAbove(context, converter, 'dc_voltage', 'high', 'its span up to');
    sayBelow(context, converter);
  },
});

function sayAbove(
  context: CheckContext,
  converter: Component,
  property: string,
  corner: 'nominal' | 'high',
  what: string,
): boolean {
  const limitIn = (caseIndex: number): number => context.number(converter, property, corner, caseIndex);
  const spot = context.pastLimit(converter, dcVoltageMax, limitIn);
  if (spot === undefined) return false;
  const limit = limitIn(spot.caseIndex);
  context.say({
    severity: 'error',
    ...places(context, converter, property, spot),
    spot,
    limit: { name: undefined, number: limit, display: show(limit, dimensions.voltage) },
    message: messages.above({
      converter: converter.tag,
      source: dcSourceName(context, converter),
      voltage: context.show(spot),
      limit: show(limit, dimensions.voltage),
      what,
      where: context.where(spot),
    }),
  });
  return true;
}

function sayBelow(context: CheckContext, converter: Component): void {
  const limitIn = (caseIndex: number): number => context.number(converter, 'dc_voltage', 'low', caseIndex);
  const spot = context.pastLimit(converter, dcVoltageMin, limitIn);
  if (spot === undefined) return;
  const limit = limitIn(spot.caseIndex);
  context.say({
    severity: 'error',
    ...places(context, converter, 'dc_voltage', spot),
    spot,
    limit: { name: undefined, number: limit, display: show(limit, dimensions.voltage) },
    message: messages.below({
      converter: converter.tag,
      source: dcSourceName(context, converter),
      voltage: context.show(spot),
      limit: show(limit, dimensions.voltage),
      where: context.where(spot),
    }),
  });
}

function places(context: CheckContext, converter: Component, property: string, { result, caseIndex }: Spot) {
  const end = result === dcVoltageMax ? 'top' : 'bottom';
  return {
    component: converter,
    place: context.place(converter, property, caseIndex),
    related: dcSource(context, converter, caseIndex, [
      ['soc', `The ${end} of this span counts.`],
      ['cells_in_series', 'Cells in series make the voltage.'],
    ]),
  };
}
