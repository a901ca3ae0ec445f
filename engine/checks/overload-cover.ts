// Whether a converter's stated overload, or its duty class, covers a duty that asks for more than the rated current.
import { type Component, factIn } from '../model/plant.ts';
import { type CycleJudgement, type Excess, judgeByClass, judgeByOverload } from '../physics/overload.ts';
import { customaryTimeConstants, type LoadStep } from '../physics/thermal.ts';
import type { DutyClass } from '../tables/duty-classes.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import type { CheckContext, Spot } from './context.ts';

/** A pause after a duty that comes once: long enough for everything in a converter to cool, s. */
const longPause = 86_400;

/**
 * What is too much in the duty's cycle, the converter idle in between: nothing where the overload covers it; undefined
 * where none is stated or the duty lasts for good, so that only the lasting rating counts.
 */
export function overloadExcesses(
  context: CheckContext,
  converter: Component,
  spot: Spot,
): readonly Excess[] | undefined {
  const judged = judgement(context, converter, spot);
  return judged?.ok === true ? judged.excesses : undefined;
}

function judgement(context: CheckContext, converter: Component, spot: Spot): CycleJudgement | undefined {
  const { duty, caseIndex } = spot;
  if (duty === undefined) return undefined;
  const duration = context.number(duty, 'duration', 'nominal', caseIndex);
  if (!(duration > 0)) return undefined;
  const repeat = context.number(duty, 'repeat', 'nominal', caseIndex);
  const steps: readonly LoadStep[] = [
    { ratio: spot.value, duration },
    { ratio: 0, duration: repeat > 0 ? Math.max(0, repeat - duration) : longPause },
  ];
  const plantCase = context.cases[caseIndex]!;
  const stated = factIn(plantCase, converter, 'overload')?.value;
  if (stated?.type === 'number') {
    const { for: lasts, every } = stated.clauses;
    if (lasts !== undefined && every !== undefined) {
      return judgeByOverload(steps, { ratio: stated.nominal, duration: lasts, period: every, base: 1 });
    }
  }
  const dutyClass = factIn(plantCase, converter, 'overload_class')?.value;
  if (dutyClass?.type !== 'word') return undefined;
  const own = context.number(converter, 'time_constant', 'nominal', caseIndex);
  const { from, to } = customaryTimeConstants.heatSink;
  return judgeByClass(steps, dutyClass.word as DutyClass, Number.isNaN(own) ? [from, to] : [own]);
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
