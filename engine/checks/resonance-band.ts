// Does the filter's resonance keep clear of network harmonics and of the switching frequency?
import type { Component } from '../model/plant.ts';
import { resonanceBand } from '../physics/filter.ts';
import { resonanceMax, resonanceMin } from '../results/filter.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';

const messages = {
  low: (f: { filter: string; resonance: string; bound: string; damping: string }) =>
    `${f.filter} resonates at ${f.resonance}, below ${f.bound} (ten times the network’s frequency), where network harmonics can excite it${f.damping}.`,
  high: (f: { filter: string; resonance: string; bound: string; damping: string }) =>
    `${f.filter} resonates at ${f.resonance}, above ${f.bound} (half the switching frequency), where the converter’s own ripple can excite it${f.damping}.`,
};

export const resonanceBandCheck = defineCheck({
  code: 'resonance_band',
  group: 'filter',
  title: 'The filter resonates outside the customary band',
  why: 'Chokes, capacitor, transformer and network make a resonant circuit. Near low harmonics the network excites it; near the switching frequency the converter does, and above half of it no control can damp it.',
  remedy: 'Change the capacitor or the inductances, or damp the resonance actively and say so (`damping = active`).',
  source: 'Liserre, Blaabjerg, Hansen, IEEE TIA 41(5), 2005 (from memory): 10·f to f_sw/2',
  on: 'filter',
  bad: [['capacitance = 300 µF', 'capacitance = 120 µF']],
  run: (context, filter) => {
    if (wordOf(context, filter, 'damping') === 'active') return;
    const route = context.graph.routesOf(filter.tag)[0];
    const grid = context.component(route?.grid);
    const converter = context.component(route?.converter);
    if (grid === undefined || converter === undefined) return;
    const bandIn = (caseIndex: number) => {
      const frequency = context.number(grid, 'frequency', 'nominal', caseIndex);
      return resonanceBand(frequency, context.number(converter, 'switching_frequency', 'nominal', caseIndex));
    };
    const lowIn = (caseIndex: number) => bandIn(caseIndex).low;
    const highIn = (caseIndex: number) => bandIn(caseIndex).high;
    const low = context.pastLimit(filter, resonanceMin, lowIn);
    const high = low === undefined ? context.pastLimit(filter, resonanceMax, highIn) : undefined;
    if (low !== undefined) saySide(context, filter, low, lowIn(low.caseIndex), messages.low);
    else if (high !== undefined) saySide(context, filter, high, highIn(high.caseIndex), messages.high);
  },
});

function saySide(
  context: CheckContext,
  filter: Component,
  spot: Spot,
  bound: number,
  message: typeof messages.low,
): void {
  const damped =
    filter.facts.has('damping_resistance') && filter.facts.get('damping_resistance')?.provenance.class !== 'tool';
  context.say({
    severity: 'warning',
    component: filter,
    place: context.place(filter, 'capacitance', spot.caseIndex),
    spot,
    limit: { name: undefined, number: bound, display: show(bound, dimensions.frequency) },
    message: message({
      filter: filter.tag,
      resonance: context.show(spot),
      bound: show(bound, dimensions.frequency),
      damping: damped ? '; the damping resistor lessens it, how far is not checked' : '; no damping is stated',
    }),
  });
}

function wordOf(context: CheckContext, component: Component, property: string): string | undefined {
  const value = context.fact(component, property)?.value;
  return value?.type === 'word' ? value.word : undefined;
}
