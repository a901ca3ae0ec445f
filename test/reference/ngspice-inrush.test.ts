// The rush of a transformer behind a choke against the circuit simulator ngspice, with a core that saturates.
//
// One phase, switched on where its voltage passes zero. Our model knows the stiff peak alone and calls it a reactance; the
// simulator's core has flux, remanence and a slope beyond its knee, and its own reactance is (2 + remanence − knee) times
// ours, both as shares of the rated flux. Behind ever more choke our peak is off by that factor, which bounds the tolerance.

import { describe, test } from 'vitest';
import { inrush } from '../../engine/physics/inrush.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { comparedWith } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

const omega = 2 * Math.PI * 50;
const voltage = 360;
const amplitude = voltage * Math.sqrt(2 / 3);
/** Volt seconds of one phase at rated voltage. */
const ratedFlux = amplitude / omega;
const ratedPower = 500e3;
const ratedPeak = (Math.SQRT2 * ratedPower) / Math.sqrt(3) / voltage;

interface Core {
  /** Of the rated flux. */
  readonly knee: number;
  readonly remanence: number;
  /** Beyond the knee, H. */
  readonly inductance: number;
}

/** First peak behind an inductance (H), A. */
function simulatedPeak({ knee, remanence, inductance }: Core, choke: number): number {
  const values = runNgspice(`a core that saturates
Vsource source 0 SIN(0 ${amplitude} 50)
Lchoke source core ${choke}
Rcore core 0 1e4
Gflux 0 flux core 0 1
Cflux flux 0 1 IC=${remanence * ratedFlux}
Rflux flux 0 1e9
Bcore core 0 I = max(0, V(flux) - ${knee * ratedFlux}) / ${inductance}
.options method=gear reltol=1e-4
.control
tran 2u 20m 0 2u uic
meas tran peak MAX i(Lchoke)
.endc
.end`);
  return values.get('peak')!;
}

describe.each<readonly [words: string, core: Core]>([
  ['without remanence', { knee: 1.2, remanence: 0, inductance: 60e-6 }],
  ['with remanence', { knee: 1.2, remanence: 0.7, inductance: 120e-6 }],
])('a core %s', (words, core) => {
  const tolerance = Math.abs(1 / (2 + core.remanence - core.knee) - 1);
  const near = comparedWith({
    quantity: `inrush behind a choke, core ${words}`,
    source: 'ngspice, transient analysis of a saturating core',
    evidence: 'outside program',
  });

  test.each([20e-6, 50e-6, 100e-6])('behind %d H', choke => {
    const multiple = simulatedPeak(core, 1e-9) / ratedPeak;
    const network = { resistance: 0, reactance: omega * choke };
    const { peak } = solved(inrush({ ratedPower, voltage, multiple, network }));
    near(peak, simulatedPeak(core, choke), tolerance);
  });
});
