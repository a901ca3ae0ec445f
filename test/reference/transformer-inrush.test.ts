// Inrush of transformers: the rules of thumb, and a network that lowers it.

import { customaryPeak, inrush } from '../../engine/physics/inrush.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

const custom = (name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  name,
  source: '8 to 12 times rated',
  evidence: 'common practice, no source',
  actual,
  expected,
  tolerance: 1e-9,
});

referenceTests('rules of thumb', [
  custom('least', () => customaryPeak.from, 8),
  custom('greatest', () => customaryPeak.to, 12),
]);

// By hand: 1 MVA at 20 kV, 10 × 28.8675 A × √2 = 408.248 A; network 8 Ω (50 MVA), core 40 Ω: 408.248 · 40/48.
referenceTests('by hand', [
  {
    name: 'peak behind a stiff network, A',
    source: 'I = S/(√3·U)',
    evidence: 'recomputed independently',
    actual: () => solved(inrush({ ratedPower: 1e6, voltage: 20e3 })).peak,
    expected: 408.24829,
    tolerance: 1e-8,
  },
  {
    name: 'peak behind 50 MVA, A',
    source: 'two reactances in series',
    evidence: 'recomputed independently',
    actual: () => solved(inrush({ ratedPower: 1e6, voltage: 20e3, network: { resistance: 0, reactance: 8 } })).peak,
    expected: 340.206909,
    tolerance: 1e-8,
  },
]);
