// Motors and load steps on an island behind a converter with a current limit.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { islandStart, runningLoad, startingLoad } from '../../../engine/physics/motor-start.ts';
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
});

test('a motor states another start', () => {
  const soft = startingLoad({ ...motor, startMultiple: 3.5, startPowerFactor: 0.4 })!;
  expect(Math.hypot(soft.active, soft.reactive)).toBeCloseTo((3.5 * 55e3) / 0.93 / 0.86, 6);
  expect(soft.active / Math.hypot(soft.active, soft.reactive)).toBeCloseTo(0.4, 12);
});

test('an ideal motor takes its shaft power alone, one without a load nothing', () => {
  expect(runningLoad({ power: 55e3, efficiency: 1, powerFactor: 1 })).toEqual({ active: 55e3, reactive: 0 });
  expect(startingLoad({ power: 55e3, efficiency: 1, powerFactor: 1, startPowerFactor: 1 })!.active).toBe(330e3);
  expect(runningLoad({ ...motor, power: 0 })).toEqual({ active: 0, reactive: 0 });
  expect(startingLoad({ ...motor, power: 0 })).toEqual({ active: 0, reactive: 0 });
});

test.each([{ power: -1 }, { efficiency: 0 }, { efficiency: 1.1 }, { powerFactor: 0 }, { powerFactor: 1.2 }])(
  'no motor has %o',
  wrong => {
    expect(runningLoad({ ...motor, ...wrong })).toBeUndefined();
    expect(startingLoad({ ...motor, ...wrong })).toBeUndefined();
  },
);

test.each([{ startMultiple: 0 }, { startMultiple: -6 }, { startPowerFactor: 0 }, { startPowerFactor: 1.1 }])(
  'no motor starts with %o',
  wrong => {
    expect(startingLoad({ ...motor, ...wrong })).toBeUndefined();
  },
);

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

  test('with no load nothing happens', () => {
    expect(islandStart({ voltage: 400, currentLimit: 100, loads: [] })).toEqual({
      ok: true,
      current: 0,
      wanted: 0,
      limited: false,
      converterVoltage: 400,
      loadVoltage: 400,
      dip: 0,
      torque: 1,
      active: 0,
      reactive: 0,
    });
  });

  test.each([
    ['without a voltage', { voltage: 0 }],
    ['at a negative voltage', { voltage: -400 }],
    ['without a current', { currentLimit: 0 }],
    ['at a negative current', { currentLimit: -100 }],
    ['behind a negative resistance', { series: { resistance: -0.1, reactance: 0 } }],
    ['behind a negative reactance', { series: { resistance: 0, reactance: -0.1 } }],
    ['of loads that feed back', { loads: [{ active: -1, reactive: 0 }] }],
    ['of a load that nobody knows', { loads: [{ active: 1, reactive: Number.NaN }] }],
    // The capacitors of the loads swallow the line: nothing limits the current but the converter.
    ['at resonance', { loads: [{ active: 0, reactive: -400e3 }], series: { resistance: 0, reactance: 0.4 } }],
  ])('%s is refused', (_, wrong) => {
    const island = { voltage: 400, currentLimit: 100, loads, ...wrong };
    expect(islandStart(island)).toEqual({ ok: false, problem: 'impossible_input' });
  });
});
