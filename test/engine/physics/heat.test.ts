// Heat to a room and the air that carries it away.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  airDensity,
  airFlow,
  airRise,
  lossBehind,
  roomHeat,
  splitLoss,
  standardPressure,
} from '../../../engine/physics/heat.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

test('heat, flow and rise belong together', () => {
  fc.assert(
    fc.property(
      evenly(1, 1e5),
      evenly(1, 40),
      evenly(-500, 5000),
      evenly(233, 323),
      (heat, rise, altitude, temperature) => {
        const air = { altitude, temperature };
        expect(airRise(heat, airFlow(heat, rise, air)!, air)).toBeCloseTo(rise, 9);
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

test('outside the lowest layer of the atmosphere, or without a rise, there is no answer', () => {
  expect(airDensity(12_000, 250)).toBeUndefined();
  expect(airDensity(0, 0)).toBeUndefined();
  expect(airFlow(1000, 0, { altitude: 0, temperature: 293 })).toBeUndefined();
  expect(airRise(1000, 0, { altitude: 0, temperature: 293 })).toBeUndefined();
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
  expect(roomHeat([good, { ...good, share: 1.2 }])).toEqual({ ok: false, problem: 'impossible_source', index: 1 });
});

test('loss at two loads splits into a fixed part and one by the square', () => {
  const split = splitLoss({ ratio: 0.5, loss: 1000 + 0.25 * 8000 }, { ratio: 1, loss: 9000 })!;
  expect(split.fixed).toBeCloseTo(1000, 9);
  expect(split.load).toBeCloseTo(8000, 9);
  expect(splitLoss({ ratio: 1, loss: 9000 }, { ratio: 1, loss: 9100 })).toBeUndefined();
  expect(splitLoss({ ratio: 0.5, loss: 9000 }, { ratio: 1, loss: 8000 })).toBeUndefined();
});

test('the loss behind an efficiency', () => {
  expect(lossBehind(98e3, 0.98)).toBeCloseTo(2000, 6);
  expect(lossBehind(98e3, 0)).toBeUndefined();
});
