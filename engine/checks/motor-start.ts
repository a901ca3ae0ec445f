// Can the converter that forms an island start the largest motor, and how far does the voltage dip meanwhile?
import { motorStartCurrent, motorStartDip, motorStartReserve, shortTimeCurrent } from '../results/island.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { formingWithout, judgeIsland, shortTimeRating } from './island-judgement.ts';
import { listed } from './not-checked.ts';

const messages = {
  judged: (f: { converter: string; motor: string; ratio: string; where: string; words: string; torque: string }) =>
    `Starting a motor of ${f.motor}, which draws ${f.ratio} times its rated current, ${f.converter} ${f.words}${f.where}; ${f.torque} of its starting torque is left.`,
};

export const motorStartCheck = defineCheck({
  code: 'motor_start',
  group: 'current',
  title: 'A motor start is too much for the converter of the island',
  why: 'A motor at standstill draws several times its rated current, nearly all of it reactive. The converter limits the current, so the voltage dips; the torque falls with its square, contactors drop out, and a motor that does not run up keeps drawing that current.',
  remedy:
    'Start with a soft starter or a drive (a smaller `start_current_ratio`), start fewer motors beside the rest, take a converter with more current or an `overload` or an `overload_class` that lasts for `start_time`, or allow a deeper dip (`voltage_dip`).',
  source:
    'overload, duty class or rating of the converter; practice `voltage_dip`: 15 %, common practice, no source; practice `control_margin_worst`',
  on: 'converter',
  bad: [
    ['power_factor = 0.95 }', 'power_factor = 0.95, mode = forming, motor_start = 110 kW, running_load = 100 kW }'],
  ],
  notChecked: plant => {
    const silent = formingWithout(plant, 'motor_start');
    return silent.length === 0
      ? undefined
      : `motor starts during ${listed(silent)}, for which no \`motor_start\` is stated`;
  },
  run: (context, converter) => {
    const results = {
      current: motorStartCurrent,
      limit: shortTimeCurrent,
      dip: motorStartDip,
      reserve: motorStartReserve,
    };
    const found = judgeIsland(context, converter, results, true);
    if (found === undefined) return;
    const { severity, spot, limit, words } = found;
    const duty = spot.duty!;
    const stated = (property: string): number => context.number(duty, property, 'nominal', spot.caseIndex);
    const kept = 1 - context.beside(spot, converter, motorStartDip);
    context.say({
      severity,
      component: converter,
      place: context.place(duty, 'motor_start', spot.caseIndex),
      related: [
        ...context.related(spot.caseIndex, [duty, 'start_current_ratio', 'The current that it draws at standstill.']),
        ...shortTimeRating(context, converter, spot.caseIndex),
      ],
      spot,
      limit,
      message: messages.judged({
        converter: converter.tag,
        motor: show(stated('motor_start'), dimensions.active_power),
        ratio: show(stated('start_current_ratio'), dimensions.count),
        where: context.where(spot),
        words,
        torque: show(kept * kept, dimensions.ratio),
      }),
    });
  },
});
