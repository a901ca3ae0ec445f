// Places of a change of sign that are known exactly.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signChange } from '../../../engine/physics/sign-change.ts';

/** The place found between two others, and how often the function was asked. */
function between(low: number, high: number, of: (x: number) => number): { place: number; calls: number } {
  let calls = 0;
  const counted = (x: number): number => {
    calls++;
    return of(x);
  };
  return { place: signChange([low, of(low)], [high, of(high)], counted), calls };
}

/** Calls that halving alone takes for 1e-10 of a place between 1 and 10. */
const halvings = Math.ceil(Math.log2(Math.log(10) / 1e-10));

describe('where a function changes its sign', () => {
  it('is the root of two for x² − 2', () => {
    const { place, calls } = between(1, 2, x => x * x - 2);
    expect(place / Math.SQRT2 - 1).toBeCloseTo(0, 10);
    expect(calls).toBeLessThan(17);
  });

  it('is found where the function falls, bends, or stays nearly flat on one side', () => {
    expect(between(100, 1000, x => 400 / x - 1).place / 400 - 1).toBeCloseTo(0, 10);
    expect(between(1, 10, x => Math.max(x - 3, 1e-6 * (x - 3))).place / 3 - 1).toBeCloseTo(0, 9);
    expect(between(1, 10, x => x ** 20 - 2 ** 20).place / 2 - 1).toBeCloseTo(0, 9);
  });

  it('is the place of a jump', () => {
    const { place, calls } = between(1, 10, x => (x < Math.PI ? -1 : 5));
    expect(place / Math.PI - 1).toBeCloseTo(0, 9);
    expect(calls).toBeLessThan(101);
  });

  it('is met by the first secant where the function is a straight line over the logarithm', () => {
    for (const sign of [1, -1]) {
      const { place, calls } = between(1, 10, x => sign * Math.log(x / 3));
      expect(place).toBeCloseTo(3, 12);
      expect(calls).toBe(1);
    }
  });

  it('takes half the calls of halving on average, bent to either side, rising or falling, near either end', () => {
    const counts: number[] = [];
    for (const sign of [1, -1]) {
      for (const power of [-20, -3, -1, 1, 3, 20]) {
        for (const root of [1.02, 2, 5, 9.8]) {
          const { place, calls } = between(1, 10, x => sign * (x ** power - root ** power));
          expect(Math.abs(place / root - 1)).toBeLessThan(1e-10);
          expect(calls).toBeLessThan(0.75 * halvings);
          counts.push(calls);
        }
      }
    }
    expect(counts.reduce((sum, calls) => sum + calls) / counts.length).toBeLessThanOrEqual(halvings / 2);
  });

  it('takes at most twice the calls of halving, however unlike the two sides of a jump', () => {
    for (const [below, above] of [
      [-1e9, 1],
      [-1, 1e9],
      [1e9, -1],
      [1, -1e9],
    ] as const) {
      const { place, calls } = between(1, 10, x => (x < Math.PI ? below : above));
      expect(Math.abs(place / Math.PI - 1)).toBeLessThan(1e-10);
      expect(calls).toBeLessThanOrEqual(2 * halvings);
    }
  });

  it('is the very place where the function is nothing', () => {
    let calls = 0;
    const place = signChange([1, -1], [9, 1], x => {
      calls++;
      return x - 3;
    });
    expect([place, calls]).toEqual([3, 1]);
  });

  it('is not sought for ever from zero, which lies nowhere on a logarithmic scale', () => {
    const { place, calls } = between(0, 10, x => x - 3);
    expect(place).not.toBeNaN();
    expect(calls).toBeLessThan(102);
  });

  it('is the end of what is known, where beyond it nothing is', () => {
    expect(between(1, 10, x => (x < 4 ? Number.NaN : 1)).place / 4 - 1).toBeCloseTo(0, 9);
  });

  it('lies where the function is nothing, whatever its powers and its root', () => {
    const some = { min: 0.2, max: 5, noNaN: true };
    fc.assert(
      fc.property(fc.double(some), fc.double(some), (root, power) => {
        const { place } = between(root / 3, root * 2, x => (x / root) ** power - 1);
        expect(Math.abs(place / root - 1)).toBeLessThan(1e-9);
      }),
    );
  });
});
