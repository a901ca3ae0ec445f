// Does the battery last as long as each duty asks?

import { type Component, factIn } from '../model/plant.ts';
import { limitWords } from '../results/definition.ts';
import { stringsInService } from '../results/duty-battery.ts';
import { dischargeEndSoc, dischargeTime } from '../results/energy.ts';
import { surelyLasts } from '../results/surely-lasts.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { worstSpot } from './context.ts';

const messages = {
  short: (f: { battery: string; lasts: string; wanted: string; where: string; lost: string; early: string }) =>
    `${f.battery} lasts ${f.lasts} where the duty asks for ${f.wanted}${f.where}${f.lost}${f.early}.`,
};

export const dischargeTimeCheck = defineCheck({
  code: 'discharge_time',
  group: 'energy',
  title: 'The battery is empty too soon',
  why: 'The time counts from the top to the bottom of the span with the capacity that the state of health leaves, losses on the way to the network included, and it ends where the battery’s own limits end it.',
  remedy: 'Take more strings or a wider span, ask for less power or time, or judge the worn battery by a shorter duty.',
  source: 'd soc/dt = −I/C at constant power',
  on: 'battery',
  bad: [['for 45 min', 'for 3 h']],
  givesWayTo: ['battery_current', 'power_shortfall'],
  run: (context, battery) => {
    for (const duty of context.plant.duties) sayDuty(context, battery, duty);
  },
});

function sayDuty(context: CheckContext, battery: Component, duty: Component): void {
  const wantedIn = (caseIndex: number): number => {
    const value = factIn(context.cases[caseIndex]!, duty, 'duration')?.value;
    return value?.type === 'number' ? value.nominal : Number.NaN;
  };
  // A discharge that can't even begin is a matter of its current or power, which other checks report.
  const short = (spot: Spot): boolean => spot.value > 0 && spot.value < wantedIn(spot.caseIndex) * (1 - 1e-9);
  // The exact run is only worth its time where a bound leaves the question open.
  const bounds = context.columns(battery, surelyLasts, duty);
  const open = (caseIndex: number): boolean => {
    const [time] = bounds[caseIndex]!.values;
    return typeof time === 'number' && time < wantedIn(caseIndex);
  };
  context.judged.add(`${battery.tag}.${dischargeTime.name}`);
  if (!context.cases.some((_, caseIndex) => open(caseIndex))) return;
  const spot = worstSpot(context.spots(battery, dischargeTime, duty, open), dischargeTime, short);
  if (spot === undefined) return;
  const wanted = wantedIn(spot.caseIndex);
  const end = context.beside(spot, battery, dischargeEndSoc);
  const bottom = context.number(
    context.fact(duty, 'soc', spot.caseIndex) === undefined ? battery : duty,
    'soc',
    'low',
    spot.caseIndex,
  );
  const limit = context.limit(spot);
  const strings = context.number(battery, 'strings', 'nominal', spot.caseIndex);
  context.say({
    severity: 'error',
    component: battery,
    place: context.place(duty, 'duration', spot.caseIndex),
    related: context.related(
      spot.caseIndex,
      [battery, 'capacity', 'Capacity of one string.'],
      [battery, 'strings', 'Number of strings.'],
      [battery, 'soc', 'The span that is used.'],
    ),
    spot,
    limit: { name: `${duty.tag}.duration`, number: wanted, display: show(wanted, dimensions.time) },
    message: messages.short({
      battery: battery.tag,
      lasts: show(spot.value, dimensions.time),
      wanted: show(wanted, dimensions.time),
      where: context.where(spot),
      early:
        end > bottom + 1e-6 && limit !== undefined
          ? `; ${limitWords[limit]} ends it at ${show(end, dimensions.ratio)} state of charge already`
          : '',
      lost: context.beside(spot, battery, stringsInService) < strings ? ', with one string lost' : '',
    }),
  });
}
