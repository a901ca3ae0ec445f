// Limits of linear modulation of a two-level converter, as the textbook by Mohan, Undeland and Robbins gives them.

import { type Modulation, voltageFactor } from '../../engine/physics/modulation.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

const source = 'Mohan, Undeland, Robbins, Power Electronics, ch. 8';
// Direct voltage (V) that the line-to-line rms voltage (V) in the first column needs.
const needed: readonly (readonly [ac: number, sine: number, injected: number])[] = [
  [400, 653.197, 565.685],
  [440, 718.517, 622.254],
  [480, 783.837, 678.823],
  [690, 1126.765, 975.807],
];

const row = (ac: number, modulation: Modulation, dc: number): ReferenceCase[] => [
  {
    name: `${modulation}: direct voltage for ${ac} V`,
    source,
    evidence: 'from memory',
    actual: () => ac / voltageFactor[modulation],
    expected: dc,
    tolerance: 0.0005,
    absolute: true,
  },
  {
    name: `${modulation}: alternating voltage from ${dc} V`,
    source,
    evidence: 'from memory',
    actual: () => dc * voltageFactor[modulation],
    expected: ac,
    tolerance: 1e-6,
  },
];

referenceTests('linear modulation', [
  ...needed.flatMap(([ac, sine, injected]) => [
    ...row(ac, 'sine', sine),
    ...row(ac, 'third_harmonic', injected),
    ...row(ac, 'space_vector', injected),
  ]),
  // The fundamental measured by a Fourier transform of the switched waveform, mf 39, 2^20 points.
  {
    name: 'sine, transform of the switched waveform',
    source,
    evidence: 'recomputed independently',
    actual: () => voltageFactor.sine,
    expected: 0.61239,
    tolerance: 1e-4,
  },
  {
    name: 'sixth of a third harmonic, transform of the switched waveform',
    source,
    evidence: 'recomputed independently',
    actual: () => voltageFactor.third_harmonic,
    expected: 0.70709,
    tolerance: 1e-4,
  },
  {
    name: 'min-max injection, transform of the switched waveform',
    source,
    evidence: 'recomputed independently',
    actual: () => voltageFactor.space_vector,
    expected: 0.70706,
    tolerance: 1e-4,
  },
]);
