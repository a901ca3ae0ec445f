// Is the battery full again before the duty comes the next time?
import type { Component } from '../model/plant.ts';
import { socSpan } from '../results/battery-model.ts';
import { limitWords } from '../results/definition.ts';
import { refillSoc, refillTime } from '../results/recharge.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { type CheckContext, type Spot, worstSpot } from './context.ts';

const messages = {
  slow: (f: { battery: string; needed: string; pause: string; duty: string; inCase: string; by: string }) =>
    `${f.battery} needs ${f.needed} to take back what one run of ${f.duty} costs, but only ${f.pause} pass until it comes again${f.inCase}: it empties a little more each time${f.by}.`,
  never: (f: { battery: string; reached: string; top: string; duty: string; inCase: string; by: string }) =>
    `${f.battery} comes back to ${f.reached} state of charge after one run of ${f.duty}, never to the ${f.top} from which it starts${f.inCase}${f.by}.`,
};

export const rechargeTimeCheck = defineCheck({
  code: 'recharge_time',
  group: 'energy',
  title: 'Not full again in time',
  why: 'A duty that comes again and again must put back what it takes out, at the charge current that the cells permit and the power that is there.',
  remedy: 'Take more strings, warmer cells, more charging power, or leave more time between the runs.',
  source: 'd soc/dt = ±I/C',
  on: 'battery',
  bad: [['for 45 min', 'for 45 min every 2 h']],
  run: (context, battery) => {
    context.judged.add(`${battery.tag}.${refillSoc.name}`).add(`${battery.tag}.${refillTime.name}`);
    for (const duty of context.plant.duties) {
      const comesAgain = repeats(context, duty);
      if (!context.cases.some((_, caseIndex) => comesAgain(caseIndex))) continue;
      if (!sayNever(context, battery, duty, comesAgain)) saySlow(context, battery, duty, comesAgain);
    }
  },
});

/** Seconds between the end of a run and the next, in a case; NaN where it comes once. */
function pauseIn(context: CheckContext, duty: Component, caseIndex: number): number {
  const number = (name: string): number => context.number(duty, name, 'nominal', caseIndex);
  return number('repeat') - number('duration');
}

type InCase = (caseIndex: number) => boolean;

/** The cases in which it comes again at all. */
function repeats(context: CheckContext, duty: Component): InCase {
  return caseIndex => !Number.isNaN(pauseIn(context, duty, caseIndex));
}

function saySlow(context: CheckContext, battery: Component, duty: Component, comesAgain: InCase): void {
  const late = (spot: Spot): boolean => spot.value > pauseIn(context, duty, spot.caseIndex);
  const spot = worstSpot(context.spots(battery, refillTime, duty, comesAgain), refillTime, late);
  if (spot === undefined) return;
  const pause = pauseIn(context, duty, spot.caseIndex);
  context.say({
    severity: 'error',
    component: battery,
    place: context.place(duty, 'repeat', spot.caseIndex),
    related: causes(context, battery, spot.caseIndex),
    spot,
    limit: { name: undefined, number: pause, display: show(pause, dimensions.time) },
    message: messages.slow({
      battery: battery.tag,
      needed: context.show(spot),
      pause: show(pause, dimensions.time),
      duty: duty.tag,
      inCase: context.inCase(spot.caseIndex),
      by: bound(context, spot, 'most of the time bound by'),
    }),
  });
}

/** Where no current goes in any more before the top: the taper has ended, or charging is forbidden. */
function sayNever(context: CheckContext, battery: Component, duty: Component, comesAgain: InCase): boolean {
  const tops: number[] = [];
  const topIn = (caseIndex: number): number => {
    tops[caseIndex] ??= socSpan(context.read(battery, caseIndex), battery, duty).top;
    return tops[caseIndex];
  };
  const stuck = (spot: Spot): boolean => spot.value < topIn(spot.caseIndex) - 1e-6;
  const spot = worstSpot(context.spots(battery, refillSoc, duty, comesAgain), refillSoc, stuck);
  if (spot === undefined) return false;
  const top = topIn(spot.caseIndex);
  context.say({
    severity: 'error',
    component: battery,
    place: context.place(duty, 'repeat', spot.caseIndex),
    related: causes(context, battery, spot.caseIndex),
    spot,
    limit: { name: undefined, number: top, display: show(top, dimensions.ratio) },
    message: messages.never({
      battery: battery.tag,
      reached: context.show(spot),
      top: show(top, dimensions.ratio),
      duty: duty.tag,
      inCase: context.inCase(spot.caseIndex),
      by: bound(context, spot, 'bound by'),
    }),
  });
  return true;
}

function causes(context: CheckContext, battery: Component, caseIndex: number) {
  return context.related(
    caseIndex,
    [battery, 'charge_current', 'What one string may take.'],
    [battery, 'voltage_limits', 'The voltage at which it tapers.'],
    [battery, 'strings', 'Number of strings.'],
  );
}

function bound(context: CheckContext, spot: Spot, words: string): string {
  const limit = context.limit(spot);
  return limit === undefined ? '' : `, ${words} ${limitWords[limit]}`;
}
