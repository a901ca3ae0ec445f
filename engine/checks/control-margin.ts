// Does the resting battery leave the converter voltage to control with?
import { controlMargin } from '../results/converter-voltage.ts';
import { defineCheck } from './check.ts';
import { dcSource, lowestDcSource, windingPlace } from './winding.ts';

const messages = {
  none: (f: { converter: string; source: string; short: string; where: string }) =>
    `${f.converter} can’t even make the idle voltage at its terminals from ${f.source}: ${f.short} is missing${f.where}.`,
  narrow: (f: { converter: string; source: string; margin: string; wanted: string; where: string }) =>
    `${f.converter} keeps ${f.margin} of voltage to control with, less than the ${f.wanted} wanted, with ${f.source}${f.where}.`,
};

export const controlMarginCheck = defineCheck({
  code: 'control_margin',
  group: 'voltage',
  title: 'Too little voltage left for control',
  why: 'A converter that has to make all the voltage that its DC side allows can no longer steer current: it reacts slowly to network events, and its current distorts.',
  remedy: 'Choose a lower secondary voltage, more cells in series or a higher bottom of the state-of-charge span.',
  source: 'practice `control_margin` and `control_margin_worst`: common practice, no source',
  on: 'converter',
  bad: [['transformer_spare = 5 %', 'transformer_spare = 5 %\n  control_margin = 45 %']],
  run: (context, converter) => {
    const most = context.worst(converter, controlMargin);
    if (most === undefined) return;
    for (const [voltage, name] of [
      [1, 'control_margin'],
      [2, 'control_margin_worst'],
    ] as const) {
      // What is missing altogether is worse than what is narrow, at whichever voltage.
      if (most.value < 0 && most.at.voltage !== voltage) continue;
      const wantedIn = (caseIndex: number) => context.practice(name, caseIndex);
      const spot =
        most.value < 0
          ? most
          : context.pastLimit(
              converter,
              controlMargin,
              caseIndex => wantedIn(caseIndex).number,
              candidate => candidate.at.voltage === voltage,
            );
      if (spot === undefined) continue;
      const wanted = wantedIn(spot.caseIndex);
      const common = {
        component: converter,
        place: windingPlace(context, converter, spot.caseIndex),
        related: dcSource(context, converter, spot.caseIndex, [['soc', 'The bottom of this span counts.']]),
        spot,
        limit: wanted,
      };
      const where = context.where(spot);
      const source = lowestDcSource(context, converter, 'the battery at rest at the bottom of its span');
      if (spot.value < 0)
        context.say({
          ...common,
          severity: 'error',
          message: messages.none({
            converter: converter.tag,
            source,
            short: context.show({ ...spot, value: -spot.value }),
            where,
          }),
        });
      else
        context.say({
          ...common,
          severity: 'warning',
          message: messages.narrow({
            converter: converter.tag,
            source,
            margin: context.show(spot),
            wanted: wanted.display,
            where,
          }),
        });
      return;
    }
  },
});
