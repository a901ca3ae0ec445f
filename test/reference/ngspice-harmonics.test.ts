// Harmonics through a filter and a transformer's impedance against an AC analysis in the circuit simulator ngspice.

import { describe, test } from 'vitest';
import { capacitorElement, chokeElement } from '../../engine/physics/filter.ts';
import {
  backgroundAmplification,
  carryHarmonics,
  type HarmonicCircuit,
  inductiveNetwork,
} from '../../engine/physics/harmonics.ts';
import { runNgspiceVectors } from '../kit/ngspice.ts';
import { comparedWith } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

const parts = {
  l1: 110e-6,
  r1: 2e-3,
  c: 280e-6,
  damping: 0.04,
  l2: 35e-6,
  r2: 1e-3,
  networkL: 25e-6,
  networkR: 1.5e-3,
};

const plant: HarmonicCircuit = {
  elementsAt: frequency => [
    chokeElement(frequency, parts.l2, parts.r2),
    capacitorElement(frequency, parts.c, parts.damping)!,
    chokeElement(frequency, parts.l1, parts.r1),
  ],
  networkAt: inductiveNetwork({ resistance: parts.networkR, reactance: 2 * Math.PI * 50 * parts.networkL }, 50),
};

/** One phase; the sources' magnitudes are phase voltages. */
const circuit = (converter: string, network: number): string => `one phase of the filter
Vnet source 0 DC 0 AC ${network}
Rnet source n1 ${parts.networkR}
Lnet n1 connection ${parts.networkL}
R2 connection n2 ${parts.r2}
L2 n2 middle ${parts.l2}
Rd middle n3 ${parts.damping}
C1 n3 0 ${parts.c}
L1 middle n4 ${parts.l1}
R1 n4 terminal ${parts.r1}
${converter}
.control
ac lin 160 50 8000
.endc
.end`;

const frequencies = [250, 350, 950, 1450, 1900, 3950, 4050, 8000];
const at = (samples: Float64Array, frequency: number): number => samples[Math.round(frequency / 50) - 1]!;

const near = comparedWith({
  quantity: 'harmonic currents and voltages through the filter, background harmonics',
  source: 'ngspice, AC analysis',
  evidence: 'outside program',
});

describe('against ngspice', () => {
  test('currents and voltages that the converter causes', () => {
    const swept = runNgspiceVectors(circuit('Vconv terminal 0 DC 0 AC 1', 0), [
      'mag(i(Vconv))',
      'mag(i(Vnet))',
      'mag(v(connection))',
      'real(i(Vconv))',
    ]);
    const harmonics = frequencies.map(frequency => ({ frequency, voltage: Math.sqrt(3) }));
    for (const line of solved(carryHarmonics(harmonics, plant)).lines) {
      const measured = (name: string): number => at(swept.get(name)!, line.frequency);
      near(line.converterCurrent, measured('mag(i(Vconv))'), 1e-6);
      near(line.connectionCurrent, measured('mag(i(Vnet))'), 1e-6);
      near(line.connectionVoltage, Math.sqrt(3) * measured('mag(v(connection))'), 1e-6);
      // The simulator counts a source's current inwards.
      near(-line.converterPhasor.re, measured('real(i(Vconv))'), 1e-5);
    }
  });

  test('what becomes of the network’s own harmonics before a blocked converter', () => {
    const swept = runNgspiceVectors(circuit('Rblocked terminal 0 1e12', 1), [
      'mag(v(connection))',
      'mag(v(terminal))',
      'mag(i(Vnet))',
    ]);
    for (const frequency of frequencies) {
      const found = backgroundAmplification(plant, frequency, 'no_current')!;
      near(found.connection, at(swept.get('mag(v(connection))')!, frequency), 1e-6);
      near(found.terminal, at(swept.get('mag(v(terminal))')!, frequency), 1e-6);
      const current = at(swept.get('mag(i(Vnet))')!, frequency) / Math.sqrt(3);
      near(found.currentPerVolt, current, 1e-6);
    }
  });

  test('what becomes of them before a converter that forms a plain sine', () => {
    const swept = runNgspiceVectors(circuit('Vconv terminal 0 DC 0 AC 0', 1), ['mag(v(connection))', 'mag(i(Vnet))']);
    for (const frequency of frequencies) {
      const found = backgroundAmplification(plant, frequency, 'no_voltage')!;
      near(found.connection, at(swept.get('mag(v(connection))')!, frequency), 1e-6);
      const current = at(swept.get('mag(i(Vnet))')!, frequency) / Math.sqrt(3);
      near(found.currentPerVolt, current, 1e-6);
    }
  });
});
