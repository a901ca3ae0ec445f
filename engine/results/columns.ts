// Columns made of columns of numbers by one operation: each a loop of its own, which is what makes it quick.
import type { Figure, Result } from './definition.ts';
import { type Fill, orUnknown, type Taken, type There, takenBy } from './taken.ts';

type Numbers = Result | Figure | There<Result | Figure> | Taken;

/** The number itself. */
export function same(of: Numbers): Taken {
  return takenBy([of], copy);
}

/** The figure that a value is nothing but, with the same axes. */
export function figureOf({ taken, axes }: Result): Figure | undefined {
  const only = taken?.fill === copy && taken.where === undefined ? taken.of[0] : undefined;
  return only?.type === 'figure' && only.of.axes.length === axes.length ? only : undefined;
}

/** |a| */
export function magnitude(of: Numbers): Taken {
  return takenBy([of], absolute);
}

/** a · b */
export function product(one: Numbers, other: Numbers): Taken {
  return takenBy([one, other], times);
}

/** a / b */
export function quotient(over: Numbers, under: Numbers): Taken {
  return takenBy([over, under], by);
}

/** a − b */
export function difference(one: Numbers, other: Numbers): Taken {
  return takenBy([one, other], minus);
}

/** a / b − 1 */
export function excess(over: Numbers, under: Numbers): Taken {
  return takenBy([over, under], beyond);
}

/** The greater of two; unknown where one of them is. */
export function greater(one: Numbers, other: Numbers): Taken {
  return takenBy([one, other], most);
}

const copy: Fill = (into, columns, of, places) => {
  const a = columns[of[0]!] as readonly number[];
  const inA = places[0]!;
  for (let index = 0; index < into.length; index++) into[index] = a[inA[index]!]!;
};

const absolute: Fill = (into, columns, of, places) => {
  const a = columns[of[0]!] as readonly number[];
  const inA = places[0]!;
  for (let index = 0; index < into.length; index++) into[index] = Math.abs(a[inA[index]!]!);
};

const times: Fill = (into, columns, of, places) => {
  const a = columns[of[0]!] as readonly number[];
  const b = columns[of[1]!] as readonly number[];
  const inA = places[0]!;
  const inB = places[1]!;
  for (let index = 0; index < into.length; index++) into[index] = orUnknown(a[inA[index]!]! * b[inB[index]!]!);
};

const by: Fill = (into, columns, of, places) => {
  const a = columns[of[0]!] as readonly number[];
  const b = columns[of[1]!] as readonly number[];
  const inA = places[0]!;
  const inB = places[1]!;
  for (let index = 0; index < into.length; index++) into[index] = orUnknown(a[inA[index]!]! / b[inB[index]!]!);
};

const minus: Fill = (into, columns, of, places) => {
  const a = columns[of[0]!] as readonly number[];
  const b = columns[of[1]!] as readonly number[];
  const inA = places[0]!;
  const inB = places[1]!;
  for (let index = 0; index < into.length; index++) into[index] = orUnknown(a[inA[index]!]! - b[inB[index]!]!);
};

const beyond: Fill = (into, columns, of, places) => {
  const a = columns[of[0]!] as readonly number[];
  const b = columns[of[1]!] as readonly number[];
  const inA = places[0]!;
  const inB = places[1]!;
  for (let index = 0; index < into.length; index++) into[index] = orUnknown(a[inA[index]!]! / b[inB[index]!]! - 1);
};

const most: Fill = (into, columns, of, places) => {
  const a = columns[of[0]!] as readonly number[];
  const b = columns[of[1]!] as readonly number[];
  const inA = places[0]!;
  const inB = places[1]!;
  for (let index = 0; index < into.length; index++) into[index] = Math.max(a[inA[index]!]!, b[inB[index]!]!);
};
