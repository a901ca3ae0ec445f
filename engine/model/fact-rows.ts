// The facts of a plant as rows that two texts can be compared by.
import type { FactName, FactRow } from '../analysis.ts';
import { provenanceOf } from '../results/values.ts';
import { show } from '../units/show.ts';
import type { Component, Fact, FactValue, NumberFact, Plant } from './plant.ts';

/** Every fact of the base case, then what each case restates, in the order of the text; of one property alone where asked. */
export function factRows(plant: Plant, only?: FactName): readonly FactRow[] {
  const rowsOf = (component: Component, facts: ReadonlyMap<string, Fact>, plantCase: string | undefined) => {
    if (only !== undefined && only.subject !== component.tag) return [];
    const wanted = only === undefined ? [...facts.values()] : [facts.get(only.property)];
    return wanted.flatMap(fact => (fact === undefined ? [] : [rowOf(component, fact, plantCase)]));
  };
  const base = plant.components.flatMap(component => rowsOf(component, component.facts, undefined));
  const restated = plant.cases.flatMap(({ name, facts }) =>
    [...facts].flatMap(([tag, own]) => {
      const component = plant.byTag.get(tag);
      return component === undefined ? [] : rowsOf(component, own, name);
    }),
  );
  return [...base, ...restated];
}

function rowOf(component: Component, fact: Fact, plantCase: string | undefined): FactRow {
  return {
    subject: component.tag,
    kind: component.kind.name,
    property: fact.property.name,
    case: plantCase === '' ? undefined : plantCase,
    identity: identityOf(fact.value),
    display: showFact(fact),
    provenance: provenanceOf(fact),
    implied: fact.provenance.class === 'tool',
    place: fact.place,
  };
}

/** The unit in which something is written says nothing about the plant, nor does the last digit of its conversion. */
function identityOf(value: FactValue): string {
  return JSON.stringify(partsOf(value), (_, part: unknown) =>
    typeof part === 'number' ? Number(part.toPrecision(12)) : part,
  );
}

function partsOf(value: FactValue): readonly unknown[] {
  switch (value.type) {
    case 'number': {
      const { low, nominal, high, form, per, clauses } = value;
      return [value.dimension.phrase, low, nominal, high, form, per, clauses];
    }
    case 'curve':
      return [value.dimension.phrase, value.axes, value.per, value.curve];
    case 'surface':
      return [value.dimension.phrase, value.axes, value.per, value.surface];
    case 'word':
      return [value.word];
    case 'text':
      return [value.text];
  }
}

function showFact({ value, written }: Fact): string {
  if (value.type === 'number') return showNumberFact(value);
  if (value.type === 'word') return value.word;
  if (value.type === 'text') return value.text;
  return shortened(written);
}

function showNumberFact({ low, nominal, high, form, per, unit, dimension }: NumberFact): string {
  const one = (number: number) => show(number, dimension, unit === undefined ? {} : { unit });
  const suffix = per === undefined ? '' : ` per ${per}`;
  if (form === 'exact') return `${one(nominal)}${suffix}`;
  if (form === 'range') return `${one(low)} .. ${one(high)}${suffix}`;
  return `${one(nominal)} (${one(low)} .. ${one(high)})${suffix}`;
}

function shortened(written: string): string {
  const line = written.replace(/\s+/g, ' ');
  return line.length > 120 ? `${line.slice(0, 119)}…` : line;
}
