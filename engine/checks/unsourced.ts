// Where the house rules want it: every stated number names where it comes from.
import { defineCheck } from './check.ts';

const messages = {
  bare: (f: { tag: string; list: string }) =>
    `The house rules want a source for each number; ${f.tag} states without one: ${f.list}.`,
};

export const unsourced = defineCheck({
  code: 'unsourced',
  group: 'facts',
  title: 'A number without a source',
  why: 'A number that nobody can trace is re-asked, re-measured or wrongly trusted.',
  remedy: 'Add `from "…"` with the document and its item, or `assumed "…"` with the reason.',
  source: 'practice `require_source`',
  on: 'plant',
  bad: [['transformer_spare = 5 %', 'transformer_spare = 5 %\n  require_source = yes']],
  run: context => {
    const rule = context.plant.practice.facts.get('require_source')?.value;
    if (rule?.type !== 'word' || rule.word !== 'yes') return;
    for (const component of context.plant.components) {
      if (component === context.plant.practice || component.kind.name === 'duty') continue;
      const bare = [...component.facts.values()].filter(
        fact =>
          fact.provenance.class === 'stated' &&
          fact.value.type !== 'word' &&
          fact.property.descriptive !== true &&
          !fact.inherited,
      );
      if (bare.length === 0) continue;
      context.say({
        severity: 'warning',
        component,
        place: component.place,
        message: messages.bare({ tag: component.tag, list: bare.map(fact => `\`${fact.property.name}\``).join(', ') }),
      });
    }
  },
});
