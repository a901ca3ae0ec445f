// Cycles, throughput and warranty.

import { describe, expect, test } from 'vitest';
import { equivalentCycles, warrantyLife, year, yearlyThroughput } from '../../../engine/physics/throughput.ts';

const kWh = 3.6e6;

test('cycles are energy over the usable one', () => {
  expect(equivalentCycles(500 * kWh, 200 * kWh)).toBe(2.5);
  expect(equivalentCycles(0, 200 * kWh)).toBe(0);
  expect([equivalentCycles(1, 0), equivalentCycles(-1, 1)]).toEqual([undefined, undefined]);
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
