// What computations tell of their looks: inputs for explanations, and curves that end too soon.
import type { Component, Fact } from '../model/plant.ts';
import type { At, Result } from './definition.ts';

/** A curve that was asked for a point beyond its ends. */
export interface OutsideCurve {
  readonly tag: string;
  readonly property: string;
  readonly axis: string;
  readonly x: number;
  readonly first: number;
  readonly last: number;
}

/** One input of one computation, for hover and explanation. */
export type Noted =
  | {
      readonly kind: 'fact';
      readonly component: Component;
      readonly fact: Fact;
      readonly value: number | undefined;
      readonly label: string;
    }
  | {
      readonly kind: 'value';
      readonly component: Component;
      readonly result: Result;
      readonly value: number;
      readonly duty: Component | undefined;
      readonly at: At;
    };

export type Corner = 'low' | 'nominal' | 'high';

/** `value`: NaN where the fact is no number. */
export function factNoted(component: Component, fact: Fact, value: number, corner: Corner): Noted {
  const spread = fact.value.type === 'number' && fact.value.form !== 'exact';
  const which = spread && corner !== 'nominal' ? ` (${corner === 'low' ? 'lowest' : 'highest'})` : '';
  const label = `${component.tag}.${fact.property.name}${which}`;
  return { kind: 'fact', component, fact, value: Number.isNaN(value) ? undefined : value, label };
}
