// Uncontrolled charging over hundreds of bridges: settled, balanced, monotone and without jumps. Takes ten seconds, so that
// conduction.test.ts, which is quick, judges changes of the code.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Conduction, conductUncontrolled, type UncontrolledBridge } from '../../../engine/physics/conduction.ts';
import { filtered, plain } from '../../kit/bridges.ts';

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

describe('a battery below the peak of the line voltage', () => {
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
});

describe('a filter before the bridge', () => {
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

  it('in resonance with the network, or much too large, is made of numbers all the same', () => {
    const odd: readonly Partial<UncontrolledBridge>[] = [
      { filter: { capacitance: 1, inductance: 100e-6, dampingResistance: 10 } },
      { sourceInductance: 1e-3, filter: { capacitance: 10.132e-3, inductance: 100e-6 } },
    ];
    for (const change of odd) {
      for (const value of Object.values(conductUncontrolled({ ...plain, ...change }))) expect(value).not.toBeNaN();
    }
  });
});
