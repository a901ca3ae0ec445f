// Square wave and overmodulation, from an open course on power electronics (University of Siegen, lecture 6).

import { clippedFundamental, squareWaveFundamental } from '../../engine/physics/spectrum.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

const source = 'Power Electronics course, University of Siegen, lecture 6 (github.com/IAS-Uni-Siegen/PE_course)';

/** Fundamental of a sine cut off at ±1, by equal steps over one turn. */
function integrated(index: number): number {
  const steps = 200_000;
  let sum = 0;
  for (let step = 0; step < steps; step++) {
    const sine = Math.sin((2 * Math.PI * (step + 0.5)) / steps);
    sum += Math.max(-1, Math.min(1, index * sine)) * sine;
  }
  return (2 * sum) / steps;
}

const gain = (index: number, expected: number): ReferenceCase[] => [
  {
    name: `fundamental at M = ${index}`,
    source,
    evidence: 'inputs seen in source, result recomputed independently',
    actual: () => clippedFundamental(index),
    expected,
    tolerance: 1e-4,
  },
  {
    name: `fundamental at M = ${index}, integrated`,
    source: 'numeric integral of the clipped sine',
    evidence: 'recomputed independently',
    actual: () => clippedFundamental(index),
    expected: integrated(index),
    tolerance: 1e-7,
  },
];

referenceTests('overmodulation', [
  ...gain(1, 1),
  ...gain(1.5, 1.171347),
  ...gain(2, 1.217996),
  {
    name: 'square wave: 4/π of its height',
    source,
    evidence: 'seen in source',
    actual: () => squareWaveFundamental,
    expected: 1.2732395447351628,
    tolerance: 1e-9,
  },
  {
    name: 'a sine clipped beyond all bounds is a square wave',
    source,
    evidence: 'seen in source',
    actual: () => clippedFundamental(1e6),
    expected: 1.2732395447351628,
    tolerance: 1e-9,
  },
]);
