// Curves: what lies between the points, what lies outside, the way back, and what is no curve.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type CurveShape,
  curveAt,
  curveAtColumn,
  direction,
  evaluateCurve,
  evaluateSurface,
  integrateCurve,
  inverse,
  isMonotone,
  type LineCurve,
  makeCurve,
  type Surface,
  scaleCurve,
} from '../../../engine/units/curve.ts';

function line(shape: CurveShape, ...points: readonly (readonly [number, number])[]): LineCurve {
  const result = makeCurve({ shape, x: points.map(([x]) => x), y: points.map(([, y]) => y) });
  if (!result.ok || result.curve.shape === 'surface') throw new Error('no curve');
  return result.curve;
}

const cell = line('linear', [0, 2.6], [0.1, 3.2], [0.5, 3.29], [0.9, 3.34], [1, 3.4]);

/** Four rows over temperature and state of charge. */
const table: Surface = (() => {
  const result = makeCurve({ shape: 'linear', x: [0, 0.5, 1], columns: [0, 25], y: [4, 2, 3, 1, 5, 2] });
  if (!result.ok || result.curve.shape !== 'surface') throw new Error('no table');
  return result.curve;
})();

describe('between the points', () => {
  test('straight, and exact at the points', () => {
    expect(curveAt(cell, 0.1)).toBe(3.2);
    expect(curveAt(cell, 0.3)).toBeCloseTo(3.245, 12);
    expect(curveAt(cell, 1)).toBe(3.4);
  });

  test('smooth touches the points and does not overshoot a step', () => {
    const step = line('smooth', [0, 0], [1, 0], [2, 1], [3, 1]);
    expect([0, 1, 2, 3].map(x => curveAt(step, x))).toEqual([0, 0, 1, 1]);
    expect(curveAt(step, 0.5)).toBe(0);
    expect(curveAt(step, 1.5)).toBeCloseTo(0.5, 12);
    expect(curveAt(step, 2.5)).toBe(1);
  });

  // Data of the original paper (F. N. Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17 (1980), table 1, from Akima),
  // from memory: strongly uneven steps that make an ordinary cubic spline overshoot.
  test('smooth stays monotone on uneven steps', () => {
    const x = [0, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15];
    const y = [10, 10, 10, 10, 10, 10, 10.5, 15, 50, 60, 85];
    const curve = line('smooth', ...x.map((each, i): [number, number] => [each, y[i] ?? 0]));
    let before = Number.NEGATIVE_INFINITY;
    for (let at = 0; at <= 15; at += 0.01) {
      expect(curveAt(curve, at)).toBeGreaterThanOrEqual(before);
      before = curveAt(curve, at);
    }
  });

  test('log is a power law between two points', () => {
    const fuse = line('log', [1000, 10], [10_000, 0.01]);
    // A drop of three decades over one: t = 10 s × (I / 1 kA)^-3.
    expect(curveAt(fuse, 2000)).toBeCloseTo(10 / 8, 12);
    expect(curveAt(fuse, 5000)).toBeCloseTo(10 / 125, 12);
  });

  test('two axes are bilinear', () => {
    expect(evaluateSurface(table, 0.25, 12.5).value).toBeCloseTo((4 + 2 + 3 + 1) / 4, 12);
    expect(evaluateSurface(table, 1, 25).value).toBe(2);
    expect(curveAt(curveAtColumn(table, 12.5), 0.5)).toBe(2);
  });
});

describe('outside the points', () => {
  test('the end value is held, and the side is told', () => {
    expect(evaluateCurve(cell, -0.2)).toEqual({ value: 2.6, outside: 'below', first: 0, last: 1 });
    expect(evaluateCurve(cell, 1.2)).toEqual({ value: 3.4, outside: 'above', first: 0, last: 1 });
    expect(evaluateCurve(cell, 0.5)).toEqual({ value: 3.29, first: 0, last: 1 });
  });

  test('a rounding error beyond the end is not outside', () => {
    expect(evaluateCurve(cell, 1 + 1e-12).outside).toBeUndefined();
    expect(evaluateCurve(cell, -1e-12).outside).toBeUndefined();
    expect(evaluateCurve(cell, 1 + 1e-6).outside).toBe('above');
  });

  test('each of two axes has its own side', () => {
    expect(evaluateSurface(table, -1, 30)).toEqual({
      value: 2,
      outside: 'below',
      first: 0,
      last: 1,
      outsideColumns: 'above',
      firstColumn: 0,
      lastColumn: 25,
    });
  });
});

describe('the way back', () => {
  test('finds where a rising curve takes a value', () => {
    expect(inverse(cell, 3.245)?.value).toBeCloseTo(0.3, 10);
    expect(inverse(cell, 3.2)?.value).toBe(0.1);
  });

  test('finds it on a falling log curve', () => {
    const fuse = line('log', [1000, 10], [10_000, 0.01]);
    expect(inverse(fuse, 10 / 8)?.value).toBeCloseTo(2000, 8);
    expect(inverse(fuse, 100)).toEqual({ value: 1000, outside: 'above', first: 0.01, last: 10 });
    expect(inverse(fuse, 0.001)).toEqual({ value: 10_000, outside: 'below', first: 0.01, last: 10 });
  });

  test('takes the first point of a level stretch', () => {
    expect(inverse(line('linear', [0, 1], [1, 2], [2, 2], [3, 3]), 2)?.value).toBe(1);
    expect(inverse(line('smooth', [0, 3], [1, 2], [2, 2], [3, 1]), 2)?.value).toBe(1);
  });

  test('there is none where the curve turns', () => {
    expect(inverse(line('linear', [0, 1], [1, 2], [2, 1]), 1.5)).toBeUndefined();
    expect(inverse(cell, Number.NaN)).toBeUndefined();
  });

  test('which way it goes', () => {
    expect(direction(cell)).toBe('rising');
    expect(direction(line('linear', [0, 2], [1, 2], [2, 1]))).toBe('falling');
    expect(direction(line('linear', [0, 2], [1, 2]))).toBe('flat');
    expect(direction(line('linear', [0, 1], [1, 2], [2, 1]))).toBeUndefined();
  });
});

describe('area under the curve', () => {
  test('of straight lines, also beyond the ends', () => {
    const ramp = line('linear', [0, 0], [2, 4]);
    expect(integrateCurve(ramp, 0, 2)).toBeCloseTo(4, 12);
    expect(integrateCurve(ramp, -1, 3)).toBeCloseTo(8, 12);
    expect(integrateCurve(ramp, 2, 0)).toBeCloseTo(-4, 12);
  });

  test('of a power law', () => {
    // ∫ 8·x^-3 from 1 to 2 = 4·(1 − 1/4); ∫ 1/x from 1 to e = 1.
    expect(integrateCurve(line('log', [1, 8], [2, 1]), 1, 2)).toBeCloseTo(3, 12);
    expect(integrateCurve(line('log', [1, 1], [10, 0.1]), 1, Math.E)).toBeCloseTo(1, 12);
  });

  test('of a smooth curve equals a fine sum', () => {
    const curve = line('smooth', [0, 1], [0.5, 1.2], [2, 5], [3, 5]);
    let sum = 0;
    const steps = 30_000;
    for (let i = 0; i < steps; i++) sum += (curveAt(curve, ((i + 0.5) * 3) / steps) * 3) / steps;
    expect(integrateCurve(curve, 0, 3)).toBeCloseTo(sum, 7);
  });
});

describe('what is no curve', () => {
  test.each([
    [
      { shape: 'linear', x: [0], y: [1] },
      { problem: 'too_few', index: 1, axis: 'x' },
    ],
    [
      { shape: 'linear', x: [0, 1, 1], y: [1, 2, 3] },
      { problem: 'order', index: 2, axis: 'x' },
    ],
    [
      { shape: 'linear', x: [0, 2, 1], y: [1, 2, 3] },
      { problem: 'order', index: 2, axis: 'x' },
    ],
    [
      { shape: 'linear', x: [0, 1], y: [1] },
      { problem: 'length', index: 1, axis: 'y' },
    ],
    [
      { shape: 'smooth', x: [0, 1], y: [1, Number.NaN] },
      { problem: 'not_finite', index: 1, axis: 'y' },
    ],
    [
      { shape: 'log', x: [0, 1], y: [1, 2] },
      { problem: 'not_positive', index: 0, axis: 'x' },
    ],
    [
      { shape: 'log', x: [1, 2], y: [1, -2] },
      { problem: 'not_positive', index: 1, axis: 'y' },
    ],
    [
      { shape: 'linear', x: [0, 1], columns: [0, 1], y: [1, 2, 3] },
      { problem: 'length', index: 3, axis: 'y' },
    ],
    [
      { shape: 'linear', x: [0, 1], columns: [1, 0], y: [1, 2, 3, 4] },
      { problem: 'order', index: 1, axis: 'columns' },
    ],
    [
      { shape: 'smooth', x: [0, 1], columns: [0, 1], y: [1, 2, 3, 4] },
      { problem: 'shape', index: 0, axis: 'y' },
    ],
  ] as const)('%o', (spec, wanted) => {
    const result = makeCurve(spec);
    expect(result).toMatchObject({ ok: false, problems: [wanted] });
    expect(!result.ok && result.message).toMatch(/^A .*\.$|^The .*\.$/u);
  });
});

describe('scaling', () => {
  test('multiplies every value and leaves the axes', () => {
    for (const shape of ['linear', 'smooth', 'log'] as const) {
      const curve = line(shape, [1, 2], [2, 3], [4, 7]);
      for (const x of [0.5, 1.3, 2, 3.7, 5])
        expect(curveAt(scaleCurve(curve, 1.5), x)).toBeCloseTo(1.5 * curveAt(curve, x), 12);
      expect(curveAt(scaleCurve(curve, 0), 3)).toBe(0);
      expect(curveAt(scaleCurve(curve, -1), 3)).toBeCloseTo(-curveAt(curve, 3), 12);
    }
    const doubled = scaleCurve(table, 2);
    expect(doubled.shape === 'surface' && evaluateSurface(doubled, 0, 0).value).toBe(8);
  });
});

/** Running sums that start at 0.5. */
function sums(steps: readonly number[]): number[] {
  let sum = 0.5;
  return steps.map(step => {
    sum += step;
    return sum;
  });
}

describe('laws', () => {
  const shapes = fc.constantFrom<CurveShape>('linear', 'smooth', 'log');
  // Level or a real rise: steps of a single rounding error have no inverse to speak of.
  const rise = fc.oneof(fc.constant(0), fc.double({ min: 0.01, max: 3, noNaN: true }));
  const steps = fc.array(fc.tuple(fc.double({ min: 0.01, max: 5, noNaN: true }), rise), { minLength: 1, maxLength: 8 });
  const anyCurve = fc
    .tuple(shapes, steps, fc.array(fc.double({ min: 0.01, max: 9, noNaN: true }), { minLength: 9, maxLength: 9 }))
    .map(([shape, moves, values]) => {
      const xs = sums(moves.map(([dx]) => dx));
      const points = xs.map((x, i): [number, number] => [x, values[i] ?? 1]);
      return line(shape, [0.5, values[8] ?? 1], ...points);
    });
  const monotoneCurve = fc.tuple(shapes, steps, fc.boolean()).map(([shape, moves, falls]) => {
    const xs = [0.5, ...sums(moves.map(([dx]) => dx))];
    const ys = [0.5, ...sums(moves.map(([, dy]) => dy))];
    return line(shape, ...xs.map((x, i): [number, number] => [x, falls ? 50 - ys[i]! : ys[i]!]));
  });
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  const xOf = (curve: LineCurve, part: number) => {
    const [first = 0, last = 0] = [curve.x[0], curve.x.at(-1)];
    return first + part * (last - first);
  };

  test('a value lies between its neighbours, whatever the shape', () => {
    fc.assert(
      fc.property(anyCurve, share, (curve, part) => {
        const x = xOf(curve, part);
        const right = Math.max(
          1,
          curve.x.findIndex(each => each >= x),
        );
        const [a = 0, b = 0] = [curve.y[right - 1], curve.y[right]];
        const slack = 1e-12 * Math.max(a, b);
        expect(curveAt(curve, x)).toBeGreaterThanOrEqual(Math.min(a, b) - slack);
        expect(curveAt(curve, x)).toBeLessThanOrEqual(Math.max(a, b) + slack);
      }),
      { numRuns: 2000 },
    );
  });

  test('every stated point is met exactly', () => {
    fc.assert(fc.property(anyCurve, curve => curve.x.every((x, i) => curveAt(curve, x) === curve.y[i])));
  });

  test('between rising points a curve never falls', () => {
    fc.assert(
      fc.property(monotoneCurve, share, share, (curve, a, b) => {
        const [low, high] = [xOf(curve, Math.min(a, b)), xOf(curve, Math.max(a, b))];
        const rise = curveAt(curve, high) - curveAt(curve, low);
        expect(isMonotone(curve)).toBe(true);
        expect(direction(curve) === 'falling' ? -rise : rise).toBeGreaterThanOrEqual(-1e-12 * 50);
      }),
      { numRuns: 1000 },
    );
  });

  test('the way back leads to the same value', () => {
    fc.assert(
      fc.property(monotoneCurve, share, (curve, part) => {
        const y = curveAt(curve, xOf(curve, part));
        const found = inverse(curve, y);
        expect(found?.outside).toBeUndefined();
        expect(Math.abs(curveAt(curve, found?.value ?? Number.NaN) - y)).toBeLessThan(1e-9 * Math.max(1, y));
        expect(found?.value).toBeLessThanOrEqual(xOf(curve, part) * (1 + 1e-6));
      }),
      { numRuns: 2000 },
    );
  });

  test('the value moves little where x moves little', () => {
    fc.assert(
      fc.property(anyCurve, share, (curve, part) => {
        const x = xOf(curve, part);
        const jump = Math.abs(curveAt(curve, x * (1 + 1e-9)) - curveAt(curve, x));
        expect(jump).toBeLessThan(1e-3);
      }),
    );
  });
});
