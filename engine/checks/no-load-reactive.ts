// Does the plant disturb the network's reactive balance while it does nothing?
import { acPath } from '../results/ac-path.ts';
import { noLoadReactivePower } from '../results/converter-voltage.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { Spot } from './context.ts';

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
    const grid = context.component(context.graph.routesOf(converter.tag)[0]?.grid);
    if (grid === undefined) return;
    const wantedIn = (caseIndex: number) => context.practice('no_load_reactive', caseIndex);
    // Its rating is at its own side of the transformer.
    const ratedAt = ({ caseIndex, at }: Spot): number => {
      const path = context.read(converter, caseIndex).step(converter, acPath, at);
      const nominal = context.number(grid, 'voltage', 'nominal', caseIndex) / (path?.ratio ?? Number.NaN);
      return Math.sqrt(3) * nominal * context.number(converter, 'ac_current', 'nominal', caseIndex);
    };
    let worst: { readonly spot: Spot; readonly share: number } | undefined;
    for (const spot of context.spots(converter, noLoadReactivePower)) {
      const share = Math.abs(spot.value) / ratedAt(spot);
      if (share > Math.max(wantedIn(spot.caseIndex).number, worst?.share ?? 0)) worst = { spot, share };
    }
    if (worst === undefined) return;
    const { spot, share } = worst;
    const rated = ratedAt(spot);
    const wanted = wantedIn(spot.caseIndex);
    context.say({
      severity: 'warning',
      component: converter,
      place: converter.place,
      spot,
      limit: {
        name: wanted.name,
        number: wanted.number * rated,
        display: show(wanted.number * rated, dimensions.reactive_power),
      },
      message: messages.large({
        converter: converter.tag,
        reactive: show(Math.abs(spot.value), dimensions.reactive_power),
        way: spot.value > 0 ? 'delivers' : 'takes up',
        share: show(share, dimensions.ratio),
        wanted: wanted.display,
        where: context.where(spot),
      }),
    });
  },
});
