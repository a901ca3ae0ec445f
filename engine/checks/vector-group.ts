// Is the connection symbol possible, and does it fit what is said of the star point?
import type { Component } from '../model/plant.ts';
import { readVectorGroup, type VectorGroup, type WindingConnection } from '../tables/vector-group.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

interface Facts {
  readonly transformer: string;
  readonly text: string;
  readonly inCase: string;
}

const messages = {
  notation: (f: Facts) =>
    `"${f.text}" is no connection symbol for ${f.transformer}${f.inCase}: it has the higher voltage’s winding in capitals, the other one’s in small letters, and a clock number from 0 to 11, such as "Dyn11" or "Yd5".`,
  clock: (f: Facts & { clock: string; wants: string }) =>
    `"${f.text}" is impossible for ${f.transformer}${f.inCase}: these two connections shift by an ${f.wants} number of hours, and ${f.clock} is not.`,
  delta: (f: Facts) =>
    `${f.transformer}’s neutral on the converter side is said to be earthed${f.inCase}, but by "${f.text}" that winding is a delta, which has none: one of the two is wrong. The sine limit is taken.`,
  inside: (f: Facts) =>
    `${f.transformer}’s neutral on the converter side is said to be earthed${f.inCase}, but by "${f.text}" it is not brought out: one of the two is wrong. The sine limit is taken.`,
  open: (f: Facts) =>
    `By "${f.text}" ${f.transformer} brings the neutral of its winding on the converter side out${f.inCase}; it is taken to float. If it is earthed or loaded, state \`neutral = earthed\`: the converter then reaches 13 % less voltage, by the sine limit.`,
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
    // The same mistake is told once, in the first case that makes it.
    const told = new Set<string>();
    for (const caseIndex of context.cases.keys()) {
      const value = context.fact(transformer, 'vector_group', caseIndex)?.value;
      if (value?.type !== 'text') continue;
      const judgement = judge(context, transformer, value.text, caseIndex);
      if (judgement === undefined || told.has(`${judgement} ${value.text}`)) continue;
      told.add(`${judgement} ${value.text}`);
      say(context, transformer, value.text, judgement, caseIndex);
    }
  },
});

type Judgement = 'symbol' | 'delta' | 'inside' | 'open';

function judge(context: CheckContext, transformer: Component, text: string, caseIndex: number): Judgement | undefined {
  const group = readVectorGroup(text);
  if (!group.ok) return 'symbol';
  const winding = converterWinding(context, transformer, group, caseIndex);
  const neutral = context.fact(transformer, 'neutral', caseIndex);
  if (neutral?.value.type === 'word' && neutral.value.word === 'earthed') {
    if (winding?.connection === 'delta') return 'delta';
    return winding?.neutral === false ? 'inside' : undefined;
  }
  return winding?.neutral === true && neutral?.provenance.class === 'tool' ? 'open' : undefined;
}

function say(
  context: CheckContext,
  transformer: Component,
  text: string,
  judgement: Judgement,
  caseIndex: number,
): void {
  const facts: Facts = { transformer: transformer.tag, text, inCase: context.inCase(caseIndex) };
  const at = contradicting(context, transformer, caseIndex);
  const neutral = [transformer, 'neutral', 'What is said of the neutral.'] as const;
  const symbol = [transformer, 'vector_group', 'The connection symbol.'] as const;
  const isAboutNeutral = judgement === 'delta' || judgement === 'inside';
  context.say({
    severity: judgement === 'open' ? 'note' : 'warning',
    component: transformer,
    place: context.place(transformer, isAboutNeutral ? at : 'vector_group', caseIndex),
    related: isAboutNeutral ? context.related(caseIndex, at === 'neutral' ? symbol : neutral) : [],
    message: judgement === 'symbol' ? wrongSymbol(facts) : messages[judgement](facts),
  });
}

function wrongSymbol(facts: Facts): string {
  const group = readVectorGroup(facts.text);
  return !group.ok && group.problem === 'clock'
    ? messages.clock({ ...facts, clock: String(group.clock), wants: group.wants })
    : messages.notation(facts);
}

/** Which of the two facts to point at: the symbol, unless the case states the neutral alone. */
function contradicting(context: CheckContext, transformer: Component, caseIndex: number): 'vector_group' | 'neutral' {
  const isOfCase = (property: string): boolean =>
    context.fact(transformer, property, caseIndex) !== context.fact(transformer, property);
  return isOfCase('neutral') && !isOfCase('vector_group') ? 'neutral' : 'vector_group';
}

/** The winding towards the converter; undefined where both voltages are equal, or nothing is connected. */
function converterWinding(
  context: CheckContext,
  transformer: Component,
  { higher, lower }: Extract<VectorGroup, { readonly ok: true }>,
  caseIndex: number,
): WindingConnection | undefined {
  const passed = context.graph.routesOf(transformer.tag)[0]?.ac.find(({ tag }) => tag === transformer.tag);
  const primary = context.number(transformer, 'primary_voltage', 'nominal', caseIndex);
  const secondary = context.number(transformer, 'secondary_voltage', 'nominal', caseIndex);
  if (passed === undefined || !(primary !== secondary)) return undefined;
  const primaryIsHigher = primary > secondary;
  return primaryIsHigher === passed.reversed ? higher : lower;
}
