// Tappings: ratios, the best fixed one, and what an on-load tap changer takes out.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bestFixedTap,
  customaryOffCircuitTaps,
  largestStep,
  nearestTap,
  onLoadRange,
  ratioAtTap,
  ratioSpan,
  regulatedRatio,
  secondaryAtTap,
} from '../../../engine/physics/taps.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const offCircuit = { primaryVoltage: 20e3, secondaryVoltage: 400, taps: customaryOffCircuitTaps };
const onLoad = { primaryVoltage: 20e3, secondaryVoltage: 400, taps: { step: 0.0125, above: 8, below: 8 } };

test('ratio at the tappings', () => {
  expect(ratioAtTap(offCircuit, 0)).toBe(50);
  expect(ratioAtTap(offCircuit, 2)).toBeCloseTo(52.5, 12);
  expect(ratioAtTap(offCircuit, -2)).toBeCloseTo(47.5, 12);
  expect(ratioAtTap(offCircuit, 3)).toBeUndefined();
  expect(ratioAtTap(offCircuit, 0.5)).toBeUndefined();
});

describe('fixed tapping', () => {
  test('a network that stands high wants more turns', () => {
    const found = solved(bestFixedTap(offCircuit, { low: 20.6e3, high: 21.4e3 }, 400));
    expect(found.position).toBe(2);
    expect(found.low).toBeCloseTo(20.6e3 / 52.5, 9);
  });

  test('no other position is nearer', () => {
    fc.assert(
      fc.property(evenly(18e3, 22e3), evenly(0, 2e3), (low, more) => {
        const network = { low, high: low + more };
        const best = solved(bestFixedTap(offCircuit, network, 400));
        for (const position of [-2, -1, 0, 1, 2]) {
          const span = secondaryAtTap(offCircuit, position, network)!;
          const deviation = Math.max(Math.abs(span.low / 400 - 1), Math.abs(span.high / 400 - 1));
          expect(best.deviation).toBeLessThanOrEqual(deviation + 1e-12);
        }
      }),
    );
  });
});

describe('on-load tap changer', () => {
  test('takes out its own reach and half the dead band', () => {
    const found = solved(onLoadRange(onLoad, { low: 18.5e3, high: 21.5e3 }, 400, 0.02));
    expect(found.reachesAll).toBe(true);
    expect(found.left.low).toBeCloseTo(396, 9);
    expect(found.left.high).toBeCloseTo(404, 9);
    expect(found.takenOut.low).toBeCloseTo(396 * 50 * 0.9, 6);
    expect(found.takenOut.high).toBeCloseTo(404 * 50 * 1.1, 6);
  });

  test('beyond its reach the rest follows the network', () => {
    const found = solved(onLoadRange(onLoad, { low: 16e3, high: 23e3 }, 400, 0.02));
    expect(found.reachesAll).toBe(false);
    expect(found.left.low).toBeCloseTo(16e3 / 45, 9);
    expect(found.left.high).toBeCloseTo(23e3 / 55, 9);
    expect([found.atLow, found.atHigh]).toEqual([-8, 8]);
  });

  test('a dead band as narrow as a step hunts', () => {
    expect(onLoadRange(onLoad, { low: 19e3, high: 21e3 }, 400, 0.0125)).toEqual({
      ok: false,
      problem: 'hunts',
      least: largestStep(onLoad.taps),
    });
    expect(largestStep(onLoad.taps)).toBeCloseTo(0.0125 / 0.9, 12);
    expect(largestStep({ step: 0.01, above: 0, below: 0 })).toBe(0);
  });

  test('a changer that steps whenever it is outside ends inside, within its reach, from any position', () => {
    fc.assert(
      fc.property(
        evenly(18e3, 22e3),
        fc.integer({ min: -8, max: 8 }),
        evenly(0.0139, 0.04),
        (network, start, deadBand) => {
          const { takenOut, left } = solved(onLoadRange(onLoad, { low: network, high: network }, 400, deadBand));
          let position = start;
          for (let step = 0; step < 40; step++) {
            const secondary = network / ratioAtTap(onLoad, position)!;
            if (secondary > 400 * (1 + deadBand / 2) && position < 8) position++;
            else if (secondary < 400 * (1 - deadBand / 2) && position > -8) position--;
          }
          const secondary = network / ratioAtTap(onLoad, position)!;
          expect(secondary).toBeGreaterThanOrEqual(left.low - 1e-9);
          expect(secondary).toBeLessThanOrEqual(left.high + 1e-9);
          if (network >= takenOut.low && network <= takenOut.high) {
            expect(Math.abs(secondary / 400 - 1)).toBeLessThanOrEqual(deadBand / 2 + 1e-9);
          }
        },
      ),
    );
  });

  test('impossible tappings are said to be so', () => {
    const taps = { step: 0.2, above: 0, below: 5 };
    expect(onLoadRange({ ...onLoad, taps }, { low: 1, high: 2 }, 400, 0.5).ok).toBe(false);
    expect(bestFixedTap(offCircuit, { low: 2, high: 1 }, 400)).toEqual({ ok: false, problem: 'impossible_input' });
    expect(nearestTap(offCircuit, 0, 400)).toBeUndefined();
  });
});

describe('the ratio of a regulator', () => {
  const principal = 400 / 360;

  test('follows the network between the ends of its tappings', () => {
    const span = ratioSpan(principal, 0.1, 'network');
    expect(regulatedRatio(380, 360, span)).toBeCloseTo(380 / 360, 12);
    expect(regulatedRatio(300, 360, span)).toBeCloseTo(0.9 * principal, 12);
    expect(regulatedRatio(500, 360, span)).toBeCloseTo(1.1 * principal, 12);
  });

  test('reaches further up than down with the tappings on the other winding', () => {
    const { least, greatest } = ratioSpan(principal, 0.1, 'converter');
    expect(least).toBeCloseTo(principal / 1.1, 12);
    expect(greatest).toBeCloseTo(principal / 0.9, 12);
  });
});
