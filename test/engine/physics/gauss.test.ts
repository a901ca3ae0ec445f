// Five-point quadrature is exact for polynomials up to degree nine, and only for those.
import { describe, expect, it } from 'vitest';
import { gaussPoints, gaussWeights, overPanels } from '../../../engine/physics/gauss.ts';

const integral = (power: number) =>
  gaussPoints.reduce((sum, point, index) => sum + gaussWeights[index]! * point ** power, 0);

describe('Gauss–Legendre with five points', () => {
  it('integrates x^n over −1…1 for n up to 9', () => {
    for (let power = 0; power <= 9; power++) {
      expect(integral(power)).toBeCloseTo(power % 2 === 0 ? 2 / (power + 1) : 0, 14);
    }
    expect(Math.abs(integral(10) - 2 / 11)).toBeGreaterThan(1e-4);
  });

  it('sums over panels', () => {
    let sum = 0;
    overPanels(0, Math.PI, 0.3, (x, width) => {
      sum += width * Math.sin(x);
    });
    expect(sum).toBeCloseTo(2, 12);
  });

  it('sums over a stretch that begins elsewhere, from its first to its last panel', () => {
    const points: number[] = [];
    let sum = 0;
    overPanels(1, 3, 0.6, (x, width) => {
      points.push(x);
      sum += width * x ** 9;
    });
    expect(sum).toBeCloseTo((3 ** 10 - 1) / 10, 9);
    expect(points).toEqual([...points].sort((a, b) => a - b));
    // Panels no wider than 0.6 are four of a half.
    expect(points).toHaveLength(20);
  });
});
