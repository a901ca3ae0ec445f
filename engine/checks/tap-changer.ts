// Do the tapping and the tap changer say the same?
import type { Component, NumberFact } from '../model/plant.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

const messages = {
  none: (f: { transformer: string; tap: string }) =>
    `${f.transformer} states a tapping of ${f.tap} and no tap changer (\`tap_changer = none\`): one of the two is wrong. The tapping counts.`,
  beyond: (f: { transformer: string; tap: string; range: string }) =>
    `${f.transformer}’s tapping of ${f.tap} lies beyond its tap changer’s ± ${f.range}.`,
  between: (f: { transformer: string; tap: string; step: string; lower: string; upper: string }) =>
    `${f.transformer}’s tapping of ${f.tap} lies between two positions of its tap changer, which come in steps of ${f.step}: ${f.lower} and ${f.upper} are the nearest.`,
  moves: (f: { transformer: string; tap: string }) =>
    `${f.transformer}’s tapping of ${f.tap} is not used: its tap changer moves under load, and goes where the network voltage takes it.`,
};

/** A tapping that equals a position but for rounding. */
const slack = 1e-6;

export const tapChanger = defineCheck({
  code: 'tap_changer',
  group: 'voltage',
  title: 'Tapping and tap changer do not fit',
  why: 'A tapping shifts every voltage behind the transformer, the one at the blocked converter first of all. One that the tap changer does not have is a misreading.',
  remedy: 'Look the positions up on the rating plate, and state the one in use.',
  source: 'definition',
  on: 'transformer',
  bad: [
    ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  tap = +2 %\n  tap_changer = off_circuit\n  tap_step = 2.5 %'],
    ['rated_power = 500 kVA', 'rated_power = 630 kVA'],
  ],
  run: (context, transformer) => {
    const said = new Set<string>();
    for (const [caseIndex] of context.cases.entries()) {
      const message = tapMistake(context, transformer, caseIndex);
      if (message === undefined || said.has(message.text)) continue;
      said.add(message.text);
      context.say({
        severity: message.severity,
        component: transformer,
        place: context.place(transformer, 'tap', caseIndex),
        related: context.related(caseIndex, [transformer, 'tap_changer', 'The tap changer.']),
        message: message.text,
      });
    }
  },
});

function tapMistake(
  context: CheckContext,
  transformer: Component,
  caseIndex: number,
): { readonly severity: 'warning' | 'note'; readonly text: string } | undefined {
  const tap = stated(context, transformer, 'tap', caseIndex)?.nominal;
  const changer = context.fact(transformer, 'tap_changer', caseIndex)?.value;
  if (tap === undefined || changer?.type !== 'word') return undefined;
  const facts = { transformer: transformer.tag, tap: signed(tap) };
  if (changer.word === 'on_load') return { severity: 'note', text: messages.moves(facts) };
  if (changer.word === 'none') return tap === 0 ? undefined : { severity: 'warning', text: messages.none(facts) };
  const range = stated(context, transformer, 'tap_range', caseIndex)?.nominal;
  if (range !== undefined && Math.abs(tap) > range + slack)
    return { severity: 'warning', text: messages.beyond({ ...facts, range: show(range, dimensions.ratio) }) };
  const step = stated(context, transformer, 'tap_step', caseIndex)?.nominal;
  if (step === undefined || Math.abs(tap / step - Math.round(tap / step)) < slack) return undefined;
  const below = Math.floor(tap / step) * step;
  const text = messages.between({
    ...facts,
    step: show(step, dimensions.ratio),
    lower: signed(below),
    upper: signed(below + step),
  });
  return { severity: 'warning', text };
}

/** Only what the author says: the tool's own step is a guess at an on-load tap changer. */
function stated(
  context: CheckContext,
  transformer: Component,
  name: string,
  caseIndex: number,
): NumberFact | undefined {
  const fact = context.fact(transformer, name, caseIndex);
  return fact?.value.type === 'number' && fact.provenance.class !== 'tool' ? fact.value : undefined;
}

const signed = (value: number): string => `${value > 0 ? '+' : ''}${show(value, dimensions.ratio)}`;
