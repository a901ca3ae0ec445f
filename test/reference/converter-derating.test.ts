// Derating and duty of converters: common practice, and the duty classes of IEC 60146-1-1 from memory.

import { expect, test } from 'vitest';
import { type DutyClass, dutyClasses } from '../../engine/tables/duty-classes.ts';
import { sound } from '../kit/checks.ts';
import { worst } from '../kit/plants.ts';
import { referenceTests } from '../kit/reference.ts';

const altitude = {
  source: '1 % for each 100 m above 1000 m',
  evidence: 'common practice, no source',
  tolerance: 1e-9,
} as const;
/** What is left of the converter's current in a plant that states no derating. */
const keptAt = (metres: number) => (): number =>
  worst(sound(['altitude = 900 m', `altitude = ${metres} m`]), 'K1.rated_current').value / 850;

referenceTests('derating', [
  { name: '1000 m', ...altitude, actual: keptAt(1000), expected: 1 },
  { name: '1500 m', ...altitude, actual: keptAt(1500), expected: 0.95 },
  { name: '2000 m', ...altitude, actual: keptAt(2000), expected: 0.9 },
]);

// IEC 60146-1-1, from memory: ratio of rated current for a time in seconds.
const classes: readonly (readonly [DutyClass, string])[] = [
  ['I', ''],
  ['II', '1.5 for 60'],
  ['III', '1.5 for 120, 2 for 10'],
  ['IV', '1.25 for 7200, 2 for 10'],
  ['V', '1.5 for 7200, 2 for 60'],
  ['VI', '1.5 for 7200, 3 for 60'],
];

test.each(classes)('duty class %s (IEC 60146-1-1, from memory)', (name, overloads) => {
  expect(dutyClasses[name].map(({ ratio, duration }) => `${ratio} for ${duration}`).join(', ')).toBe(overloads);
});
