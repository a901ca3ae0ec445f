// Resonances of a filter against a frequency sweep in the circuit simulator ngspice.

import { describe, expect, test } from 'vitest';
import { lowerResonance, resonanceFrequency } from '../../engine/physics/filter.ts';
import { runNgspiceVectors } from '../kit/ngspice.ts';
import { comparedWith } from '../kit/reference.ts';

type Filter = { readonly l1: number; readonly l2: number; readonly c: number };

/** Frequency (Hz) at which the magnitude of the capacitor's voltage is greatest, to a tenth of a hertz. */
function peakFrequency(netlist: string): number {
  const swept = runNgspiceVectors(netlist, ['mag(v(bank))']);
  const [scale, size] = [swept.get('scale')!, swept.get('mag(v(bank))')!];
  let best = 0;
  for (let i = 1; i < size.length; i++) if (size[i]! > size[best]!) best = i;
  expect(best, 'the peak lies inside the sweep').toBeGreaterThan(0);
  expect(best, 'the peak lies inside the sweep').toBeLessThan(size.length - 1);
  return scale[best]!;
}

// A little resistance keeps the peak finite; at a quality of several hundred it moves it by parts in a million.
const circuit = ({ l1, l2, c }: Filter, driven: 'converter' | 'network', from: number, to: number): string => `filter
V1 grid 0 DC 0 AC ${driven === 'network' ? 1 : 0}
R2 grid a 1e-4
L2 a bank ${l2}
C1 bank 0 ${c}
L1 bank b ${l1}
R1 b terminal 1e-4
${driven === 'network' ? 'Rblocked terminal 0 1e9' : 'V2 terminal 0 DC 0 AC 1'}
.control
ac lin ${(to - from) * 10 + 1} ${from} ${to}
.endc
.end`;

const filters: readonly (readonly [string, Filter])[] = [
  ['100 µH, 49 µH, 300 µF', { l1: 100e-6, l2: 49e-6, c: 300e-6 }],
  ['160 µH, 70 µH, 200 µF', { l1: 160e-6, l2: 70e-6, c: 200e-6 }],
  ['101.859 µH, 50.930 µH, 497.359 µF', { l1: 101.859e-6, l2: 50.93e-6, c: 497.359e-6 }],
];

const near = comparedWith({
  quantity: 'resonance of the filter, modulating and blocked',
  source: 'ngspice, AC sweep in steps of 0.1 Hz',
  evidence: 'outside program',
});

describe.each(filters)('%s', (_, filter) => {
  test('the converter sees the resonance of both inductances with the capacitor', () => {
    const measured = peakFrequency(circuit(filter, 'converter', 600, 3000));
    near(resonanceFrequency(filter.l1, filter.l2, filter.c)!, measured, 1e-3);
  });

  test('the network sees the lower resonance when the converter is blocked', () => {
    const measured = peakFrequency(circuit(filter, 'network', 400, 2500));
    near(lowerResonance(filter.l2, filter.c)!, measured, 1e-3);
  });
});
