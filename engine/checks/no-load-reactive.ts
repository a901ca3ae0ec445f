// Does the plant disturb the network's reactive balance while it does nothing?
import { acPath } from '../results/ac-path.ts';
import { noLoadReactivePower } from '../results/converter-voltage.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { worstSpot } from './context.ts';

const messages = {
  large: (f: { converter: string; reactive: string; way: string; share: string; wanted: string; where: string }) =>
    `Without load, what stands before ${f.converter} ${f.way} ${f.reactive}, ${f.share} of its rated power, more than the customary ${f.wanted}${f.where}.`,
};

export const noLoadReactive = defineCheck({
  code: 'no_load_reactive',
  group: 'filter',
  title: 'Reactive power without load',
  why: 'Transformer and capacitor stay connected when nothing is asked of the plant; their reactive power is metered, may be limited, and on an island raises the voltage.',
  remedy:
    'Let the converter compensate while it modulates, take a smaller capacitor, or disconnect the filter in standby.',
  source: 'practice `no_load_reactive`: 5 %, common practice, no source',
  on: 'converter',
  bad: [['transformer_spare = 5 %', 'transformer_spare = 5 %\n  no_load_reactive = 1 %']],
  run: (context, converter) => {
    const spots = [...context.spots(converter, noLoadReactivePower)].map(spot => ({
      ...spot,
      value: Math.abs(spot.value),
      signed: spot.value,
    }));
    const spot = worstSpot(spots, noLoadReactivePower);
    const grid = context.component(context.graph.routesOf(converter.tag)[0]?.grid);
    if (spot === undefined || grid === undefined) return;
    const signed =
      spots.find(candidate => candidate.at === spot.at && candidate.caseIndex === spot.caseIndex)?.signed ?? spot.value;
    const idle = context.number(converter, 'ac_current', 'nominal', spot.caseIndex);
    // Its rating is at its own side of the transformer.
    const path = context.read(converter, spot.caseIndex).step(converter, acPath, spot.at);
    const nominal = context.number(grid, 'voltage', 'nominal', spot.caseIndex) / (path?.ratio ?? Number.NaN);
    const rated = Math.sqrt(3) * nominal * idle;
    const wanted = context.practice('no_load_reactive', spot.caseIndex);
    const share = spot.value / rated;
    if (!(share > wanted.number)) return;
    context.say({
      severity: 'warning',
      component: converter,
      place: converter.place,
      spot: { ...spot, value: signed },
      limit: {
        name: wanted.name,
        number: wanted.number * rated,
        display: show(wanted.number * rated, dimensions.reactive_power),
      },
      message: messages.large({
        converter: converter.tag,
        reactive: show(spot.value, dimensions.reactive_power),
        way: signed > 0 ? 'delivers' : 'takes up',
        share: show(share, dimensions.ratio),
        wanted: wanted.display,
        where: context.where(spot),
      }),
    });
  },
});
