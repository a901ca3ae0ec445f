// Does the voltage at the terminals stay inside the span for which the converter is built?
import type { Component } from '../model/plant.ts';
import { idleVoltage, terminalVoltage } from '../results/converter-voltage.ts';
import type { Result } from '../results/definition.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { type CheckContext, type Spot, worstSpot } from './context.ts';
import { windingPlace } from './winding.ts';

const messages = {
  above: (f: { converter: string; voltage: string; limit: string; where: string }) =>
    `${f.converter} would stand at ${f.voltage}, above the ${f.limit} for which it is built${f.where}.`,
  below: (f: { converter: string; voltage: string; limit: string; where: string }) =>
    `${f.converter} would stand at ${f.voltage}, below the ${f.limit} at which it can still work${f.where}.`,
};

export const acVoltageRange = defineCheck({
  code: 'ac_voltage_range',
  group: 'voltage',
  title: 'The terminals leave the converter’s AC voltage span',
  why: 'Measuring, filters and surge protection of a converter are made for a span of AC voltage; outside it the converter trips or is stressed.',
  remedy: 'Choose another secondary voltage, or a converter for another span.',
  source: 'maker’s statement of the converter',
  on: 'converter',
  bad: [['ac_current = 850 A', 'ac_current = 850 A\n  ac_voltage = 300 V .. 405 V']],
  run: (context, converter) => {
    if (!sayAbove(context, converter)) sayBelow(context, converter);
  },
});

function sayAbove(context: CheckContext, converter: Component): boolean {
  const limitIn = (caseIndex: number): number => context.number(converter, 'ac_voltage', 'high', caseIndex);
  const spot = [terminalVoltage, idleVoltage]
    .map(result => context.pastLimit(converter, result, limitIn))
    .reduce(higher);
  if (spot === undefined) return false;
  say(context, converter, spot, limitIn(spot.caseIndex), messages.above);
  return true;
}

function sayBelow(context: CheckContext, converter: Component): void {
  const lowest: Result = { ...idleVoltage, worst: 'lowest' };
  const limits = context.cases.map((_, caseIndex) => context.number(converter, 'ac_voltage', 'low', caseIndex));
  const below = ({ value, caseIndex }: Spot): boolean => value < limits[caseIndex]!;
  const found = worstSpot(context.spots(converter, idleVoltage), lowest, below);
  if (found !== undefined) say(context, converter, found, limits[found.caseIndex]!, messages.below);
}

function higher(a: Spot | undefined, b: Spot | undefined): Spot | undefined {
  if (a === undefined || b === undefined) return a ?? b;
  return b.value > a.value ? b : a;
}

function say(
  context: CheckContext,
  converter: Component,
  spot: Spot,
  limit: number,
  message: typeof messages.above,
): void {
  const shown = show(limit, dimensions.voltage);
  context.say({
    severity: 'error',
    component: converter,
    place: windingPlace(context, converter, spot.caseIndex),
    related: context.related(spot.caseIndex, [converter, 'ac_voltage', 'The converter’s span.']),
    spot,
    limit: { name: undefined, number: limit, display: shown },
    message: message({
      converter: converter.tag,
      voltage: context.show(spot),
      limit: shown,
      where: context.where(spot),
    }),
  });
}
