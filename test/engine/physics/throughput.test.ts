// Cycles, throughput, warranty, and the balance of a day.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  cyclesOfCourse,
  dayBalance,
  equivalentCycles,
  warrantyLife,
  year,
  yearlyThroughput,
} from '../../../engine/physics/throughput.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const kWh = 3.6e6;

test('cycles by energy and by the course of the state of charge', () => {
  expect(equivalentCycles(500 * kWh, 200 * kWh)).toBe(2.5);
  expect(equivalentCycles(0, 200 * kWh)).toBe(0);
  expect([equivalentCycles(1, 0), equivalentCycles(-1, 1)]).toEqual([undefined, undefined]);
  expect(cyclesOfCourse([1, 0, 1])).toBe(1);
  expect(cyclesOfCourse([0.9, 0.1, 0.9, 0.5, 0.9], 0.8)).toBeCloseTo(1.5, 12);
  expect(cyclesOfCourse([])).toBe(0);
  expect(cyclesOfCourse([1, 0], 0)).toBeUndefined();
});

test('a discharge of 100 kWh every day is 36.5 MWh a year, half of it in half a year', () => {
  expect(yearlyThroughput([{ energy: 100 * kWh, period: 86_400 }])!).toBeCloseTo(36.5e3 * kWh, 0);
  const two = yearlyThroughput([
    { energy: 100 * kWh, period: 86_400, share: 0.5 },
    { energy: kWh, period: 3600 },
  ]);
  expect(two!).toBeCloseTo((18.25e3 + 8760) * kWh, 0);
  expect(yearlyThroughput([{ energy: 0, period: 3600 }])).toBe(0);
  expect(yearlyThroughput([{ energy: kWh, period: 3600, share: 0 }])).toBe(0);
  for (const wrong of [{ energy: -1 }, { period: 0 }, { period: -3600 }, { share: -0.1 }, { share: 1.1 }])
    expect(yearlyThroughput([{ energy: kWh, period: 3600, ...wrong }])).toBeUndefined();
  expect(year).toBe(8760 * 3600);
});

describe('warranty', () => {
  const usable = 200 * kWh;
  const yearly = 60e3 * kWh;

  test('ends by whatever comes first', () => {
    expect(warrantyLife({ energy: 600e3 * kWh, years: 15 }, yearly, usable)).toEqual({ years: 10, endedBy: 'energy' });
    expect(warrantyLife({ cycles: 6000, years: 15 }, yearly, usable)).toEqual({ years: 15, endedBy: 'years' });
    expect(warrantyLife({ cycles: 3000 }, yearly, usable)).toEqual({ years: 10, endedBy: 'cycles' });
  });

  test('never ends where nothing is limited or nothing used', () => {
    expect(warrantyLife({}, yearly, usable)).toEqual({ years: Number.POSITIVE_INFINITY, endedBy: undefined });
    expect(warrantyLife({ energy: 1 }, 0, usable)?.years).toBe(Number.POSITIVE_INFINITY);
    expect(warrantyLife({ energy: 0 }, 0, usable)?.years).toBe(Number.POSITIVE_INFINITY);
  });

  test('of nothing has ended before it begins', () => {
    expect(warrantyLife({ years: 0, energy: 1 }, yearly, usable)).toEqual({ years: 0, endedBy: 'years' });
  });

  test('is not told of a negative limit, a negative use or a store without energy', () => {
    expect(warrantyLife({ energy: -1 }, yearly, usable)).toBeUndefined();
    expect(warrantyLife({ years: 10 }, -yearly, usable)).toBeUndefined();
    expect(warrantyLife({ years: 10 }, yearly, 0)).toBeUndefined();
    expect(warrantyLife({ years: 10 }, yearly, -usable)).toBeUndefined();
  });
});

describe('balance of a day', () => {
  const facts = { delivered: 900 * kWh, dischargeEfficiency: 0.95, chargeEfficiency: 0.96, standbyPower: 2000 };

  test('with standby it is less than the round trip', () => {
    const found = solved(dayBalance(facts));
    expect(found.roundTrip).toBeCloseTo(0.912, 12);
    expect(found.charged / kWh).toBeCloseTo(900 / 0.912, 9);
    expect(found.standby / kWh).toBeCloseTo(48, 9);
    expect(found.net).toBeCloseTo(900 / (900 / 0.912 + 48), 12);
  });

  test('a day that delivers nothing has standby alone', () => {
    const found = solved(dayBalance({ ...facts, delivered: 0 }));
    expect(found).toMatchObject({ charged: 0, roundTrip: undefined, net: 0 });
  });

  test('energy closes: in = out + lost + leaked', () => {
    const share = evenly(0.5, 1);
    fc.assert(
      fc.property(evenly(0, 1e10), share, share, share, evenly(0, 0.05), (delivered, a, b, c, selfDischarge) => {
        const found = solved(
          dayBalance({
            delivered,
            dischargeEfficiency: a,
            chargeEfficiency: b,
            storeEfficiency: c,
            standbyPower: 500,
            content: 1e10,
            selfDischarge,
          }),
        );
        // Inside the store: what comes in after both losses is what goes out and what leaks.
        expect(found.charged * b * c).toBeCloseTo(delivered / a + selfDischarge * 1e10, 2);
        expect(found.charged).toBeCloseTo(delivered + found.conversionLoss + found.leaked, 2);
        expect(found.conversionLoss).toBeGreaterThanOrEqual(-1e-3);
        expect(found.net!).toBeLessThanOrEqual((found.roundTrip ?? 1) + 1e-12);
      }),
    );
  });

  test('the impossible is refused', () => {
    for (const wrong of [
      { chargeEfficiency: 0 },
      { dischargeEfficiency: 1.1 },
      { storeEfficiency: -0.9 },
      { delivered: -1 },
      { standbyPower: -2000 },
      { content: -1 },
      { content: Number.POSITIVE_INFINITY },
      { selfDischarge: -0.01 },
      { selfDischarge: 1.01 },
    ])
      expect(dayBalance({ ...facts, ...wrong })).toEqual({ ok: false, problem: 'impossible_input' });
  });

  test('without standby, nothing is taken in a day that delivers nothing', () => {
    expect(solved(dayBalance({ ...facts, delivered: 0, standbyPower: 0 }))).toMatchObject({
      charged: 0,
      net: undefined,
    });
    expect(solved(dayBalance({ ...facts, standbyPower: 0 })).net).toBeCloseTo(0.912, 12);
  });

  test('all of a content may leak away', () => {
    expect(solved(dayBalance({ ...facts, content: 10 * kWh, selfDischarge: 1 })).leaked).toBe(10 * kWh);
  });
});
