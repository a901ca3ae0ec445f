// Swing of a DC link's voltage against the circuit simulator ngspice, which compares references with a carrier in time.

import { describe, expect, test } from 'vitest';
import { linkVoltageRipple } from '../../engine/physics/dc-link.ts';
import type { Modulation } from '../../engine/physics/modulation.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { comparedWith } from '../kit/reference.ts';

const frequency = 50;
const switchingFrequency = 24e3;
const capacitance = 1e-3;
const current = 500;

const commons: Readonly<Record<Modulation, (index: number) => string>> = {
  sine: () => '0',
  third_harmonic: index => `${-index / 6}*cos(3*6.283185307179586*${frequency}*time)`,
  space_vector: () => '-(max(max(v(a),v(b)),v(c))+min(min(v(a),v(b)),v(c)))/2',
};

/**
 * The mean comes from outside, all the rest from the capacitor; the resistor takes the drift that switching at whole
 * steps of time would add up to, and of the ripple next to nothing.
 */
function circuit(index: number, cosPhi: number, modulation: Modulation): string {
  const turn = `6.283185307179586*${frequency}*time`;
  const legs = [0, 1, 2].map(leg => {
    const name = 'abc'[leg]!;
    const shift = (leg * 2 * Math.PI) / 3;
    const line = `${Math.SQRT2 * current}*cos(${turn}-${shift + Math.acos(cosPhi)})`;
    return `B${name} ${name} 0 V=${index}*cos(${turn}-${shift})
Bi${name} link 0 I=u(v(${name})+v(common)-v(carrier))*${line}`;
  });
  const period = 1 / switchingFrequency;
  const mean = 0.75 * index * Math.SQRT2 * current * cosPhi;
  return `switched link
${legs.join('\n')}
Bcommon common 0 V=${commons[modulation](index)}
Vcarrier carrier 0 PULSE(-1 1 0 ${period / 2} ${period / 2} 1e-15 ${period})
C1 link 0 ${capacitance} IC=0
R1 link 0 0.3
Ifeed 0 link ${mean}
.control
tran 20n ${1 / frequency / 6} 0 20n uic
meas tran swing pp v(link)
.endc
.end`;
}

const near = comparedWith({
  quantity: 'swing of the DC link’s voltage within a switching period',
  source: 'ngspice, switched in time',
  evidence: 'outside program',
});

describe('against ngspice', () => {
  test.each([
    ['space_vector', 0.9, 0.95],
    ['space_vector', 1.1, 1],
    ['space_vector', 0.4, 0.5],
    ['sine', 0.9, 0.95],
    ['third_harmonic', 0.7, 0.1],
  ] as const)('%s, M = %d, cos φ = %d', (modulation, index, cosPhi) => {
    const ours = linkVoltageRipple({
      current,
      modulationIndex: index,
      cosPhi,
      modulation,
      switchingFrequency,
      capacitance,
    });
    const simulated = runNgspice(circuit(index, cosPhi, modulation)).get('swing');
    expect(simulated).toBeGreaterThan(1);
    near(ours!, simulated!, 0.01);
  });
});
