// Does the transformer's primary fit the network that it stands on?
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  swapped: (f: { transformer: string; primary: string; secondary: string; network: string }) =>
    `${f.transformer}’s sides look swapped: its primary of ${f.primary} stands on a network of ${f.network}, which is what its secondary of ${f.secondary} would fit. The side that \`connect\` names first is the primary.`,
  off: (f: { transformer: string; primary: string; network: string; by: string; sense: string }) =>
    `${f.transformer}’s primary is made for ${f.primary}, ${f.by} ${f.sense} the network’s ${f.network}: all voltages behind it shift by as much, and a core with too much voltage saturates.`,
};

/** Deviations up to here are a matter of taps and of neighbouring standard voltages (400 V and 415 V): common practice, no source. */
const usual = 0.05;
/** From here on nobody can have meant it (common practice, no source). */
const certain = 0.2;

export const windingMismatch = defineCheck({
  code: 'winding_mismatch',
  group: 'voltage',
  title: 'Primary voltage and network do not fit',
  why: 'A transformer on the wrong voltage shifts everything behind it, and with more than its rated voltage its core saturates.',
  remedy: 'State the primary voltage that fits the network, or swap the sides in `connect`.',
  source: 'common practice, no source: more than 5 % off is more than a tap, more than 20 % an error',
  on: 'transformer',
  bad: [
    ['primary_voltage = 400 V', 'primary_voltage = 430 V'],
    ['rated_power = 500 kVA', 'rated_power = 630 kVA'],
  ],
  run: (context, transformer) => {
    const route = context.graph.routesOf(transformer.tag)[0];
    const grid = context.component(route?.grid);
    const position = route?.ac.findIndex(element => element.tag === transformer.tag) ?? -1;
    if (route === undefined || grid === undefined || position < 0) return;
    if (route.ac.slice(0, position).some(element => element.kind === 'transformer')) return;
    const { reversed } = route.ac[position]!;
    const side = reversed ? 'secondary_voltage' : 'primary_voltage';
    const deviationIn = (caseIndex: number): number =>
      context.number(transformer, side, 'nominal', caseIndex) / context.number(grid, 'voltage', 'nominal', caseIndex) -
      1;
    const caseIndex = context.highestCase(index => Math.abs(deviationIn(index)));
    const deviation = deviationIn(caseIndex);
    if (!(Math.abs(deviation) > usual)) return;
    const network = context.number(grid, 'voltage', 'nominal', caseIndex);
    const primary = context.number(transformer, side, 'nominal', caseIndex);
    const other = context.number(transformer, reversed ? 'primary_voltage' : 'secondary_voltage', 'nominal', caseIndex);
    const swapped = Math.abs(other / network - 1) <= usual;
    const facts = {
      transformer: transformer.tag,
      primary: show(primary, dimensions.voltage),
      network: `${show(network, dimensions.voltage)}${context.inCase(caseIndex)}`,
    };
    context.say({
      severity: Math.abs(deviation) > certain || swapped ? 'error' : 'warning',
      component: transformer,
      place: context.place(transformer, side, caseIndex),
      related: context.related(caseIndex, [grid, 'voltage', 'The network’s voltage.']),
      message: swapped
        ? messages.swapped({ ...facts, secondary: show(other, dimensions.voltage) })
        : messages.off({
            ...facts,
            by: show(Math.abs(deviation), dimensions.ratio),
            sense: deviation > 0 ? 'above' : 'below',
          }),
    });
  },
});
