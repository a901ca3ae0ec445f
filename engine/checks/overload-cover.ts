// Whether a converter's stated overload, or its duty class, covers a duty that asks for more than the rated current.
import type { Component } from '../model/plant.ts';
import type { Excess } from '../physics/overload.ts';
import { judgeOverload } from '../results/overload.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import type { CheckContext, Spot } from './context.ts';

/**
 * What is too much in the duty's cycle, the converter idle in between: nothing where the overload covers it; undefined
 * where none is stated or the duty lasts for good, so that only the lasting rating counts.
 */
export function overloadExcesses(
  context: CheckContext,
  converter: Component,
  spot: Spot,
): readonly Excess[] | undefined {
  const { duty, caseIndex } = spot;
  if (duty === undefined) return undefined;
  const judged = judgeOverload(context.read(converter, caseIndex, duty), duty, spot.value);
  return judged?.ok === true ? judged.excesses : undefined;
}

/** What is too much, in words. */
export function excessText(excess: Excess): string {
  const ratio = (value: number): string => show(value, dimensions.ratio);
  const time = (value: number): string => show(value, dimensions.time);
  switch (excess.excess) {
    case 'ratio':
      return `${ratio(excess.ratio)} is more than the ${ratio(excess.allowed)} that it may carry at all`;
    case 'duration':
      return `more than ${ratio(excess.above)} lasts ${time(excess.duration)}, and ${time(excess.allowed)} is allowed`;
    case 'rms':
      return `over ${time(excess.window)} the rms is ${ratio(excess.rms)}, and ${ratio(excess.allowed)} is allowed`;
    case 'rise':
      return `its heat sink would begin at ${ratio(excess.rise)} of the rise at rated current, with a time constant of ${time(excess.timeConstant)}, and the class begins at no more than ${ratio(excess.allowed)}`;
  }
}
