// The diode bridge into a battery against the circuit simulator ngspice: mean current, peak, rms, and its threshold.

import { describe, expect, test } from 'vitest';
import { type BridgeFilter, conductUncontrolled, type UncontrolledBridge } from '../../engine/physics/conduction.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { comparedWith } from '../kit/reference.ts';

// ngspice's diode: i = IS·(exp(v/Vt) − 1) with N = 1, and RS in series. Vt = k·T/q at its default 27 °C.
const saturation = 1e-9;
const seriesResistance = 1e-4;
const thermalVoltage = 0.0258649;

interface Run {
  readonly bridge: UncontrolledBridge;
  readonly settling: number;
}

interface Simulated {
  readonly mean: number;
  readonly peak: number;
  readonly rms: number;
}

const peak = Math.SQRT2 * 690;
const network = { lineVoltage: 690, frequency: 50, sourceInductance: 200e-6, sourceResistance: 5e-3 };

/** The drop that a diode of ngspice has at a current: the same is given to our model, and its RS to the DC side. */
function withDiodesOf(bridge: UncontrolledBridge, current: number): UncontrolledBridge {
  return {
    ...bridge,
    diodeDrop: thermalVoltage * Math.log(current / saturation + 1),
    dcResistance: bridge.dcResistance + 2 * seriesResistance,
  };
}

function phase(bridge: UncontrolledBridge, name: string, degrees: number): string {
  const amplitude = Math.sqrt(2 / 3) * bridge.lineVoltage;
  const { filter } = bridge;
  const behind = filter === undefined ? `term${name}` : `bank${name}`;
  return `
Vsrc${name} src${name} star SIN(0 ${amplitude} ${bridge.frequency} 0 0 ${degrees})
Rsrc${name} src${name} mid${name} ${bridge.sourceResistance}
Lsrc${name} mid${name} ${behind} ${bridge.sourceInductance}
${filter === undefined ? '' : filterOf(filter, name)}
Dup${name} term${name} plus DIODE
Dlow${name} minus term${name} DIODE
Rsup${name} term${name} snubup${name} 20
Csup${name} snubup${name} plus 50n
Rslow${name} minus snublow${name} 20
Cslow${name} snublow${name} term${name} 50n`;
}

function filterOf(filter: BridgeFilter, name: string): string {
  return `Cbank${name} bank${name} neutral ${filter.capacitance}
Lbank${name} bank${name} term${name} ${filter.inductance}`;
}

function simulate({ bridge, settling }: Run): Simulated {
  const inductor =
    bridge.dcInductance === undefined ? 'Rjoin plus choke 1e-6' : `Ldc plus choke ${bridge.dcInductance}`;
  const stop = settling + 0.1;
  const values = runNgspice(`bridge into a battery
${phase(bridge, 'a', 0)}
${phase(bridge, 'b', -120)}
${phase(bridge, 'c', 120)}
${bridge.filter === undefined ? '' : 'Rneutral neutral 0 1e6'}
Rstar star 0 1e6
Rplus plus 0 1e6
Rminus minus 0 1e6
${inductor}
Rdc choke sense ${bridge.dcResistance}
Vsense sense battery 0
Vbat battery minus ${bridge.dcEmf}
.model DIODE D(IS=${saturation} N=1 RS=${seriesResistance})
.options method=gear maxord=2 reltol=1e-3 abstol=1e-2 vntol=1e-2 chgtol=1e-9 itl4=200 cshunt=1e-9
.control
tran 5u ${stop} ${settling} 5u
meas tran mean AVG i(Vsense) from=${settling} to=${stop}
meas tran peak MAX i(Vsense) from=${settling} to=${stop}
meas tran rms RMS i(Vsrca) from=${settling} to=${stop}
.endc
.end`);
  return { mean: values.get('mean')!, peak: values.get('peak')!, rms: values.get('rms')! };
}

const cases: readonly (readonly [string, 'discontinuous' | 'continuous', Run])[] = [
  [
    'pulses with gaps',
    'discontinuous',
    { bridge: { ...network, dcEmf: 0.95 * peak, dcResistance: 0.01 }, settling: 0.1 },
  ],
  [
    'a current without gaps',
    'continuous',
    { bridge: { ...network, dcEmf: 0.88 * peak, dcResistance: 0.01 }, settling: 0.1 },
  ],
  [
    'a current smoothed by an inductance',
    'continuous',
    { bridge: { ...network, dcEmf: 0.88 * peak, dcResistance: 0.01, dcInductance: 1e-3 }, settling: 0.3 },
  ],
  [
    'pulses behind a filter capacitor',
    'discontinuous',
    {
      bridge: {
        ...network,
        sourceResistance: 0.02,
        dcEmf: 0.96 * peak,
        dcResistance: 0.01,
        filter: { capacitance: 170e-6, inductance: 100e-6 },
      },
      settling: 0.3,
    },
  ],
  [
    'a current without gaps behind a filter capacitor',
    'continuous',
    {
      bridge: {
        ...network,
        sourceResistance: 0.02,
        dcEmf: 0.9 * peak,
        dcResistance: 0.01,
        filter: { capacitance: 500e-6, inductance: 100e-6 },
      },
      settling: 0.3,
    },
  ],
];

const against = (quantity: string) =>
  comparedWith({ quantity, source: 'ngspice, transient analysis', evidence: 'outside program' });
const nearMean = against('diode bridge into a battery: mean current');
const nearPeak = against('diode bridge into a battery: peak current');
const nearRms = against('diode bridge into a battery: rms phase current');

describe.each(cases)('%s', (_, mode, run) => {
  test('has the same mean, peak and phase current', { timeout: 60_000 }, () => {
    const simulated = simulate(run);
    const ours = conductUncontrolled(withDiodesOf(run.bridge, simulated.mean));
    expect(ours.mode).toBe(mode);
    expect(ours.converged).toBe(true);
    nearMean(ours.meanCurrent, simulated.mean, 0.01);
    nearPeak(ours.peakCurrent, simulated.peak, 0.01);
    nearRms(ours.sourceRms, simulated.rms, 0.01);
  });
});

// What the snubbers and the ties to earth let through is some milliamperes; conduction is to be told from it.
const leakage = 0.02;

describe('the threshold', () => {
  const bank = { capacitance: 500e-6, inductance: 100e-6 };
  const damped = { ...network, sourceResistance: 0.02, dcResistance: 0.01 };

  test('is the peak of the line voltage', { timeout: 60_000 }, () => {
    const above = { ...damped, dcEmf: 1.002 * peak };
    const below = { ...damped, dcEmf: 0.99 * peak };
    expect(conductUncontrolled(above).conducts).toBe(false);
    expect(simulate({ bridge: above, settling: 0.1 }).mean).toBeLessThan(leakage);
    expect(conductUncontrolled(below).conducts).toBe(true);
    expect(simulate({ bridge: below, settling: 0.1 }).mean).toBeGreaterThan(10 * leakage);
  });

  test('rises with a filter capacitor, by 1/(1 − X/Xc)', { timeout: 60_000 }, () => {
    const omega = 2 * Math.PI * 50;
    const rise = 1 / (1 - omega ** 2 * 200e-6 * 500e-6);
    const above = { ...damped, filter: bank, dcEmf: 1.002 * rise * peak };
    const between = { ...damped, filter: bank, dcEmf: 1.004 * peak };
    expect(rise).toBeGreaterThan(1.009);
    expect(conductUncontrolled(above).conducts).toBe(false);
    expect(simulate({ bridge: above, settling: 0.3 }).mean).toBeLessThan(leakage);
    expect(conductUncontrolled(between).conducts).toBe(true);
    expect(simulate({ bridge: between, settling: 0.3 }).mean).toBeGreaterThan(10 * leakage);
  });
});
