// Facts without which results stay unknown, and spreads without which a hazard is judged by assumption.
import type { Fix } from '../finding.ts';
import type { Property } from '../kinds/kind.ts';
import { toleranceFallbackOf } from '../model/fact-numbers.ts';
import { type Component, tagOf } from '../model/plant.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

const messages = {
  lacks: (f: { tag: string; kind: string; names: string }) =>
    `${f.tag} lacks what results need of a ${f.kind}: ${f.names}.`,
  oneOf: (f: { tag: string; names: string }) => `${f.tag} needs one of ${f.names}.`,
  tolerance: (f: { tag: string; property: string; tolerance: string; reason: string; example: string }) =>
    `\`${f.property}\` of ${f.tag} states no tolerance: ± ${f.tolerance} is assumed (${f.reason}). How far it wanders decides whether diodes conduct and full power is reached: ask the network’s owner, and write it like \`${f.example}\`.`,
};

export const missingFact = defineCheck({
  code: 'missing_fact',
  group: 'facts',
  title: 'A fact is missing',
  why: 'A result whose facts are not stated stays unknown, and what is judged by it stays unjudged.',
  remedy: 'State the fact, with its source; or state what you assume, as `assumed`.',
  source: 'definition',
  on: 'plant',
  looksEverywhere: true,
  bad: [['voltage = 400 V ± 10 %', 'voltage = 400 V']],
  run: context => {
    const { components, practice } = context.plant;
    const judging = components.filter(({ kind, tag }) => kind.notEvaluated !== true && tag !== practice.tag);
    context.judgeEach(judging, tagOf, component => {
      sayLacking(context, component);
      sayOneOf(context, component);
      sayTolerance(context, component);
    });
  },
});

function sayLacking(context: CheckContext, component: Component): void {
  const lacking = component.kind.properties.filter(
    property => property.need === 'required' && isMissing(component, property),
  );
  if (lacking.length === 0) return;
  context.say({
    severity: 'error',
    component,
    place: component.place,
    message: messages.lacks({
      tag: component.tag,
      kind: component.kind.name,
      names: list(lacking.map(property => property.name)),
    }),
    fixes: addFix(component, lacking),
  });
}

function sayOneOf(context: CheckContext, component: Component): void {
  for (const group of component.kind.oneOf ?? []) {
    if (group.some(name => component.facts.has(name) || component.failed.has(name))) continue;
    const first = component.kind.properties.filter(property => property.name === group[0]);
    context.say({
      severity: 'error',
      component,
      place: component.place,
      message: messages.oneOf({ tag: component.tag, names: list(group) }),
      fixes: addFix(component, first),
    });
  }
}

/** Only where the tolerance decides: at the network's voltage. Other assumed tolerances come from a standard and are noted. */
function sayTolerance(context: CheckContext, component: Component): void {
  if (component.kind.name !== 'grid') return;
  const fact = component.facts.get('voltage');
  if (fact?.value.type !== 'number' || fact.value.form !== 'assumed_tolerance') return;
  const { text, reason } = toleranceFallbackOf(fact.property, fact.value.nominal)!;
  const place = context.valuePlace(component, 'voltage');
  context.say({
    severity: 'warning',
    component,
    place: context.place(component, 'voltage'),
    message: messages.tolerance({
      tag: component.tag,
      property: 'voltage',
      tolerance: text,
      reason,
      example: `voltage = ${fact.written} ± ${text}`,
    }),
    fixes:
      place === undefined
        ? []
        : [
            {
              title: `State the tolerance ± ${text}`,
              safe: false,
              edits: [{ place: { ...place, start: place.end }, text: ` ± ${text}` }],
            },
          ],
  });
}

function isMissing(component: Component, property: Property): boolean {
  return !component.facts.has(property.name) && !component.failed.has(property.name);
}

function addFix(component: Component, properties: readonly Property[]): readonly Fix[] {
  const lines = properties.map(property => `\n  ${property.name} = ${property.example}`).join('');
  const what =
    properties.length === 1 ? `\`${properties[0]!.name}\`, an example value` : 'the missing facts, example values';
  const base = { title: `Add ${what} to replace`, safe: false, fills: true } as const;
  if (component.insertAt !== undefined) return [{ ...base, edits: [{ place: component.insertAt, text: lines }] }];
  const end = { ...component.whole, start: component.whole.end };
  return [{ ...base, edits: [{ place: end, text: ` {${lines}\n}` }] }];
}

function list(names: readonly string[]): string {
  return names.map(name => `\`${name}\``).join(', ');
}
