// The first-order law of heating is that of a capacitor: Bird's example of a discharge, and the rule of time constants.

import { approach } from '../../engine/physics/thermal.ts';
import { referenceTests } from '../kit/reference.ts';

// Seen as a worked solution in a mirror of the Scilab Textbook Companion (github.com/Lavitha/Scilab_TBC); the book itself was
// not opened.
const bird = {
  source: 'Bird, Electrical Circuit Theory and Technology, Prob. 17.5: 100 V, time constant 0.8 s',
  evidence: 'inputs seen in source, result recomputed independently',
  tolerance: 1e-4,
} as const;
const rule = { source: 'τ·ln(1/(1 − share))', evidence: 'recomputed independently', tolerance: 1e-6 } as const;

referenceTests('first order', [
  {
    name: 'left of 100 after the time to 20, 1.28755 s',
    ...bird,
    actual: () => approach(100, 0, 1.28755, 0.8),
    expected: 20,
  },
  { name: 'left of 100 after 1 s', ...bird, actual: () => approach(100, 0, 1, 0.8), expected: 28.65 },
  { name: 'after 2.99573 time constants', ...rule, actual: () => approach(0, 1, 2.99573, 1), expected: 0.95 },
  { name: 'after 4.60517 time constants', ...rule, actual: () => approach(0, 1, 4.60517, 1), expected: 0.99 },
]);
