// Cycles, throughput and warranty.

import { describe, expect, test } from 'vitest';
import { equivalentCycles, warrantyLife } from '../../../engine/physics/throughput.ts';

const kWh = 3.6e6;

test('cycles are energy over the usable one', () => {
  expect(equivalentCycles(500 * kWh, 200 * kWh)).toBe(2.5);
  expect(equivalentCycles(0, 200 * kWh)).toBe(0);
  expect([equivalentCycles(1, 0), equivalentCycles(-1, 1)]).toEqual([undefined, undefined]);
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
