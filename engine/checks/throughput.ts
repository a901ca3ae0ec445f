// How many years until the warranty's energy is used up?
import type { Component } from '../model/plant.ts';
import { year } from '../physics/throughput.ts';
import { warrantyTime, yearlyThroughput } from '../results/throughput.ts';
import { dimensions } from '../units/dimension.ts';
import { show, showNumber } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';

const messages = {
  soon: (f: { battery: string; lasts: string; yearly: string; by: string; wanted: string }) =>
    `The warranty of ${f.battery} covers ${f.by}; with ${f.yearly} delivered in a year that is used up after ${f.lasts}, less than ${f.wanted}.`,
};

/** A battery plant is usually bought for ten years or more (common practice, no source). */
const customaryYears = 10;

export const throughput = defineCheck({
  code: 'throughput',
  group: 'energy',
  title: 'The warranty is used up early',
  why: 'Makers warrant a battery for an amount of energy or a number of cycles. Duties that come often use it up long before the calendar does.',
  remedy: 'Ask for a larger warranty, take more strings, or let the duties come less often.',
  source: 'ten years where the warranty names no time: common practice, no source',
  on: 'battery',
  bad: [
    ['for 90 s every 15 min', 'for 90 s'],
    ['for 45 min', 'for 45 min every 12 h'],
    ['temperature = 20 °C', 'temperature = 20 °C\n  throughput_warranty = 1 GWh'],
  ],
  run: (context, battery) => {
    const statedIn = (caseIndex: number): number => context.number(battery, 'warranty_time', 'nominal', caseIndex);
    const wantedIn = (caseIndex: number): number => {
      const stated = statedIn(caseIndex);
      return Number.isNaN(stated) ? customaryYears * year : stated;
    };
    const spot = context.pastLimit(battery, warrantyTime, caseIndex => wantedIn(caseIndex) * (1 - 1e-9));
    const property = spot && propertyOf(context, spot);
    if (spot === undefined || property === undefined) return;
    const wanted = wantedIn(spot.caseIndex);
    const yearly = context.beside(spot, battery, yearlyThroughput);
    context.say({
      severity: 'warning',
      component: battery,
      place: context.place(battery, property, spot.caseIndex),
      spot,
      limit: { name: undefined, number: wanted, display: years(wanted) },
      message: messages.soon({
        battery: battery.tag,
        lasts: years(spot.value),
        yearly: show(yearly, dimensions.energy),
        by: covered(context, battery, property, spot.caseIndex),
        wanted: Number.isNaN(statedIn(spot.caseIndex))
          ? `the customary ${customaryYears} years`
          : `its ${years(wanted)}`,
      }),
    });
  },
});

/** The fact that ends the warranty, where that is not its time. */
function propertyOf(context: CheckContext, spot: Spot): 'throughput_warranty' | 'warranty_cycles' | undefined {
  const limit = context.limit(spot);
  if (limit === 'warranty_energy') return 'throughput_warranty';
  return limit === 'warranty_cycles' ? limit : undefined;
}

function covered(context: CheckContext, battery: Component, property: string, caseIndex: number): string {
  const value = context.number(battery, property, 'nominal', caseIndex);
  return property === 'warranty_cycles' ? `${value} full cycles` : show(value, dimensions.energy);
}

function years(seconds: number): string {
  return `${showNumber(seconds / year, 2)} years`;
}
