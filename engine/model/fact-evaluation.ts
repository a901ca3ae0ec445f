// A fact as an expression reads it: a spread stays one variable wherever it is read.
import { constant, type Evaluated, spreadNumber } from './evaluated.ts';
import type { Fact } from './plant.ts';

const evaluatedFacts = new WeakMap<object, Evaluated>();

export function asEvaluated(fact: Fact): Evaluated | undefined {
  const known = evaluatedFacts.get(fact.value);
  if (known !== undefined) return known;
  const evaluated = evaluatedOf(fact);
  if (evaluated !== undefined) evaluatedFacts.set(fact.value, evaluated);
  return evaluated;
}

function evaluatedOf({ value }: Fact): Evaluated | undefined {
  if (value.type === 'curve')
    return {
      type: 'curve',
      axes: value.axes,
      axisDimensions: [],
      curve: value.curve,
      dimension: value.dimension,
      per: value.per,
    };
  if (value.type !== 'number') return undefined;
  if (value.form === 'exact') return { ...constant(value.nominal, value.dimension, value.unit), per: value.per };
  const form = value.form === 'range' ? 'range' : 'tolerance';
  return {
    ...spreadNumber({ form, low: value.low, nominal: value.nominal, high: value.high }, value.dimension, value.unit),
    per: value.per,
  };
}
