// The first-order law of heating is that of a capacitor: Bird's example of a discharge, and the rule of time constants.

import { approach, coolingTime, lastsFor } from '../../engine/physics/thermal.ts';
import { referenceTests } from '../kit/reference.ts';

// Seen as a worked solution in a mirror of the Scilab Textbook Companion; the book itself was not opened.
const bird = {
  source: 'Bird, Electrical Circuit Theory and Technology, Prob. 17.5: 100 V, time constant 0.8 s',
  evidence: 'inputs seen in source, result recomputed independently',
  tolerance: 1e-4,
} as const;
const rule = { source: 'τ·ln(1/(1 − share))', evidence: 'recomputed independently', tolerance: 1e-6 } as const;
const reaches = (limit: number) => lastsFor(1, { preload: 'cold', timeConstant: 1, limit });

referenceTests('first order', [
  {
    name: 'time from 100 to 20',
    ...bird,
    actual: () => coolingTime(100, 20, 0, { timeConstant: 0.8 }),
    expected: 1.28755,
  },
  { name: 'left of 100 after 1 s', ...bird, actual: () => approach(100, 0, 1, 0.8), expected: 28.65 },
  { name: 'time constants to 95 %', ...rule, actual: () => reaches(0.95), expected: 2.99573 },
  { name: 'time constants to 99 %', ...rule, actual: () => reaches(0.99), expected: 4.60517 },
]);
