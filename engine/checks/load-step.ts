// Does the converter that forms an island hold its voltage when the largest load is switched on?
import { ratedCurrent } from '../results/converter-current.ts';
import { loadStepCurrent, loadStepDip, loadStepReserve } from '../results/island.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { formingWithout, judgeIsland } from './island-judgement.ts';
import { listed } from './not-checked.ts';

const messages = {
  judged: (f: { converter: string; step: string; where: string; words: string }) =>
    `Switching on ${f.step} beside what runs, ${f.converter} ${f.words}${f.where}.`,
};

export const loadStepCheck = defineCheck({
  code: 'load_step',
  group: 'current',
  title: 'A load step is too much for the converter of the island',
  why: 'On an island there is no network to help out: what is switched on draws its current from the converter alone. Beyond its limit the voltage falls, and loads that keep their power, such as drives, then draw still more, until everything goes dark.',
  remedy:
    'Take a larger converter, switch loads on one after another, state what really runs beside (`running_load`), or allow a deeper dip (`voltage_dip`) where the loads stand it.',
  source:
    'rated current of the converter; practice `voltage_dip`: 15 %, common practice, no source; practice `control_margin_worst`',
  on: 'converter',
  bad: [
    [
      'power_factor = 0.95 }',
      'power_factor = 0.95, mode = forming, load_step = 250 kW, load_step_power_factor = 0.8, running_load = 300 kW }',
    ],
  ],
  notChecked: plant => {
    const silent = formingWithout(plant, 'load_step');
    return silent.length === 0
      ? undefined
      : `load steps during ${listed(silent)}, for which no \`load_step\` is stated`;
  },
  run: (context, converter) => {
    const results = {
      current: loadStepCurrent,
      limit: ratedCurrent,
      dip: loadStepDip,
      reserve: loadStepReserve,
    };
    const found = judgeIsland(context, converter, results, false);
    if (found === undefined) return;
    const { severity, spot, limit, words } = found;
    const duty = spot.duty!;
    const step = context.number(duty, 'load_step', 'nominal', spot.caseIndex);
    context.say({
      severity,
      component: converter,
      place: context.place(duty, 'load_step', spot.caseIndex),
      related: context.related(spot.caseIndex, [converter, 'ac_current', 'The rating of the converter.']),
      spot,
      limit,
      message: messages.judged({
        converter: converter.tag,
        step: show(step, dimensions.active_power),
        where: context.where(spot),
        words,
      }),
    });
  },
});
