// Is the battery full again before the duty comes the next time?
import { factIn } from '../model/plant.ts';
import { refillTime } from '../results/recharge.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { type Spot, worstSpot } from './context.ts';

const messages = {
  slow: (f: { battery: string; needed: string; pause: string; duty: string; inCase: string }) =>
    `${f.battery} needs ${f.needed} to take back what one run of ${f.duty} costs, but only ${f.pause} pass until it comes again${f.inCase}: it empties a little more each time.`,
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
    for (const duty of context.plant.duties) {
      const pauseIn = (caseIndex: number): number => {
        const number = (name: string): number => {
          const value = factIn(context.cases[caseIndex]!, duty, name)?.value;
          return value?.type === 'number' ? value.nominal : Number.NaN;
        };
        return number('repeat') - number('duration');
      };
      const repeats = (caseIndex: number): boolean => !Number.isNaN(pauseIn(caseIndex));
      const late = (spot: Spot): boolean => spot.value > pauseIn(spot.caseIndex);
      const spot = worstSpot(context.spots(battery, refillTime, duty, repeats), refillTime, late);
      if (spot === undefined) continue;
      const pause = pauseIn(spot.caseIndex);
      const { name } = context.cases[spot.caseIndex]!;
      context.say({
        severity: 'error',
        component: battery,
        place: context.place(duty, 'repeat', spot.caseIndex),
        related: context.related(
          [battery, 'charge_current', 'What one string may take.'],
          [battery, 'strings', 'Number of strings.'],
        ),
        spot,
        limit: { name: undefined, number: pause, display: show(pause, dimensions.time) },
        message: messages.slow({
          battery: battery.tag,
          needed: context.show(spot),
          pause: show(pause, dimensions.time),
          duty: duty.tag,
          inCase: name === '' ? '' : ` in case ${name}`,
        }),
      });
    }
  },
});
