// Is the filter capacitor small against the converter?
import { capacitorShare } from '../results/filter.ts';
import { defineCheck } from './check.ts';

const messages = {
  large: (f: { filter: string; share: string; wanted: string }) =>
    `${f.filter}’s capacitor delivers ${f.share} of the converter’s rating as reactive power all the time, more than the customary ${f.wanted}: current and loss that no duty asks for, and a higher voltage at blocked terminals.`,
};

export const capacitorShareCheck = defineCheck({
  code: 'capacitor_share',
  group: 'filter',
  title: 'A large filter capacitor',
  why: 'The capacitor’s reactive power flows as long as the filter is connected; it loads converter and transformer and raises the voltage in front of the blocked diodes.',
  remedy: 'Take a smaller capacitor and more inductance.',
  source: 'practice `capacitor_share`: 5 %, common practice, no source',
  on: 'filter',
  bad: [['transformer_spare = 5 %', 'transformer_spare = 5 %\n  capacitor_share = 2 %']],
  run: (context, filter) => {
    const wantedIn = (caseIndex: number) => context.practice('capacitor_share', caseIndex);
    const spot = context.pastLimit(filter, capacitorShare, caseIndex => wantedIn(caseIndex).number);
    if (spot === undefined) return;
    const wanted = wantedIn(spot.caseIndex);
    context.say({
      severity: 'warning',
      component: filter,
      place: context.place(filter, 'capacitance', spot.caseIndex),
      spot,
      limit: wanted,
      message: messages.large({ filter: filter.tag, share: context.show(spot), wanted: wanted.display }),
    });
  },
});
