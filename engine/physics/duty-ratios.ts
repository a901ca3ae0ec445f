// For what share of a switching period each leg of a two-level converter stands at its upper rail.

import type { Modulation } from './modulation.ts';

export const thirdOfTurn = (2 * Math.PI) / 3;

/**
 * Shares of the three legs at an angle of the fundamental (rad, from the first phase's peak) and a modulation index
 * (phase amplitude over half the direct voltage), carrier far faster than the fundamental.
 */
export function dutyRatios(angle: number, index: number, modulation: Modulation): [number, number, number] {
  const first = index * Math.cos(angle);
  const second = index * Math.cos(angle - thirdOfTurn);
  const third = index * Math.cos(angle + thirdOfTurn);
  const common = commonMode(angle, index, modulation, first, second, third);
  return [(1 + first + common) / 2, (1 + second + common) / 2, (1 + third + common) / 2];
}

function commonMode(
  angle: number,
  index: number,
  modulation: Modulation,
  ...phases: readonly [number, number, number]
): number {
  if (modulation === 'sine') return 0;
  if (modulation === 'third_harmonic') return (-index / 6) * Math.cos(3 * angle);
  return -(Math.max(...phases) + Math.min(...phases)) / 2;
}
