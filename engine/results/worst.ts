// The worst of a value over all that it varies with.
import type { Component } from '../model/plant.ts';
import { type At, pointsOf, type Result } from './definition.ts';
import { extremeOf, type Strip } from './strip.ts';

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
  const points = pointsOf(result);
  let worst: Worst | undefined;
  for (const duty of duties) {
    const { value, caseIndex, point } = extremeOf(stripOf(duty), result, end);
    if (Number.isNaN(value)) continue;
    const better = worst === undefined || (end === 'highest' ? value > worst.value : value < worst.value);
    const tie = worst !== undefined && value === worst.value && caseIndex < worst.caseIndex;
    if (better || tie) worst = { value, caseIndex, duty, at: points[point]! };
  }
  return worst;
}
