// What a converter's stated overload, or its duty class, permits beyond its rated current for as long as a duty lasts.
import type { Component } from '../model/plant.ts';
import { type CycleJudgement, judgeByClass, judgeByOverload } from '../physics/overload.ts';
import { customaryTimeConstants, type LoadStep } from '../physics/thermal.ts';
import { type DutyClass, dutyClasses } from '../tables/duty-classes.ts';
import type { Read } from './read.ts';

/** A pause after a duty that comes once, s: a day, long against every time constant in a converter. */
const longPause = 86_400;

/**
 * The duty's cycle at a load (ratio of the rated current), the converter idle in between. Undefined where no overload is
 * stated or the duty lasts for good, so that only the lasting rating counts.
 */
export function judgeOverload(read: Read, duty: Component, ratio: number): CycleJudgement | undefined {
  const duration = read.number(duty, 'duration');
  if (!(duration > 0)) return undefined;
  const repeat = read.number(duty, 'repeat');
  const steps: readonly LoadStep[] = [
    { ratio, duration },
    { ratio: 0, duration: repeat > 0 ? Math.max(0, repeat - duration) : longPause },
  ];
  const stated = read.numberFact(read.self, 'overload');
  const { for: lasts, every } = stated?.clauses ?? {};
  if (stated !== undefined && lasts !== undefined && every !== undefined)
    return judgeByOverload(steps, { ratio: stated.nominal, duration: lasts, period: every, base: 1 });
  const dutyClass = dutyClassOf(read);
  if (dutyClass === undefined) return undefined;
  const own = read.number(read.self, 'time_constant');
  const { from, to } = customaryTimeConstants.heatSink;
  return judgeByClass(steps, dutyClass, Number.isNaN(own) ? [from, to] : [own]);
}

/** Greatest load (ratio of the rated current) that the overload covers throughout the duty; 1 where there is none. */
export function overloadRatio(read: Read, duty: Component): number {
  const covers = (ratio: number): boolean => {
    const judged = judgeOverload(read, duty, ratio);
    return judged?.ok === true && judged.excesses.length === 0;
  };
  const dutyClass = dutyClassOf(read);
  const ofClass = dutyClass === undefined ? 1 : Math.max(1, ...dutyClasses[dutyClass].map(step => step.ratio));
  const most = read.numberFact(read.self, 'overload')?.nominal ?? ofClass;
  if (!(most > 1) || !Number.isFinite(most)) return 1;
  if (covers(most)) return most;
  if (!covers(1 + beyondRounding)) return 1;
  let [good, bad] = [1, most];
  for (let step = 0; step < halvings; step += 1) {
    const middle = (good + bad) / 2;
    if (covers(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

/** Load (ratio of the rated current) that may be carried once for a time (s): as stated, else by the class; 1 where neither lasts. */
export function shortTimeRatio(read: Read, time: number): number {
  const stated = read.numberFact(read.self, 'overload');
  const lasts = stated?.clauses['for'];
  if (stated !== undefined && lasts !== undefined) return lasts >= time ? stated.nominal : 1;
  const dutyClass = dutyClassOf(read);
  if (dutyClass === undefined) return 1;
  return Math.max(1, ...dutyClasses[dutyClass].filter(({ duration }) => duration >= time).map(({ ratio }) => ratio));
}

/** Above the rating by more than the slack with which a cycle is judged. */
const beyondRounding = 1e-6;

/** From an overload of a few times the rating to what no plot and no decision tells apart. */
const halvings = 40;

function dutyClassOf(read: Read): DutyClass | undefined {
  const word = read.word(read.self, 'overload_class');
  return word === undefined || !(word in dutyClasses) ? undefined : (word as DutyClass);
}
