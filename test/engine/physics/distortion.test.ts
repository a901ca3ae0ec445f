// Distortion figures: lines gathered by order, and what they are of a reference.

import { describe, expect, test } from 'vitest';
import { byOrder, distortion } from '../../../engine/physics/distortion.ts';

describe('by order', () => {
  test('lines count to the nearest order, squares adding', () => {
    const lines = [
      { frequency: 350, current: 2 },
      { frequency: 250, current: 3 },
      { frequency: 262, current: 4 },
      { frequency: 1150, current: 1 },
    ];
    expect(byOrder(lines, 50, line => line.current)).toEqual([
      { order: 5, amount: 5 },
      { order: 7, amount: 2 },
      { order: 23, amount: 1 },
    ]);
  });

  test('total and individual distortion leave out the fundamental and what lies past the highest order', () => {
    const amounts = [
      { order: 1, amount: 400 },
      { order: 5, amount: 12 },
      { order: 7, amount: 16 },
      { order: 50, amount: 0 },
      { order: 51, amount: 100 },
    ];
    const found = distortion(amounts, 400, 50)!;
    expect(found.total).toBeCloseTo(0.05, 12);
    expect(found.orders).toEqual([
      { order: 5, ratio: 0.03 },
      { order: 7, ratio: 0.04 },
      { order: 50, ratio: 0 },
    ]);
    expect(distortion(amounts, 400)!.total).toBeGreaterThan(0.25);
    expect(distortion(amounts, 0)).toBeUndefined();
  });
});
