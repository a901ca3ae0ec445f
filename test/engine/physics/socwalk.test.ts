// The run along the state of charge: closed forms of time and energy, kinks, singular ends, stops and the time limit.
import { describe, expect, test } from 'vitest';
import { type Run, type RunPoint, type RunTotals, walk } from '../../../engine/physics/socwalk.ts';

const capacity = 3600;

/** A battery of 100 V and 0.1 Ω that gives 10 A, but for what is said. */
const pointAt = (soc: number, rest: Partial<RunPoint<string>> = {}): RunPoint<string> => {
  const point = { soc, emf: 100, resistance: 0.1, current: 10, voltage: 99, stop: undefined, regime: 0, distance: 1 };
  return { ...point, ...rest };
};

interface Piece {
  readonly start: number;
  readonly end: number;
  readonly time: number;
  readonly regime: number;
}

function ran(
  at: (soc: number) => Partial<RunPoint<string>>,
  rest: Partial<Run<string>> = {},
): RunTotals<string> & { readonly pieces: readonly Piece[]; readonly looks: number } {
  const pieces: Piece[] = [];
  let looks = 0;
  const totals = walk<string>({
    at: soc => {
      looks++;
      return pointAt(soc, at(soc));
    },
    capacity,
    socFrom: 1,
    socTo: 0,
    knots: [],
    timeLimit: Number.POSITIVE_INFINITY,
    track: false,
    onPiece: (start, end, time, regime) => pieces.push({ start, end, time, regime }),
    ...rest,
  });
  return { ...totals, pieces, looks };
}

describe('a constant current', () => {
  test.each([
    [1, 0],
    [0.2, 0.9],
  ])('takes the charge over the current from %d to %d, and heats by R·I²', (socFrom, socTo) => {
    const found = ran(soc => ({ emf: 90 + 20 * soc }), { socFrom, socTo });
    const moved = Math.abs(socTo - socFrom);
    expect(found.time).toBeCloseTo((capacity * moved) / 10, 9);
    expect(found.losses).toBeCloseTo(0.1 * 10 ** 2 * found.time, 9);
    // ∫(90 + 20·s) ds over what was moved.
    expect(found.chemicalEnergy).toBeCloseTo(capacity * (90 * moved + 10 * Math.abs(socTo ** 2 - socFrom ** 2)), 6);
    expect(found).toMatchObject({ socEnd: socTo, stopped: 'soc', end: { soc: socTo }, track: [] });
  });

  test('is followed in pieces of a sixteenth at most, one after the other', () => {
    const { pieces, looks } = ran(() => ({}), { socFrom: 1, socTo: 0.1 });
    expect(pieces[0]!.start).toBe(1);
    expect(pieces.at(-1)!.end).toBe(0.1);
    for (const [index, { start, end, time }] of pieces.entries()) {
      expect(start - end).toBeLessThan(1 / 16 + 1e-12);
      expect(start - end).toBeGreaterThan(1 / 18);
      expect(time).toBeCloseTo((capacity * (start - end)) / 10, 9);
      if (index > 0) expect(start).toBe(pieces[index - 1]!.end);
    }
    expect(looks).toBe(1 + 6 * pieces.length);
  });

  test('over no way, or one that is no number, takes no time', () => {
    for (const socTo of [1, Number.NaN]) {
      const found = ran(() => ({}), { socTo });
      expect(found).toMatchObject({ time: 0, losses: 0, chemicalEnergy: 0, socEnd: 1, stopped: 'soc', pieces: [] });
    }
  });
});

describe('a current that changes', () => {
  test('as a polynomial of its inverse is integrated exactly', () => {
    // dt = C·(0.1 + 0.3·s²) ds.
    const found = ran(soc => ({ current: 1 / (0.1 + 0.3 * soc * soc), resistance: 0.1 + 0.3 * soc * soc }));
    expect(found.time).toBeCloseTo(capacity * (0.1 + 0.1), 8);
    // I·R is one here.
    expect(found.losses).toBeCloseTo(capacity, 8);
  });

  test('with a kink is exact where the kink is known', () => {
    const bent = (soc: number) => ({ emf: 100 * Math.abs(soc - 0.37) });
    const expected = capacity * 50 * (0.37 ** 2 + 0.63 ** 2);
    const known = ran(bent, { knots: [1.5, 0.37, -0.2, 1, 0] });
    expect(known.chemicalEnergy).toBeCloseTo(expected, 7);
    expect(known.pieces.filter(({ start }) => start === 0.37)).toHaveLength(1);
    expect(known.pieces.every(({ start, end }) => start <= 1 && end >= 0 && start > end)).toBe(true);
    expect(Math.abs(ran(bent).chemicalEnergy - expected)).toBeGreaterThan(1e-3);
  });

  test('with several kinks, in any order and in either direction', () => {
    const steps = (soc: number) => ({ emf: Math.abs(soc - 0.1) + Math.abs(soc - 0.45) + Math.abs(soc - 0.86) });
    const knots = [0.45, 0.86, 0.1];
    const whole = knots.reduce((sum, knot) => sum + (knot ** 2 + (1 - knot) ** 2) / 2, 0);
    expect(ran(steps, { knots }).chemicalEnergy).toBeCloseTo(capacity * whole, 9);
    expect(ran(steps, { knots, socFrom: 0, socTo: 1 }).chemicalEnergy).toBeCloseTo(capacity * whole, 9);
  });

  test('that dies away takes the logarithm of the way, to many digits', () => {
    // I = 10·s: t = C/10·ln(1/s). Told of the distance from the singular end, the pieces get shorter towards it.
    for (const socTo of [0.01, 1e-4]) {
      const found = ran(soc => ({ current: 10 * soc, distance: soc }), { socTo });
      expect(found.time / ((capacity / 10) * Math.log(1 / socTo))).toBeCloseTo(1, 7);
      for (const { start, end } of found.pieces) expect(start / end).toBeLessThan(2 + 1e-9);
    }
    // The same the other way round.
    const charged = ran(soc => ({ current: 10 * (1 - soc), distance: 1 - soc }), { socFrom: 0, socTo: 0.999 });
    expect(charged.time / ((capacity / 10) * Math.log(1000))).toBeCloseTo(1, 7);
    const rising = ran(soc => ({ current: 10 * soc, distance: soc }), { socFrom: 1e-3, socTo: 1 });
    expect(rising.time / ((capacity / 10) * Math.log(1000))).toBeCloseTo(1, 7);
  });

  test('that falls to nothing comes to an end nevertheless', () => {
    const found = ran(soc => ({ current: soc, distance: soc }));
    expect(found.looks).toBeLessThan(400);
    expect(found.socEnd).toBeLessThan(1e-6);
    expect(found.time).not.toBeNaN();
  });
});

describe('a change of regime', () => {
  test('lies between two pieces, each of which is told its own', () => {
    for (const edge of [0.5, 0.4321, 0.93]) {
      for (const [socFrom, socTo] of [
        [1, 0],
        [0, 1],
      ] as const) {
        const found = ran(soc => (soc > edge ? { current: 20, regime: 1 } : { current: 5, regime: 2 }), {
          socFrom,
          socTo,
        });
        expect(found.time).toBeCloseTo(capacity * ((1 - edge) / 20 + edge / 5), 6);
        for (const { start, end, regime } of found.pieces) {
          if (Math.abs(start - end) > 1e-9) expect((start + end) / 2 > edge).toBe(regime === 1);
        }
      }
    }
  });

  test('twice within one piece is found twice', () => {
    const narrow = (soc: number) => (soc > 0.5 && soc < 0.53 ? { current: 20, regime: 1 } : { current: 5 });
    expect(ran(narrow).time).toBeCloseTo(capacity * (0.03 / 20 + 0.97 / 5), 6);
  });
});

describe('a stop', () => {
  test('ends the run at the last state of charge that is allowed', () => {
    for (const edge of [0.2, 0.2345, 0.99]) {
      const found = ran(soc => (soc < edge ? { stop: 'low' } : {}));
      expect(found.socEnd).toBeCloseTo(edge, 13);
      expect(found.socEnd).toBeGreaterThanOrEqual(edge);
      expect(found).toMatchObject({ stopped: 'low', end: { stop: undefined } });
      expect(found.time).toBeCloseTo((capacity * (1 - edge)) / 10, 9);
    }
  });

  test('is named by what forbids the next', () => {
    expect(ran(soc => (soc < 0.3 ? { stop: soc < 0.2 ? 'second' : 'first' } : {})).stopped).toBe('first');
    expect(ran(soc => (soc < 0.3 ? { stop: 'only' } : soc < 0.6 ? { regime: 1 } : {})).stopped).toBe('only');
  });

  test('at the start lets nothing run', () => {
    const found = ran(() => ({ stop: 'never' }));
    expect(found).toMatchObject({ stopped: 'never', time: 0, socEnd: 1, pieces: [], end: { stop: 'never' } });
  });
});

describe('the time limit', () => {
  test('ends a constant current where its charge is spent', () => {
    const found = ran(() => ({}), { timeLimit: 100, track: true });
    expect(found).toMatchObject({ stopped: 'time', time: 100 });
    expect(found.socEnd).toBeCloseTo(1 - 1000 / capacity, 12);
    expect(found.end.soc).toBe(found.socEnd);
    expect(found.losses).toBeCloseTo(0.1 * 100 * 100, 8);
    expect(found.track.at(-1)).toMatchObject({ time: 100, soc: found.socEnd });
    // The start; six points a piece, the last of which is cut; its part is right at the first guess, and is looked at twice.
    expect(found.looks).toBe(1 + 6 * found.pieces.length + 2 * 6);
  });

  test('ends one that dies away where it has got to', () => {
    // s = exp(−10·t/C), and the other way round for a charge.
    for (const timeLimit of [30, 200, 1000]) {
      const end = Math.exp((-10 * timeLimit) / capacity);
      const found = ran(soc => ({ current: 10 * soc, distance: soc }), { socTo: 1e-3, timeLimit });
      expect(found.socEnd).toBeCloseTo(end, 8);
      expect(found.pieces.reduce((sum, { time }) => sum + time, 0)).toBeCloseTo(timeLimit, 9);
      const back = { socFrom: 0, socTo: 0.999, timeLimit };
      expect(ran(soc => ({ current: 10 * (1 - soc), distance: 1 - soc }), back).socEnd).toBeCloseTo(1 - end, 8);
    }
  });

  test('just met is not one', () => {
    expect(ran(() => ({}), { socTo: 0.9375, timeLimit: capacity / 160 })).toMatchObject({
      stopped: 'soc',
      socEnd: 0.9375,
    });
  });
});

test('the track holds the start and the end of each piece, with what was there', () => {
  const { track, pieces } = ran(soc => ({ voltage: 90 + soc, current: 10 + soc }), { socTo: 0.8, track: true });
  expect(track.map(({ soc }) => soc)).toEqual([1, ...pieces.map(({ end }) => end)]);
  let time = 0;
  for (const [index, point] of track.entries()) {
    if (index > 0) time += pieces[index - 1]!.time;
    expect(point).toEqual({ time, soc: point.soc, voltage: 90 + point.soc, current: 10 + point.soc });
  }
});

test('the extremes are those on the way, from the start on', () => {
  const rising = ran(soc => ({ voltage: 90 + soc, current: 10 - soc }));
  expect(rising).toMatchObject({ lowestVoltage: 90, highestVoltage: 91, highestCurrent: 10 });
  const falling = ran(soc => ({ voltage: 90 - soc, current: 10 + soc }));
  expect(falling).toMatchObject({ lowestVoltage: 89, highestVoltage: 90, highestCurrent: 11 });
  // A dip in the middle of a piece, 0.5 to 0.5625, seen by a point inside it.
  const dipped = (soc: number) => Math.abs(soc - 0.53125) < 0.003;
  const dip = ran(soc => (dipped(soc) ? { voltage: 50, current: 70 } : { voltage: 90, current: 10 }));
  expect(dip).toMatchObject({ lowestVoltage: 50, highestVoltage: 90, highestCurrent: 70 });
});

test('nobody need be told of the pieces', () => {
  const run = {
    at: (soc: number) => pointAt(soc),
    capacity,
    socFrom: 1,
    socTo: 0,
    knots: [],
    timeLimit: 1e9,
    track: false,
  };
  expect(walk<string>(run).time).toBeCloseTo(capacity / 10, 9);
});
