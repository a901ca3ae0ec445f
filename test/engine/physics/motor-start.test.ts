// Motors and load steps on an island behind a converter with a current limit.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  constantPowerStep,
  islandStart,
  largestStart,
  runningLoad,
  startingLoad,
} from '../../../engine/physics/motor-start.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const motor = { power: 55e3, efficiency: 0.93, powerFactor: 0.86 };

test('a motor takes its shaft power over its efficiency, and six times its current at the start', () => {
  const running = runningLoad(motor)!;
  expect(running.active).toBeCloseTo(55e3 / 0.93, 6);
  expect(Math.hypot(running.active, running.reactive)).toBeCloseTo(55e3 / 0.93 / 0.86, 6);
  const start = startingLoad(motor)!;
  expect(Math.hypot(start.active, start.reactive)).toBeCloseTo((6 * 55e3) / 0.93 / 0.86, 6);
  expect(start.active / Math.hypot(start.active, start.reactive)).toBeCloseTo(0.3, 12);
  expect(startingLoad({ ...motor, efficiency: 0 })).toBeUndefined();
  expect(runningLoad({ ...motor, powerFactor: 1.2 })).toBeUndefined();
});

describe('start on an island', () => {
  const loads = [startingLoad(motor)!];

  test('below the limit and with nothing in between the voltage stands', () => {
    const found = solved(islandStart({ voltage: 400, currentLimit: 800, loads }));
    expect(found.limited).toBe(false);
    expect(found.dip).toBeCloseTo(0, 12);
    expect(found.torque).toBeCloseTo(1, 12);
    expect(found.current).toBeCloseTo((6 * 55e3) / 0.93 / 0.86 / Math.sqrt(3) / 400, 9);
  });

  test('beyond the limit the voltage falls with the current, the torque with its square', () => {
    const found = solved(islandStart({ voltage: 400, currentLimit: 300, loads }));
    expect(found.limited).toBe(true);
    expect(found.current).toBe(300);
    expect(found.loadVoltage / 400).toBeCloseTo(300 / found.wanted, 12);
    expect(found.torque).toBeCloseTo((300 / found.wanted) ** 2, 12);
  });

  test('a purely inductive load behind a reactance is a voltage divider', () => {
    // Load reactance 400²/400 kvar = 0.4 Ω behind 0.1 Ω.
    const found = solved(
      islandStart({
        voltage: 400,
        currentLimit: 1e6,
        series: { resistance: 0, reactance: 0.1 },
        loads: [{ active: 0, reactive: 400e3 }],
      }),
    );
    expect(found.loadVoltage).toBeCloseTo(320, 9);
    expect(found.dip).toBeCloseTo(0.2, 12);
  });

  test('what the converter gives is what the loads take at their voltage and what is lost in between', () => {
    const island = fc.record({
      active: evenly(0, 4e5),
      reactive: evenly(-1e5, 4e5),
      resistance: evenly(0, 0.05),
      reactance: evenly(0, 0.1),
      currentLimit: evenly(50, 1000),
    });
    fc.assert(
      fc.property(island, ({ active, reactive, resistance, reactance, currentLimit }) => {
        const found = islandStart({
          voltage: 400,
          currentLimit,
          series: { resistance, reactance },
          loads: [{ active: active + 1, reactive }],
        });
        const good = solved(found);
        const share = (good.loadVoltage / 400) ** 2;
        expect(good.active).toBeCloseTo((active + 1) * share + 3 * resistance * good.current ** 2, 4);
        expect(good.reactive).toBeCloseTo(reactive * share + 3 * reactance * good.current ** 2, 4);
        expect(Math.hypot(good.active, good.reactive)).toBeCloseTo(
          Math.sqrt(3) * good.converterVoltage * good.current,
          4,
        );
        expect(good.current).toBeLessThanOrEqual(currentLimit);
      }),
    );
  });

  test('a larger converter never dips more', () => {
    fc.assert(
      fc.property(evenly(50, 1000), evenly(0, 500), (currentLimit, more) => {
        const small = solved(islandStart({ voltage: 400, currentLimit, loads }));
        const large = solved(islandStart({ voltage: 400, currentLimit: currentLimit + more, loads }));
        expect(large.dip).toBeLessThanOrEqual(small.dip + 1e-12);
      }),
    );
  });

  test('with no load nothing happens, and the impossible is refused', () => {
    expect(islandStart({ voltage: 400, currentLimit: 100, loads: [] })).toMatchObject({ current: 0, dip: 0 });
    expect(islandStart({ voltage: 0, currentLimit: 100, loads }).ok).toBe(false);
    expect(islandStart({ voltage: 400, currentLimit: 0, loads }).ok).toBe(false);
    expect(islandStart({ voltage: 400, currentLimit: 100, loads: [{ active: -1, reactive: 0 }] }).ok).toBe(false);
  });
});

test('the largest start together with what runs is exactly at the limit', () => {
  fc.assert(
    fc.property(evenly(0, 1e5), evenly(0, 5e4), evenly(0.1, 0.9), (active, reactive, powerFactor) => {
      const start = largestStart(400, 300, { active, reactive }, powerFactor)!;
      const sine = Math.sqrt(1 - powerFactor ** 2);
      const loads = [
        { active, reactive },
        { active: start * powerFactor, reactive: start * sine },
      ];
      const found = solved(islandStart({ voltage: 400, currentLimit: 1e6, loads }));
      expect(found.wanted).toBeCloseTo(300, 6);
    }),
  );
  expect(largestStart(400, 100, { active: 100e3, reactive: 0 })).toBe(0);
  expect(largestStart(0, 100, { active: 0, reactive: 0 })).toBeUndefined();
});

test('loads of constant power need more current at less voltage', () => {
  const step = constantPowerStep([{ active: 60e3, reactive: 80e3 }], 360, 200, 120e3)!;
  expect(step.current).toBeCloseTo(100e3 / (Math.sqrt(3) * 360), 9);
  expect(step.loading).toBeCloseTo(step.current / 200, 12);
  expect(step.powerLoading).toBe(0.5);
  expect(constantPowerStep([], 0, 200)).toBeUndefined();
});
