// Does each string stay within the current that its maker permits?
import type { Component } from '../model/plant.ts';
import {
  stringCurrent,
  stringCurrentLimit,
  stringLastingLimit,
  stringReserve,
  stringRmsCurrent,
  stringRmsReserve,
} from '../results/battery.ts';
import { limitProperty, stringsInService, wayOf } from '../results/duty-battery.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';

const messages = {
  over: (f: {
    battery: string;
    current: string;
    limit: string;
    way: string;
    length: string;
    where: string;
    lost: string;
    strings: string;
  }) =>
    `Each string of ${f.battery} carries ${f.current} where ${f.limit} is what its maker permits for ${f.way}${f.length}${f.where}${f.lost}${f.strings}.`,
  rms: (f: { battery: string; current: string; limit: string; way: string; where: string; lost: string }) =>
    `Each string of ${f.battery} carries ${f.current} rms over the period of the duty where ${f.limit} is what its maker permits for ${f.way} without end${f.where}${f.lost}: the pauses are too short for what the short time permits.`,
};

export const batteryCurrent = defineCheck({
  code: 'battery_current',
  group: 'current',
  title: 'A string carries more current than permitted',
  why: 'Cells that carry more than their permitted current heat up, age and trip; charging cold lithium cells plates metal in them, which ends in short circuits. Energy alone does not size a battery.',
  remedy:
    'Take more strings, ask for less power, raise the bottom of the state-of-charge span, or keep the battery warmer.',
  source: 'maker’s statement of the battery',
  on: 'battery',
  bad: [['charge = 250 kW', 'charge = 400 kW']],
  run: (context, battery) => {
    sayPeak(context, battery);
    for (const duty of context.plant.duties) sayPeriod(context, battery, duty);
  },
});

function sayPeak(context: CheckContext, battery: Component): void {
  const spot = context.worst(battery, stringReserve);
  if (spot === undefined || spot.value >= 0 || spot.duty === undefined) return;
  const limit = context.beside(spot, battery, stringCurrentLimit);
  const current = context.beside(spot, battery, stringCurrent);
  const left = context.beside(spot, battery, stringsInService);
  const all = context.number(battery, 'strings', 'nominal', spot.caseIndex);
  const enough = limit > 0 ? Math.ceil((current * left) / limit) + all - left : undefined;
  const property = limitProperty(context.read(battery, spot.caseIndex), battery, spot.duty);
  context.say({
    severity: 'error',
    component: battery,
    place: context.place(battery, 'strings', spot.caseIndex),
    related: relatedTo(context, battery, spot.duty, property, spot.caseIndex),
    spot: { ...spot, result: stringCurrent, value: current },
    limit: { name: `${battery.tag}.string_current_limit`, number: limit, display: show(limit, dimensions.current) },
    message: messages.over({
      battery: battery.tag,
      current: show(current, dimensions.current),
      limit: show(limit, dimensions.current),
      way: wayInWords(spot.duty),
      length: lengthInWords(context, battery, spot, property),
      where: context.where(spot),
      lost: lostInWords(left, all),
      strings: enough === undefined || enough > 20 * all ? '' : `; by current alone about ${enough} strings would do`,
    }),
  });
}

/** What is permitted for a short time needs its pauses. */
function sayPeriod(context: CheckContext, battery: Component, duty: Component): void {
  const pulse = duty.facts.has('discharge') ? 'pulse_discharge_current' : 'pulse_charge_current';
  if (!context.cases.some((_, caseIndex) => context.fact(battery, pulse, caseIndex) !== undefined)) return;
  const spot = context.worstUnder(battery, stringRmsReserve, [duty]);
  if (spot === undefined || spot.value >= 0) return;
  const reader = context.read(battery, spot.caseIndex);
  if (!limitProperty(reader, battery, duty).startsWith('pulse_')) return;
  const limit = context.beside(spot, battery, stringLastingLimit);
  const current = context.beside(spot, battery, stringRmsCurrent);
  const left = context.beside(spot, battery, stringsInService);
  context.say({
    severity: 'error',
    component: battery,
    place: context.place(duty, 'repeat', spot.caseIndex),
    related: relatedTo(context, battery, duty, `${wayOf(reader, duty)}_current`, spot.caseIndex),
    spot: { ...spot, result: stringRmsCurrent, value: current },
    limit: { name: `${battery.tag}.string_lasting_limit`, number: limit, display: show(limit, dimensions.current) },
    message: messages.rms({
      battery: battery.tag,
      current: show(current, dimensions.current),
      limit: show(limit, dimensions.current),
      way: wayInWords(duty),
      where: context.where(spot),
      lost: lostInWords(left, context.number(battery, 'strings', 'nominal', spot.caseIndex)),
    }),
  });
}

function relatedTo(context: CheckContext, battery: Component, duty: Component, property: string, caseIndex: number) {
  return context.related(
    caseIndex,
    [battery, property, 'What one string may carry.'],
    [duty, duty.facts.has('discharge') ? 'discharge' : 'charge', 'This duty asks for it.'],
  );
}

function wayInWords(duty: Component): string {
  return duty.facts.has('discharge') ? 'discharging' : 'charging';
}

/** Where a short-time current is stated, which of the two limits counts, and why. */
function lengthInWords(context: CheckContext, battery: Component, spot: Spot, property: string): string {
  const pulse = property.startsWith('pulse_') ? property : `pulse_${property}`;
  if (context.fact(battery, pulse, spot.caseIndex) === undefined) return '';
  const time = context.read(battery, spot.caseIndex).clause(battery, pulse, 'for');
  if (pulse === property) return ` for up to ${show(time, dimensions.time)}`;
  return ` without end (its \`${pulse}\` is for ${show(time, dimensions.time)}, and the duty lasts longer or comes again sooner)`;
}

function lostInWords(left: number, all: number): string {
  return left < all ? ', with one string lost' : '';
}
