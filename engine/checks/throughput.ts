// How many years until the warranty's energy is used up?
import { yearlyThroughput } from '../results/energy.ts';
import { dimensions } from '../units/dimension.ts';
import { show, showNumber } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  soon: (f: { battery: string; years: string; yearly: string; warranty: string; wanted: number }) =>
    `The warranty of ${f.battery} covers ${f.warranty}; with ${f.yearly} a year it is used up after ${f.years} years, less than the customary ${f.wanted}.`,
};

/** A battery plant is usually bought for ten years or more. */
const customaryYears = 10;

export const throughput = defineCheck({
  code: 'throughput',
  group: 'energy',
  title: 'The warranty’s energy is used up early',
  why: 'Makers warrant a battery for an amount of energy. Duties that come often use it up long before the calendar does.',
  remedy: 'Ask for a larger warranty, take more strings, or let the duties come less often.',
  source: 'ten years: common practice, no source',
  on: 'battery',
  bad: [
    ['for 90 s every 15 min', 'for 90 s'],
    ['for 45 min', 'for 45 min every 12 h'],
    ['temperature = 20 °C', 'temperature = 20 °C\n  throughput_warranty = 1 GWh'],
  ],
  run: (context, battery) => {
    const spot = context.worst(battery, yearlyThroughput);
    const warranty = context.number(battery, 'throughput_warranty', 'nominal', spot?.caseIndex);
    if (spot === undefined || !(warranty / spot.value < customaryYears)) return;
    context.say({
      severity: 'warning',
      component: battery,
      place: context.place(battery, 'throughput_warranty', spot.caseIndex),
      spot,
      limit: {
        name: undefined,
        number: warranty / customaryYears,
        display: show(warranty / customaryYears, dimensions.energy),
      },
      message: messages.soon({
        battery: battery.tag,
        years: showNumber(warranty / spot.value, 2),
        yearly: context.show(spot),
        warranty: show(warranty, dimensions.energy),
        wanted: customaryYears,
      }),
    });
  },
});
