// One capacity for all rates, of a lead-acid battery that is emptied fast?
import type { Component } from '../model/plant.ts';
import { dischargeEndSoc, dischargeTime } from '../results/energy.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { worstSpot } from './context.ts';

const messages = {
  constant: (f: { battery: string; capacity: string; duty: string; hours: string; where: string }) =>
    `${f.battery} is lead-acid and states one \`capacity\` of ${f.capacity} for all rates; ${f.duty} would empty a full string in ${f.hours}${f.where}, where such cells give far less than over the ten or twenty hours for which a capacity is usually stated: at one hour often half of it. State it as a curve, such as \`capacity = curve current { 20 A 200 Ah, 100 A 120 Ah }\`.`,
};

/** From here on a capacity for ten hours is wrong by a tenth or more (common practice, no source). */
const longEnough = 5 * 3600;

export const capacityByRate = defineCheck({
  code: 'capacity_by_rate',
  group: 'energy',
  title: 'A lead-acid capacity that knows no rate',
  why: 'A lead-acid cell gives less the faster it is emptied, since its acid can’t follow. With one capacity for all rates the time that the battery lasts comes out too long, and nothing shows it.',
  remedy:
    'State `capacity` as a curve over the discharge current of a string, from the maker’s table of discharge times.',
  source: 'less than five hours from full to empty, and half of the capacity in one hour: common practice, no source',
  on: 'battery',
  bad: [['  cells_in_series = 224\n', '  chemistry = lead_acid\n  cells_in_series = 224\n']],
  mended: [
    ['  cells_in_series = 224\n', '  chemistry = lead_acid\n  cells_in_series = 224\n'],
    ['capacity = 280 Ah', 'capacity = curve current { 20 A 320 Ah, 150 A 280 Ah, 300 A 220 Ah }'],
  ],
  run: (context, battery) => {
    for (const duty of context.plant.duties) sayDuty(context, battery, duty);
  },
});

function sayDuty(context: CheckContext, battery: Component, duty: Component): void {
  const doubtful = (caseIndex: number): boolean => hasOneCapacity(context, battery, caseIndex);
  const fast = (spot: Spot): boolean => emptiedIn(context, spot) < longEnough;
  const spot = worstSpot(context.spots(battery, dischargeTime, duty, doubtful), dischargeTime, fast);
  if (spot === undefined) return;
  context.say({
    severity: 'warning',
    component: battery,
    place: context.place(battery, 'capacity', spot.caseIndex),
    related: context.related(
      spot.caseIndex,
      [battery, 'chemistry', 'The chemistry.'],
      [duty, 'discharge', 'This duty empties it.'],
    ),
    spot,
    limit: { name: undefined, number: longEnough, display: show(longEnough, dimensions.time) },
    message: messages.constant({
      battery: battery.tag,
      capacity: show(context.number(battery, 'capacity', 'nominal', spot.caseIndex), dimensions.charge),
      duty: duty.tag,
      hours: show(emptiedIn(context, spot), dimensions.time),
      where: context.where(spot).replace(` during ${duty.tag},`, ''),
    }),
  });
}

function hasOneCapacity(context: CheckContext, battery: Component, caseIndex: number): boolean {
  const chemistry = context.fact(battery, 'chemistry', caseIndex)?.value;
  return (
    chemistry?.type === 'word' &&
    chemistry.word === 'lead_acid' &&
    context.fact(battery, 'capacity', caseIndex)?.value.type === 'number'
  );
}

/** From full to empty at the mean current of the run. */
function emptiedIn(context: CheckContext, spot: Spot): number {
  const read = context.read(spot.component, spot.caseIndex);
  const own = spot.duty !== undefined && context.fact(spot.duty, 'soc', spot.caseIndex) !== undefined;
  const top = read.number(own ? spot.duty! : spot.component, 'soc', 'high');
  const used = top - context.beside(spot, spot.component, dischargeEndSoc);
  return used > 0 ? spot.value / used : Number.POSITIVE_INFINITY;
}
