// Is the connection symbol possible, and does it fit what is said of the star point?
import type { Component } from '../model/plant.ts';
import { readVectorGroup, type VectorGroup, type WindingConnection } from '../tables/vector-group.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

const messages = {
  notation: (f: { transformer: string; text: string }) =>
    `"${f.text}" is no connection symbol for ${f.transformer}: it has the higher voltage’s winding in capitals, the other one’s in small letters, and a clock number from 0 to 11, such as "Dyn11" or "Yd5".`,
  clock: (f: { transformer: string; text: string; clock: string; wants: string }) =>
    `"${f.text}" is impossible for ${f.transformer}: these two connections shift by an ${f.wants} number of hours, and ${f.clock} is not.`,
  delta: (f: { transformer: string; text: string }) =>
    `${f.transformer}’s neutral on the converter side is said to be earthed, but by "${f.text}" that winding is a delta, which has none: one of the two is wrong. The sine limit is taken.`,
  inside: (f: { transformer: string; text: string }) =>
    `${f.transformer}’s neutral on the converter side is said to be earthed, but by "${f.text}" it is not brought out: one of the two is wrong. The sine limit is taken.`,
  open: (f: { transformer: string; text: string }) =>
    `By "${f.text}" ${f.transformer} brings the neutral of its winding on the converter side out; it is taken to float. If it is earthed or loaded, state \`neutral = earthed\`: the converter then reaches 13 % less voltage, by the sine limit.`,
};

export const vectorGroup = defineCheck({
  code: 'vector_group',
  group: 'voltage',
  title: 'A connection symbol that can’t be, or does not fit',
  why: 'The connection decides whether the converter’s side has a star point to earth, and with it how much voltage the converter can make.',
  remedy:
    'Copy the symbol from the rating plate, and say whether the neutral on the converter side is earthed or loaded.',
  source: 'IEC 60076-1, connection symbol (from memory)',
  on: 'transformer',
  bad: [['no_load_loss = 800 W', 'no_load_loss = 800 W\n  vector_group = "Dyn10"']],
  run: (context, transformer) => {
    const value = context.fact(transformer, 'vector_group')?.value;
    if (value?.type !== 'text') return;
    const { text } = value;
    const group = readVectorGroup(text);
    const facts = { transformer: transformer.tag, text };
    const common = { component: transformer, place: context.place(transformer, 'vector_group') };
    if (!group.ok) {
      const { problem } = group;
      const message =
        problem === 'notation'
          ? messages.notation(facts)
          : messages.clock({ ...facts, clock: String(group.clock), wants: group.wants });
      context.say({ ...common, severity: 'warning', message });
      return;
    }
    const winding = converterWinding(context, transformer, group);
    const neutral = context.fact(transformer, 'neutral');
    const earthed = neutral?.value.type === 'word' && neutral.value.word === 'earthed';
    const related = context.related([transformer, 'neutral', 'What is said of the neutral.']);
    if (earthed && winding?.connection === 'delta')
      context.say({ ...common, severity: 'warning', related, message: messages.delta(facts) });
    else if (earthed && winding?.neutral === false)
      context.say({ ...common, severity: 'warning', related, message: messages.inside(facts) });
    else if (winding?.neutral === true && neutral?.provenance.class === 'tool')
      context.say({ ...common, severity: 'note', message: messages.open(facts) });
  },
});

/** The winding towards the converter; undefined where both voltages are equal, or nothing is connected. */
function converterWinding(
  context: CheckContext,
  transformer: Component,
  { higher, lower }: Extract<VectorGroup, { readonly ok: true }>,
): WindingConnection | undefined {
  const passed = context.graph.routesOf(transformer.tag)[0]?.ac.find(({ tag }) => tag === transformer.tag);
  const primary = context.number(transformer, 'primary_voltage');
  const secondary = context.number(transformer, 'secondary_voltage');
  if (passed === undefined || !(primary !== secondary)) return undefined;
  const primaryIsHigher = primary > secondary;
  return primaryIsHigher === passed.reversed ? higher : lower;
}
