// Overload convention of drives ("110 % or 150 % for 60 s every 600 s"): base load that keeps the rms at rated.

import { expect, test } from 'vitest';
import { judgeByOverload } from '../../engine/physics/overload.ts';
import { steadyCycle } from '../../engine/physics/thermal.ts';
import { referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

const convention = {
  source: 'overload convention in the style of IEC 61800-2, from memory; rms worked out apart',
  evidence: 'inputs from memory, result recomputed independently',
  tolerance: 1e-6,
} as const;
/** Peak of the rise where the element is so slow that only the mean of the heat counts. */
const peak = (overload: number, base: number) => {
  const steps = [
    { ratio: overload, duration: 60 },
    { ratio: base, duration: 540 },
  ];
  return solved(steadyCycle(steps, { timeConstant: 1e9 })).peak;
};

referenceTests('rise beside an overload, slow element', [
  { name: 'light: 1.1, base 0.988264', ...convention, actual: () => peak(1.1, 0.988264), expected: 1 },
  { name: 'heavy: 1.5, base 0.927961', ...convention, actual: () => peak(1.5, 0.927961), expected: 1 },
]);

test.each([
  [1.1, 0.988264],
  [1.5, 0.927961],
])('%f times rated for 60 s every 600 s: covered with a base of %f, not with 0.1 %% more', (ratio, base) => {
  const stated = { ratio, duration: 60, period: 600 };
  const cycle = (factor: number) => [
    { ratio, duration: 60 },
    { ratio: base * factor, duration: 540 },
  ];
  expect(judgeByOverload(cycle(0.999999), stated)).toMatchObject({ covered: true });
  expect(judgeByOverload(cycle(1.001), stated)).toMatchObject({ covered: false });
});
