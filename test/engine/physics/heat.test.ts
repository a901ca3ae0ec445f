// The air that carries heat away.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  airDensity,
  airFlow,
  specificHeatOfAir,
  standardPressure,
  standardTemperature,
} from '../../../engine/physics/heat.ts';
import { evenly } from '../../kit/evenly.ts';

const nothing = [undefined, undefined, undefined];

test('heat, flow and rise belong together', () => {
  fc.assert(
    fc.property(
      evenly(1, 1e5),
      evenly(1, 40),
      evenly(-500, 5000),
      evenly(233, 323),
      (heat, rise, altitude, temperature) => {
        const air = { altitude, temperature };
        // What flows takes the heat up: kg/s times J/(kg·K) times K.
        const taken = airFlow(heat, rise, air)! * airDensity(altitude, temperature)! * specificHeatOfAir * rise;
        expect(taken / heat).toBeCloseTo(1, 12);
      },
    ),
  );
});

test('thin or warm air must flow more', () => {
  const flow = (altitude: number, temperature: number) => airFlow(10e3, 10, { altitude, temperature })!;
  expect(flow(3000, 293.15)).toBeGreaterThan(flow(0, 293.15));
  expect(flow(0, 313.15)).toBeGreaterThan(flow(0, 273.15));
  // Pressure alone: at 3000 m there is 70 % of it.
  expect(flow(0, 293.15) / flow(3000, 293.15)).toBeCloseTo(standardPressure(3000)! / standardPressure(0)!, 12);
});

test('no heat needs no air', () => {
  expect(airFlow(0, 10, { altitude: 0, temperature: 293 })).toBe(0);
});

describe('there is no answer', () => {
  test.each([-2001, 11_001])('outside the lowest layer of the atmosphere: at %d m', altitude => {
    expect([standardPressure(altitude), standardTemperature(altitude), airDensity(altitude, 250)]).toEqual(nothing);
    expect(airFlow(1000, 10, { altitude, temperature: 293 })).toBeUndefined();
  });

  test.each([-2000, 11_000])('but to its very ends: %d m', altitude => {
    expect(standardPressure(altitude)).toBeGreaterThan(0);
    expect(standardTemperature(altitude)).toBeGreaterThan(0);
  });

  test('without a rise or a flow, below absolute zero, and for a cold that is called heat', () => {
    const air = { altitude: 0, temperature: 293 };
    expect(airDensity(0, 0)).toBeUndefined();
    expect([airFlow(1000, 0, air), airFlow(1000, -10, air), airFlow(-1000, 10, air)]).toEqual(nothing);
  });
});
