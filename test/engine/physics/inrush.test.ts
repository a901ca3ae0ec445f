// Inrush of a transformer behind a network: how much the network lowers it, and how much voltage it takes.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { customaryPeak, inrush } from '../../../engine/physics/inrush.ts';
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

test('a line takes its share of the voltage, and keeps up the connection: by hand', () => {
  // 1 MVA at 20 kV, ten times: the core is 80 Ω to the fundamental. Behind 12 Ω of line and 8 Ω of network: 80 of 100 Ω.
  const reactances = solved(
    inrush({ ...million, network: { resistance: 0, reactance: 8 }, line: { resistance: 0, reactance: 12 } }),
  );
  expect(reactances.dip).toBeCloseTo(0.2, 12);
  expect(reactances.connectionDip).toBeCloseTo(0.08, 12);
  expect(reactances.fundamental).toBeCloseTo((0.8 * inrushPeak(1e6, 20e3)!) / 2 / Math.SQRT2, 9);
  // Resistances stand square to the core: 80 of √(60² + 80²) Ω, of which √(39² + 80²) = 89 Ω behind the connection.
  const resistances = solved(
    inrush({ ...million, network: { resistance: 21, reactance: 0 }, line: { resistance: 39, reactance: 0 } }),
  );
  expect(resistances.dip).toBeCloseTo(0.2, 12);
  expect(resistances.connectionDip).toBeCloseTo(0.11, 12);
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

test('what cannot be is said', () => {
  for (const wrong of [
    { ratedPower: 0 },
    { ratedPower: -1e6 },
    { voltage: 0 },
    { multiple: 0 },
    { multiple: -10 },
    { network: { resistance: -1, reactance: 1 } },
    { line: { resistance: 1, reactance: -1 } },
    // A voltage and a power whose quotient nobody can write.
    { voltage: 1e200, ratedPower: 1e-200 },
  ])
    expect(inrush({ ...million, ...wrong })).toEqual({ ok: false, problem: 'impossible_input' });
});
