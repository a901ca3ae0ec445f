// Random numbers spread evenly over a range, which fast-check's own doubles (mostly minute ones) aren't.

import fc from 'fast-check';

const steps = 1_000_000;

export const evenly = (low: number, high: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: steps }).map(step => low + ((high - low) * step) / steps);
