// Does the room get rid of the heat?
import { heatToRoom } from '../results/plant.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  hot: (f: { heat: string; removal: string; where: string }) =>
    `Converters, filters and transformers give ${f.heat} to their room, more than the ${f.removal} that its ventilation carries away${f.where}: the room grows warmer than the ambient that everything else was judged at.`,
};

export const heatToRoomCheck = defineCheck({
  code: 'heat_to_room',
  group: 'surroundings',
  title: 'More heat than the room gets rid of',
  why: 'All ratings hold up to an ambient temperature; a room that can’t carry its heat away leaves it.',
  remedy: 'Plan more ventilation or cooling, or let part of the heat out by water.',
  source: 'conservation of energy; the ventilation as stated',
  on: 'plant',
  bad: [['altitude = 900 m', 'altitude = 900 m\n  heat_removal = 10 kW']],
  run: (context, site) => {
    const removalIn = (caseIndex: number): number => context.number(site, 'heat_removal', 'nominal', caseIndex);
    const spot = context.pastLimit(site, heatToRoom, removalIn);
    if (spot === undefined) return;
    const removal = removalIn(spot.caseIndex);
    const shown = show(removal, dimensions.active_power);
    context.say({
      severity: 'warning',
      component: site,
      place: context.place(site, 'heat_removal', spot.caseIndex),
      spot,
      limit: { name: undefined, number: removal, display: shown },
      message: messages.hot({ heat: context.show(spot), removal: shown, where: context.where(spot) }),
    });
  },
});
