// Ranges and tolerances: their ends, and what is refused.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dimensions as d } from '../../../engine/units/dimension.ts';
import {
  absoluteTolerance,
  asymmetricTolerance,
  contains,
  corners,
  exact,
  isSpreadProblem,
  middle,
  range,
  relativeTolerance,
  type Spread,
  scaleSpread,
} from '../../../engine/units/spread.ts';

describe('what is stated', () => {
  test('400 V ± 10 %', () => {
    expect(relativeTolerance(400, 0.1, d.voltage)).toEqual({ kind: 'tolerance', low: 360, nominal: 400, high: 440 });
  });

  test('6 % ± 10 % is always relative to the 6 %', () => {
    const { low, high } = relativeTolerance(0.06, 0.1, d.ratio) as Spread;
    expect(low).toBeCloseTo(0.054, 12);
    expect(high).toBeCloseTo(0.066, 12);
  });

  test('25 °C ± 5 K', () => {
    expect(absoluteTolerance(298.15, 5)).toEqual({ kind: 'tolerance', low: 293.15, nominal: 298.15, high: 303.15 });
  });

  test('25 °C ± 10 % means nothing', () => {
    expect(relativeTolerance(298.15, 0.1, d.temperature)).toEqual({ problem: 'scale' });
  });

  test('400 V +10 % -15 V', () => {
    const spread = asymmetricTolerance(400, { by: 0.1, relative: true }, { by: 15, relative: false }, d.voltage);
    expect(spread).toEqual({ kind: 'tolerance', low: 385, nominal: 400, high: 440 });
  });

  test('a negative nominal has its lower end below', () => {
    expect(relativeTolerance(-100, 0.1)).toEqual({ kind: 'tolerance', low: -110, nominal: -100, high: -90 });
  });

  test('9 MVA .. 14 MVA has no nominal', () => {
    const spread = range(9e6, 14e6) as Spread;
    expect(spread.nominal).toBeUndefined();
    expect(middle(spread)).toBe(11.5e6);
    expect(corners(spread)).toEqual([9e6, 14e6]);
  });

  test('what can not be', () => {
    expect(range(14e6, 9e6)).toEqual({ problem: 'reversed', low: 14e6, high: 9e6 });
    expect(absoluteTolerance(5, -1)).toEqual({ problem: 'negative' });
    expect(range(Number.NEGATIVE_INFINITY, 1)).toEqual({ problem: 'not_finite' });
    expect(exact(Number.NaN)).toEqual({ problem: 'not_finite' });
    expect(relativeTolerance(1e308, 10)).toEqual({ problem: 'not_finite' });
  });

  test('corners leave out what is twice the same', () => {
    expect(corners(exact(5) as Spread)).toEqual([5]);
    expect(corners(asymmetricTolerance(5, { by: 1, relative: false }, { by: 0, relative: false }) as Spread)).toEqual([
      5, 6,
    ]);
    expect(corners(relativeTolerance(400, 0.1) as Spread)).toEqual([360, 400, 440]);
  });
});

describe('laws', () => {
  const number = fc.double({ min: -1e9, max: 1e9, noNaN: true });
  const anySpread = fc.oneof(
    fc.tuple(number, number).map(([a, b]) => range(Math.min(a, b), Math.max(a, b))),
    fc
      .tuple(number, fc.double({ min: 0, max: 2, noNaN: true }))
      .map(([nominal, ratio]) => relativeTolerance(nominal, ratio)),
    number.map(exact),
  );

  test('low, corners, middle and high are in order, also after scaling', () => {
    fc.assert(
      fc.property(anySpread, fc.double({ min: -1e3, max: 1e3, noNaN: true }), (spread, factor) => {
        if (isSpreadProblem(spread)) throw new Error(spread.problem);
        for (const each of [spread, scaleSpread(spread, factor)]) {
          expect(each.low).toBeLessThanOrEqual(each.high);
          expect(contains(each, middle(each))).toBe(true);
          expect(corners(each)[0] === each.low).toBe(true);
          expect(corners(each).at(-1) === each.high).toBe(true);
        }
      }),
    );
  });
});
