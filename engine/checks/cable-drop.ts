// Does a cable lose more voltage than is customary?
import { directElements } from '../model/topology.ts';
import { drop } from '../results/cable.ts';
import { defineCheck } from './check.ts';

const messages = {
  large: (f: { cable: string; drop: string; wanted: string; where: string }) =>
    `${f.cable} loses ${f.drop} of the voltage, more than the customary ${f.wanted}${f.where}.`,
};

export const cableDrop = defineCheck({
  code: 'cable_drop',
  group: 'voltage',
  title: 'A large voltage drop in a cable',
  why: 'What drops in a cable is lost as heat, and is missing where it is needed: at the converter’s DC terminals just when the battery sags, or at the network.',
  remedy: 'Take a larger cross-section, more conductors in parallel or a shorter way.',
  source: 'practice `cable_drop_ac` and `cable_drop_dc`: common practice, no source',
  on: 'cable',
  bad: [['connect MAIN -> T1', 'cable W1 { length = 90 m, cross_section = 95 mm² }\nconnect MAIN -> W1 -> T1']],
  run: (context, cable) => {
    const route = context.graph.routesOf(cable.tag)[0];
    const direct = route !== undefined && directElements(route).some(({ tag }) => tag === cable.tag);
    const wantedIn = (caseIndex: number) => context.practice(direct ? 'cable_drop_dc' : 'cable_drop_ac', caseIndex);
    const spot = context.pastLimit(cable, drop, caseIndex => wantedIn(caseIndex).number);
    if (spot === undefined) return;
    const wanted = wantedIn(spot.caseIndex);
    context.say({
      severity: 'warning',
      component: cable,
      place: context.place(cable, 'cross_section', spot.caseIndex),
      related: context.related(spot.caseIndex, [cable, 'length', 'Its length.']),
      spot,
      limit: wanted,
      message: messages.large({
        cable: cable.tag,
        drop: context.show(spot),
        wanted: wanted.display,
        where: context.where(spot),
      }),
    });
  },
});
