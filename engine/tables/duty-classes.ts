// Overload classes of converters: what may be carried on top of the rated current, and how long.

import type { Citation } from './evidence.ts';

export const dutyClassSource: Citation = { source: 'IEC 60146-1-1, duty classes', evidence: 'from memory' };

export type DutyClass = 'I' | 'II' | 'III' | 'IV' | 'V' | 'VI';

/** Overload as a ratio of rated current, with the time (s) for which it may be carried. */
export type Overload = { readonly ratio: number; readonly duration: number };

export const dutyClasses: Readonly<Record<DutyClass, readonly Overload[]>> = {
  I: [],
  II: [{ ratio: 1.5, duration: 60 }],
  III: [
    { ratio: 1.5, duration: 120 },
    { ratio: 2, duration: 10 },
  ],
  IV: [
    { ratio: 1.25, duration: 7200 },
    { ratio: 2, duration: 10 },
  ],
  V: [
    { ratio: 1.5, duration: 7200 },
    { ratio: 2, duration: 60 },
  ],
  VI: [
    { ratio: 1.5, duration: 7200 },
    { ratio: 3, duration: 60 },
  ],
};
