// Do converters that share a winding and a battery drive a current round through each other?
import type { Fix } from '../finding.ts';
import type { Component } from '../model/plant.ts';
import { circulatingCurrent as circulating, joinedWith, loopInductance } from '../results/circulating.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';
import { listed } from './not-checked.ts';

interface Facts {
  readonly converters: string;
  readonly shared: string;
  readonly where: string;
}

const messages = {
  ripple: (f: Facts & { current: string; inductance: string }) =>
    `${f.converters} share ${f.shared}, and their carriers do not run in step: a zero-sequence current of up to ${f.current} peak to peak can circulate between them in each phase, limited by ${f.inductance} of chokes alone${f.where}.`,
  nothing: (f: Facts & { inductance: string }) =>
    `${f.converters} share ${f.shared} with ${f.inductance} of chokes of their own between them${f.where}: whenever their legs switch apart, one shorts the DC link through the other.`,
};

export const circulatingCurrent = defineCheck({
  code: 'circulating_current',
  group: 'current',
  title: 'Current circulates between parallel converters',
  why: 'Two converters that are joined at their AC and at their DC terminals form a loop. What they make in common to all three phases drives a zero-sequence current round it, which no current control of the phases sees: it heats chokes and semiconductors, reaches into the network’s earth, and trips protection. A winding of its own for each breaks the loop.',
  remedy:
    'Give each converter a winding, or a battery, of its own; or chokes of its own and carriers that run in step (`carriers = synchronised`, at the same switching frequency).',
  source: 'circuit theory: volt-seconds of the chokes',
  on: 'converter',
  bad: [
    ['capacitance = 300 µF', 'capacitance = 200 µF'],
    [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      `filter F2 { converter_inductance = 100 µH, capacitance = 200 µF, damping_resistance = 60 mΩ }
converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
bus N1 {}
bus N2 {}

connect MAIN -> T1 -> N1 -> F1 -> K1 -> N2 -> B1
connect N1 -> F2 -> K2 -> N2`,
    ],
  ],
  run: (context, converter) => {
    const { routes } = context.plant.topology;
    const others = joinedWith(routes, converter.tag).map(route => route.converter);
    // Said once, at the first of those that are joined.
    const all = routes.map(route => route.converter).filter(tag => tag === converter.tag || others.includes(tag));
    if (others.length === 0 || all[0] !== converter.tag) return;
    const route = routes.find(candidate => candidate.converter === converter.tag)!;
    const winding = route.ac.findLast(element => element.kind === 'transformer')?.tag ?? route.grid;
    const loop = context.worst(converter, loopInductance);
    if (loop === undefined) return;
    const facts = {
      converters: listed(all),
      shared: listed([...(winding === undefined ? [] : [winding]), ...route.batteries]),
    };
    const components = all.flatMap(tag => context.component(tag) ?? []);
    const common = { component: converter, place: converter.place, related: others.flatMap(relate(context)) };
    if (loop.value === 0) {
      context.say({
        ...common,
        severity: 'error',
        spot: loop,
        message: messages.nothing({ ...facts, inductance: context.show(loop), where: context.where(loop) }),
      });
      return;
    }
    const spot = context.worst(converter, circulating);
    if (spot === undefined || spot.value === 0) return;
    const inductance = show(context.beside(spot, converter, loopInductance), dimensions.inductance);
    context.say({
      ...common,
      severity: 'warning',
      spot,
      message: messages.ripple({ ...facts, current: context.show(spot), inductance, where: context.where(spot) }),
      fixes: synchronise(context, components),
    });
  },
});

const relate = (context: CheckContext) => (tag: string) => {
  const other = context.component(tag);
  return other === undefined ? [] : [{ place: other.place, message: `${tag} is joined with it on both sides.` }];
};

/** Stated for all of them: a choice, since somebody must see to it. */
function synchronise(context: CheckContext, converters: readonly Component[]): readonly Fix[] {
  const frequencies = new Set(converters.map(converter => context.number(converter, 'switching_frequency')));
  const missing = converters.filter(
    ({ facts, failed }) => facts.get('carriers')?.place === undefined && !failed.has('carriers'),
  );
  if (frequencies.size !== 1 || missing.length !== converters.length) return [];
  const edits = missing.flatMap(({ insertAt }) =>
    insertAt === undefined ? [] : [{ place: insertAt, text: '\n  carriers = synchronised' }],
  );
  if (edits.length !== missing.length) return [];
  return [{ title: 'Run their carriers in step', safe: false, edits }];
}
