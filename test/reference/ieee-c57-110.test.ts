// Harmonic loss factors: IEEE C57.110, its customary example spectrum, and the ideal six-pulse bridge.

import { distortion } from '../../engine/physics/distortion.ts';
import { harmonicLossFactor, permissibleCurrent } from '../../engine/physics/harmonic-loss.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

// Amounts as ratios of the rated current.
const example = [
  { order: 1, amount: 0.978 },
  { order: 5, amount: 0.171 },
  { order: 7, amount: 0.108 },
  { order: 11, amount: 0.044 },
  { order: 13, amount: 0.028 },
  { order: 17, amount: 0.015 },
  { order: 19, amount: 0.0098 },
];

const fromMemory = (name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  name,
  source: 'spectrum used in examples of IEEE C57.110',
  evidence: 'inputs from memory, result recomputed independently',
  actual,
  expected,
  tolerance: 1e-4,
});

referenceTests('the example spectrum', [
  fromMemory('sum of squares', () => example.reduce((sum, { amount }) => sum + amount ** 2, 0), 1.00043),
  fromMemory('winding eddy loss factor', () => harmonicLossFactor(example), 2.7243),
  fromMemory(
    'permissible current at 15 % eddy loss',
    () => permissibleCurrent({ eddy: 0.15 }, { eddy: harmonicLossFactor(example)! }),
    0.90354,
  ),
]);

/** Currents 1/h at orders 6k ± 1. */
const sixPulse = (highest: number) =>
  Array.from({ length: highest }, (_, index) => index + 1)
    .filter(order => order % 6 === 1 || order % 6 === 5)
    .map(order => ({ order, amount: 1 / order }));

const bridge = (name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  name,
  source: 'ideal six-pulse currents 1/h, by hand',
  evidence: 'recomputed independently',
  actual,
  expected,
  tolerance: 1e-4,
});

// The plain square law, as the standard has it.
const square = Number.POSITIVE_INFINITY;
referenceTests('ideal six-pulse bridge', [
  bridge('loss factor to order 25', () => harmonicLossFactor(sixPulse(25), square), 8.3002),
  bridge('loss factor to order 49', () => harmonicLossFactor(sixPulse(49), square), 15.595),
  bridge('distortion to order 25', () => distortion(sixPulse(25), 1)?.total, 0.29036),
  bridge('distortion to order 49', () => distortion(sixPulse(49), 1)?.total, 0.30015),
  bridge('to order 25 the usual knee changes nothing', () => harmonicLossFactor(sixPulse(25)), 8.3002),
]);
