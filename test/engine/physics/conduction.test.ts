// Uncontrolled charging: nothing above the threshold, monotone below it, power balanced, limits of simpler laws.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commutationDrop, idealMeanVoltage } from '../../../engine/physics/bridge.ts';
import { type Conduction, conductUncontrolled, type UncontrolledBridge } from '../../../engine/physics/conduction.ts';

const peak = Math.SQRT2 * 690;
const plain: UncontrolledBridge = {
  lineVoltage: 690,
  frequency: 50,
  sourceInductance: 100e-6,
  sourceResistance: 3e-3,
  dcEmf: 0.92 * peak,
  dcResistance: 10e-3,
};
const filtered: UncontrolledBridge = {
  ...plain,
  filter: { capacitance: 200e-6, inductance: 120e-6, resistance: 1e-3, dampingResistance: 0.05 },
};

const logarithmic = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);

/** Networks from soft to stiff, batteries from half the peak voltage to all of it. */
const anyBridge: fc.Arbitrary<UncontrolledBridge> = fc.record({
  lineVoltage: fc.constantFrom(208, 400, 690),
  frequency: fc.constantFrom(50, 60),
  sourceInductance: logarithmic(5e-6, 2e-3),
  sourceResistance: fc.oneof(fc.constant(0), logarithmic(1e-4, 0.1)),
  dcEmf: fc.constant(0),
  dcResistance: fc.oneof(fc.constant(0), logarithmic(1e-4, 0.2)),
  dcInductance: fc.oneof(fc.constant(0), logarithmic(1e-6, 1e-3)),
  diodeDrop: fc.constantFrom(0, 0.8),
});
/** A, well under what any of these bridges carries: where a current of zero differs from zero. */
const rounding = 1e-9;
const level = fc.double({ min: 0.5, max: 1, noNaN: true });

const at = (bridge: UncontrolledBridge, share: number): UncontrolledBridge => ({
  ...bridge,
  dcEmf: share * Math.SQRT2 * bridge.lineVoltage,
});

const imbalance = (result: Conduction) =>
  Math.abs(result.sourcePower - result.batteryPower - result.losses) / result.sourcePower;

describe('a battery above the peak of the line voltage', () => {
  it('takes nothing', () => {
    for (const share of [1, 1.0001, 1.3]) {
      expect(conductUncontrolled(at(plain, share))).toMatchObject({ conducts: false, mode: 'none', meanCurrent: 0 });
    }
  });

  it('takes nothing within two diode drops below it either', () => {
    expect(conductUncontrolled({ ...plain, dcEmf: peak - 1.5, diodeDrop: 0.8 }).conducts).toBe(false);
    expect(conductUncontrolled({ ...plain, dcEmf: peak - 1.7, diodeDrop: 0.8 }).conducts).toBe(true);
  });

  it('takes something as soon as the capacitor raises the voltage', () => {
    const rise = conductUncontrolled(filtered).openVoltage / 690;
    const omega = 2 * Math.PI * 50;
    expect(rise).toBeCloseTo(1 / (1 - omega ** 2 * 100e-6 * 200e-6), 5);
    expect(conductUncontrolled(at(filtered, 0.9999 * rise)).conducts).toBe(true);
    expect(conductUncontrolled(at(filtered, 1.0001 * rise))).toMatchObject({ conducts: false, meanCurrent: 0 });
  });
});

describe('a battery below it', () => {
  it('takes a current with gaps at first, then without', () => {
    expect(conductUncontrolled(at(plain, 0.98)).mode).toBe('discontinuous');
    expect(conductUncontrolled(at(plain, 0.9)).mode).toBe('continuous');
  });

  it('settles, balances its power, and is made of finite numbers', () => {
    fc.assert(
      fc.property(anyBridge, level, (bridge, share) => {
        const result = conductUncontrolled(at(bridge, share));
        expect(Object.values(result).every(value => typeof value !== 'number' || Number.isFinite(value))).toBe(true);
        expect(result.converged).toBe(true);
        if (result.conducts) expect(imbalance(result)).toBeLessThan(1e-6);
      }),
      { numRuns: 200 },
    );
  });

  it('takes less the higher its voltage', () => {
    fc.assert(
      fc.property(anyBridge, level, level, (bridge, one, other) => {
        const lower = conductUncontrolled(at(bridge, Math.min(one, other)));
        const higher = conductUncontrolled(at(bridge, Math.max(one, other)));
        expect(higher.meanCurrent).toBeLessThanOrEqual(lower.meanCurrent * (1 + 1e-8) + rounding);
      }),
      { numRuns: 100 },
    );
  });

  it('takes more the higher the voltage of the network', () => {
    const low = conductUncontrolled(plain);
    const high = conductUncontrolled({ ...plain, lineVoltage: 700 });
    expect(high.meanCurrent).toBeGreaterThan(low.meanCurrent);
  });

  it('changes its current without jumps', () => {
    const full = conductUncontrolled(at(plain, 0.9)).meanCurrent;
    let last = 0;
    for (let step = 0; step <= 400; step++) {
      const current = conductUncontrolled(at(plain, 1 - (0.1 * step) / 400)).meanCurrent;
      expect(current).toBeGreaterThanOrEqual(last - rounding);
      expect(current - last).toBeLessThan(full / 100);
      last = current;
    }
  });

  it('scales: twice all voltages make twice all currents', () => {
    const once = conductUncontrolled(plain);
    const twice = conductUncontrolled({ ...plain, lineVoltage: 1380, dcEmf: 2 * plain.dcEmf });
    expect(twice.meanCurrent / once.meanCurrent).toBeCloseTo(2, 10);
    expect(twice.peakCurrent / once.peakCurrent).toBeCloseTo(2, 9);
    expect(twice.sourcePower / once.sourcePower).toBeCloseTo(4, 9);
  });

  it('orders mean, rms and peak', () => {
    const { meanCurrent, rmsCurrent, peakCurrent, phaseRms, fundamentalRms } = conductUncontrolled(at(plain, 0.97));
    expect(meanCurrent).toBeLessThan(rmsCurrent);
    expect(rmsCurrent).toBeLessThan(peakCurrent);
    expect(fundamentalRms).toBeLessThan(phaseRms);
  });
});

describe('a smooth DC current', () => {
  it('follows the law of the commutation drop', () => {
    // Overlap well below 60°: Ud0 − 3/π·X·I − R·I = E.
    const emf = 0.85 * peak;
    const smooth = { ...plain, sourceResistance: 0, dcEmf: emf, dcInductance: 0.5, dcResistance: 0.05 };
    const { meanCurrent } = conductUncontrolled(smooth);
    const reactance = 2 * Math.PI * 50 * 100e-6;
    const mean = idealMeanVoltage(690) - commutationDrop(reactance, meanCurrent) - 0.05 * meanCurrent;
    expect(mean / emf).toBeCloseTo(1, 4);
  });

  it('is reported as not settled where both diodes of a leg would carry', () => {
    const result = conductUncontrolled({ ...plain, dcEmf: 0.2 * peak, dcInductance: 5e-3 });
    const stiff = conductUncontrolled({ ...plain, dcEmf: 0.2 * peak });
    expect(result.converged).toBe(false);
    expect(result.meanCurrent).toBe(stiff.meanCurrent);
  });
});

describe('a filter before the bridge', () => {
  it('is no more than its inductor where its capacitor is small', () => {
    const small = conductUncontrolled({ ...plain, filter: { capacitance: 1e-8, inductance: 50e-6 } });
    const none = conductUncontrolled({ ...plain, sourceInductance: 150e-6 });
    expect(small.meanCurrent / none.meanCurrent).toBeCloseTo(1, 4);
    expect(small.phaseRms / none.phaseRms).toBeCloseTo(1, 4);
  });

  it('settles and balances its power', () => {
    const share = fc.double({ min: 0.7, max: 0.99, noNaN: true });
    const size = fc.double({ min: 20e-6, max: 500e-6, noNaN: true });
    fc.assert(
      fc.property(share, size, (m, capacitance) => {
        const result = conductUncontrolled(at({ ...filtered, filter: { ...filtered.filter!, capacitance } }, m));
        expect(result.converged).toBe(true);
        expect(imbalance(result)).toBeLessThan(1e-6);
      }),
      { numRuns: 60 },
    );
  });

  it('makes short pulses larger than the rise of voltage alone would', () => {
    const network = { ...at(plain, 0.96), sourceInductance: 200e-6, sourceResistance: 20e-3 };
    const result = conductUncontrolled({ ...network, filter: { capacitance: 170e-6, inductance: 100e-6 } });
    const raised = { ...network, lineVoltage: result.openVoltage, sourceInductance: 300e-6 };
    expect(result.meanCurrent).toBeGreaterThan(1.2 * conductUncontrolled(raised).meanCurrent);
  });

  it('draws its own current without any conduction', () => {
    const result = conductUncontrolled(at(filtered, 1.2));
    const omega = 2 * Math.PI * 50;
    // Well below resonance: ω·C·U/√3, raised like the voltage.
    expect(result.sourceRms).toBeCloseTo((omega * 200e-6 * result.openVoltage) / Math.sqrt(3), 2);
    expect(result.sourcePower).toBeCloseTo(result.losses, 9);
  });
});

describe('odd inputs', () => {
  it('never hang and never give a number that is none', () => {
    const odd: Partial<UncontrolledBridge>[] = [
      { sourceInductance: 0 },
      { sourceInductance: 0, sourceResistance: 0, dcResistance: 0 },
      { dcEmf: 0 },
      { dcEmf: 0, dcResistance: 0 },
      { dcEmf: -100 },
      { sourceInductance: 10 },
      { sourceResistance: 100 },
      { dcEmf: peak * (1 - 1e-12) },
      { filter: { capacitance: 100e-6, inductance: 0 } },
      { sourceInductance: 0, filter: { capacitance: 100e-6, inductance: 100e-6 } },
      { sourceInductance: 0, filter: { capacitance: 0, inductance: 0 } },
      { filter: { capacitance: 1, inductance: 100e-6, dampingResistance: 10 } },
      { sourceInductance: 1e-3, filter: { capacitance: 10.132e-3, inductance: 100e-6 } },
    ];
    for (const change of odd) {
      const result = conductUncontrolled({ ...plain, ...change });
      for (const value of Object.values(result)) {
        if (typeof value === 'number') expect(Number.isNaN(value), JSON.stringify(change)).toBe(false);
      }
    }
  });
});
