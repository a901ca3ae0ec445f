// The worst of a value over all that it varies with.
import type { Component } from '../model/plant.ts';
import { type At, pointsOf, type Result } from './definition.ts';
import { type Extreme, extremeOf, type Strip } from './strip.ts';

/** The worst number of a value over all cases, duties and points, and where it is. */
export interface Worst {
  readonly value: number;
  readonly caseIndex: number;
  readonly duty: Component | undefined;
  readonly at: At;
}

/** In place of the duties, for what varies with none. */
export const withoutDuty: readonly undefined[] = [undefined];

/** `stripOf`: the value in all cases under one duty. */
export function worstOf(
  duties: readonly (Component | undefined)[],
  stripOf: (duty: Component | undefined) => Strip,
  result: Result,
  end: Result['worst'],
): Worst | undefined {
  let worst: Extreme | undefined;
  let under: Component | undefined;
  for (const duty of duties) {
    const extreme = extremeOf(stripOf(duty), result, end);
    if (Number.isNaN(extreme.value)) continue;
    if (worst !== undefined && !isWorse(extreme, worst, end)) continue;
    worst = extreme;
    under = duty;
  }
  if (worst === undefined) return undefined;
  const { value, caseIndex, point } = worst;
  return { value, caseIndex, duty: under, at: pointsOf(result)[point]! };
}

function isWorse(one: Extreme, other: Extreme, end: Result['worst']): boolean {
  if (one.value === other.value) return one.caseIndex < other.caseIndex;
  return end === 'highest' ? one.value > other.value : one.value < other.value;
}
