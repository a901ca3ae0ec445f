// Inrush of a transformer behind a network: how much the network lowers it, and how much voltage it takes.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { customaryPeak, inrush, inrushAt, inrushFallsBelow, largestForDip } from '../../../engine/physics/inrush.ts';
import { inrushPeak } from '../../../engine/physics/transformer.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const million = { ratedPower: 1e6, voltage: 20e3 };

test('behind a stiff network the stated multiple stands, and no voltage is lost', () => {
  const found = solved(inrush(million));
  expect(found.multiple).toBe(customaryPeak.taken);
  expect(found.peak).toBe(inrushPeak(1e6, 20e3));
  expect(found.peak).toBeCloseTo((10 * Math.SQRT2 * 1e6) / (Math.sqrt(3) * 20e3), 6);
  // A half sine: fundamental amplitude half of the peak.
  expect(found.fundamental).toBeCloseTo(found.peak / 2 / Math.SQRT2, 9);
  expect(found.dip).toBe(0);
  expect(found.dipAtPeak).toBe(0);
});

test('1 MVA on 50 MVA of fault power, reactance alone: by hand', () => {
  // x = 1/50: multiple 10/(1 + 10·x), dip at the peak 1 − 1/(1 + 10·x), of the fundamental 1 − 1/(1 + 5·x).
  const found = solved(inrush({ ...million, network: { resistance: 0, reactance: (20e3 * 20e3) / 50e6 } }));
  expect(found.multiple).toBeCloseTo(10 / 1.2, 9);
  expect(found.dipAtPeak).toBeCloseTo(1 - 1 / 1.2, 9);
  expect(found.dip).toBeCloseTo(1 - 1 / 1.1, 9);
});

test('half of a period carries a half sine: its fundamental is half of its peak (Fourier sum)', () => {
  const count = 20_000;
  let sum = 0;
  for (let index = 0; index < count; index++) {
    const angle = (2 * Math.PI * (index + 0.5)) / count;
    sum += (Math.max(0, Math.sin(angle)) * Math.sin(angle) * 2) / count;
  }
  const found = solved(inrush(million));
  expect((found.fundamental * Math.SQRT2) / found.peak).toBeCloseTo(sum, 6);
});

test('more network impedance: less current, more dip; a larger transformer: more dip', () => {
  fc.assert(
    fc.property(evenly(0, 50), evenly(0, 50), evenly(0, 20), evenly(1, 3), (resistance, reactance, more, by) => {
      const base = solved(inrush({ ...million, network: { resistance, reactance } }));
      const weaker = solved(inrush({ ...million, network: { resistance, reactance: reactance + more } }));
      const larger = solved(inrush({ ...million, ratedPower: by * 1e6, network: { resistance, reactance } }));
      expect(weaker.peak).toBeLessThanOrEqual(base.peak * (1 + 1e-12));
      expect(weaker.dip).toBeGreaterThanOrEqual(base.dip - 1e-12);
      expect(larger.dip).toBeGreaterThanOrEqual(base.dip - 1e-12);
      expect(base.dipAtPeak).toBeGreaterThanOrEqual(base.dip - 1e-12);
    }),
  );
});

test('the largest transformer for a dip makes exactly that dip', () => {
  fc.assert(
    fc.property(evenly(0.01, 0.4), evenly(0, 30), evenly(0.1, 30), (dip, resistance, reactance) => {
      const network = { resistance, reactance };
      const ratedPower = largestForDip(dip, 20e3, network)!;
      expect(solved(inrush({ ratedPower, voltage: 20e3, network })).dip).toBeCloseTo(dip, 9);
    }),
  );
  expect(largestForDip(0.03, 20e3, { resistance: 0, reactance: 0 })).toBe(Number.POSITIVE_INFINITY);
  expect(largestForDip(1, 20e3, { resistance: 1, reactance: 1 })).toBeUndefined();
});

test('peaks die away', () => {
  expect(inrushAt(500, 0, 0.2)).toBe(500);
  expect(inrushAt(500, 0.2, 0.2)).toBeCloseTo(500 / Math.E, 9);
  expect(inrushFallsBelow(500, 50, 0.2)).toBeCloseTo(0.2 * Math.log(10), 12);
  expect(inrushFallsBelow(500, 600, 0.2)).toBe(0);
  expect(inrushAt(500, 1, 0)).toBeUndefined();
});

test('what cannot be is said', () => {
  expect(inrush({ ratedPower: 0, voltage: 400 })).toEqual({ ok: false, problem: 'impossible_input' });
  expect(inrush({ ratedPower: 1e6, voltage: 0 }).ok).toBe(false);
  expect(inrush({ ...million, multiple: 0 }).ok).toBe(false);
  expect(inrush({ ...million, network: { resistance: -1, reactance: 1 } }).ok).toBe(false);
});
