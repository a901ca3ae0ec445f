// Does the converter carry the duty's current where it stands?
import { current, loading, ratedCurrent } from '../results/converter-current.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { Spot } from './context.ts';
import { overloadExcesses } from './overload-cover.ts';

const messages = {
  over: (f: { converter: string; current: string; rated: string; loading: string; where: string; derated: string }) =>
    `${f.converter} is overloaded: ${f.current} where ${f.rated} is its rating${f.derated}, ${f.loading}${f.where}.`,
  above: (f: { converter: string; loading: string; wanted: string; where: string }) =>
    `${f.converter} is loaded to ${f.loading} of its rating, above the ${f.wanted} of the house rules${f.where}.`,
};

export const converterLoading = defineCheck({
  code: 'converter_loading',
  group: 'current',
  title: 'The converter carries too much current',
  why: 'Semiconductors have little thermal inertia: more than the rated current trips the converter or wears it out. Low network voltage, reactive power and the filter’s own current count, and so do altitude and heat.',
  remedy:
    'Take a larger converter, raise the secondary voltage (less current for the same power; mind the diodes), or ask for less power or reactive power.',
  source: 'practice `converter_loading`: 100 % of the derated rating, common practice, no source',
  on: 'converter',
  bad: [['ac_current = 850 A', 'ac_current = 750 A']],
  run: (context, converter) => {
    // A passing overload that the maker states is judged by converter_overload.
    const lasting = (candidate: Spot): boolean =>
      candidate.value <= 1 || overloadExcesses(context, converter, candidate) === undefined;
    const most = context.worst(converter, loading);
    if (most === undefined) return;
    const highest = lasting(most) ? most : context.worst(converter, loading, lasting);
    if (highest === undefined) return;
    const wantedIn = (caseIndex: number) => context.practice('converter_loading', caseIndex);
    const within = most.value > 1 ? ({ value }: Spot): boolean => value <= 1 : undefined;
    const spot =
      highest.value > 1
        ? highest
        : context.pastLimit(converter, loading, caseIndex => wantedIn(caseIndex).number, within);
    if (spot === undefined) return;
    const wanted = wantedIn(spot.caseIndex);
    const common = {
      component: converter,
      place: context.place(converter, 'ac_current', spot.caseIndex),
      related: context.duty(spot),
      spot,
      limit: wanted,
    };
    const where = context.where(spot);
    if (spot.value <= 1) {
      context.say({
        ...common,
        severity: 'warning',
        message: messages.above({
          converter: converter.tag,
          loading: context.show(spot),
          wanted: wanted.display,
          where,
        }),
      });
      return;
    }
    const rated = context.beside(spot, converter, ratedCurrent);
    const stated = context.number(converter, 'ac_current', 'nominal', spot.caseIndex);
    context.say({
      ...common,
      severity: 'error',
      message: messages.over({
        converter: converter.tag,
        current: show(context.beside(spot, converter, current), dimensions.current),
        rated: show(rated, dimensions.current),
        derated: rated < stated ? ` at this altitude and ambient (${show(stated, dimensions.current)} stated)` : '',
        loading: context.show(spot),
        where,
      }),
    });
  },
});
