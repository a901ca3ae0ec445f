// Heat to a room and the air that carries it away.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  airDensity,
  airFlow,
  roomHeat,
  specificHeatOfAir,
  standardPressure,
  standardTemperature,
} from '../../../engine/physics/heat.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

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

test('what does not reach the room leaves elsewhere: all of the loss is somewhere', () => {
  fc.assert(
    fc.property(
      fc.array(fc.record({ fixed: evenly(0, 1e4), load: evenly(0, 1e4), ratio: evenly(0, 2), share: evenly(0, 1) }), {
        maxLength: 5,
      }),
      sources => {
        const found = solved(roomHeat(sources));
        const whole = sources.reduce((sum, { fixed, load, ratio }) => sum + fixed + load * ratio * ratio, 0);
        expect(found.total + found.elsewhere).toBeCloseTo(whole, 6);
        expect(found.total).toBeCloseTo(found.fixed + found.load, 6);
      },
    ),
  );
});

test('the impossible source is named', () => {
  const good = { fixed: 100, load: 900, ratio: 1 };
  expect(solved(roomHeat([good])).total).toBe(1000);
  for (const wrong of [{ fixed: -100 }, { load: -900 }, { ratio: -1 }, { share: -0.1 }, { share: 1.2 }]) {
    expect(roomHeat([good, { ...good, ...wrong }])).toEqual({ ok: false, problem: 'impossible_source', index: 1 });
    expect(roomHeat([{ ...good, ...wrong }, good])).toMatchObject({ ok: false, index: 0 });
  }
});

test('a source may have no fixed loss, and may give nothing to the room', () => {
  expect(solved(roomHeat([{ fixed: 0, load: 900, ratio: 1, share: 0 }]))).toMatchObject({ total: 0, elsewhere: 900 });
});
