// Batteries and converters on a net of cables: Kirchhoff at every point, and nothing more than the net has.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equalising, together } from '../../../engine/physics/bank.ts';
import { currentsAtPowers, type DcNet, netResponse, netState, voltageAt } from '../../../engine/physics/dc-net.ts';
import { evenly } from '../../kit/evenly.ts';

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

describe('a net of cables', () => {
  it('of one point is batteries side by side', () => {
    const sources = [
      { point: 0, emf: 700, resistance: 0.1 },
      { point: 0, emf: 720, resistance: 0.3 },
    ];
    const state = netState({ points: 1, runs: [], sources, taps: [{ point: 0, part: 1 }] })!;
    const one = together(sources);
    expect(state.idle[0]).toBeCloseTo(one.emf, 9);
    expect(state.slope[0]).toBeCloseTo(-one.resistance, 12);
    expect(state.sourceParts).toEqual(one.parts.map(part => expect.closeTo(part, 12)));
    expect(state.sourceIdle).toEqual(equalising(sources).map(current => expect.closeTo(current, 9)));
  });

  it('with a tie between two equal halves leaves it without current', () => {
    const net: DcNet = {
      points: 2,
      runs: [{ from: 0, to: 1, resistance: 0.02 }],
      sources: [0, 1].map(point => ({ point, emf: 700, resistance: 0.1 })),
      taps: [0, 1].map(point => ({ point, part: 0.5 })),
    };
    const { slope, runParts, sourceParts } = netState(net)!;
    expect(slope).toEqual([expect.closeTo(-0.05, 12), expect.closeTo(-0.05, 12)]);
    expect(runParts).toEqual([expect.closeTo(0, 12)]);
    expect(sourceParts).toEqual([expect.closeTo(0.5, 12), expect.closeTo(0.5, 12)]);
  });

  it('whose current is all drawn at one end brings the other’s through the tie', () => {
    const net: DcNet = {
      points: 2,
      runs: [{ from: 0, to: 1, resistance: 0.1 }],
      sources: [0, 1].map(point => ({ point, emf: 700, resistance: 0.1 })),
      taps: [{ point: 0, part: 1 }],
    };
    // 0.1 Ω beside 0.2 Ω: a third comes through the tie, against its direction.
    const { slope, runParts, sourceParts } = netState(net)!;
    expect(slope[0]).toBeCloseTo(-0.2 / 3, 12);
    expect(runParts[0]).toBeCloseTo(-1 / 3, 12);
    expect(sourceParts).toEqual([expect.closeTo(2 / 3, 12), expect.closeTo(1 / 3, 12)]);
  });

  it('is unknown where something has no resistance, or hangs in the air', () => {
    const sources = [{ point: 0, emf: 700, resistance: 0.1 }];
    const taps = [{ point: 0, part: 1 }];
    expect(netState({ points: 2, runs: [], sources, taps })).toBeUndefined();
    expect(netState({ points: 1, runs: [], sources: [{ point: 0, emf: 700, resistance: 0 }], taps })).toBeUndefined();
    const runs = [{ from: 0, to: 1, resistance: Number.NaN }];
    const endless = [{ from: 0, to: 1, resistance: Number.POSITIVE_INFINITY }];
    expect(netState({ points: 2, runs: endless, sources, taps })).toBeUndefined();
    expect(netState({ points: 2, runs, sources, taps })).toBeUndefined();
  });

  /** A chain of points with chords, so that it hangs together. */
  const some = fc
    .record({
      points: fc.integer({ min: 1, max: 7 }),
      chords: fc.array(fc.tuple(fc.nat(6), fc.nat(6), evenly(1e-4, 0.1)), { maxLength: 5 }),
      chain: fc.array(evenly(1e-4, 0.1), { minLength: 6, maxLength: 6 }),
      batteries: fc.array(fc.tuple(fc.nat(6), evenly(600, 800), evenly(1e-3, 0.5)), { minLength: 1, maxLength: 5 }),
      taps: fc.array(fc.tuple(fc.nat(6), evenly(0.1, 1)), { minLength: 1, maxLength: 4 }),
    })
    .map(({ points, chords, chain, batteries, taps }): DcNet => {
      const whole = sum(taps.map(([, part]) => part));
      return {
        points,
        runs: [
          ...chain.slice(0, points - 1).map((resistance, from) => ({ from, to: from + 1, resistance })),
          ...chords.map(([from, to, resistance]) => ({ from: from % points, to: to % points, resistance })),
        ],
        sources: batteries.map(([point, emf, resistance]) => ({ point: point % points, emf, resistance })),
        taps: taps.map(([point, part]) => ({ point: point % points, part: part / whole })),
      };
    });

  it('keeps current at every point and power in all', () => {
    fc.assert(
      fc.property(some, evenly(-800, 800), (net, amperes) => {
        const { idle, slope, sourceIdle, sourceParts, runParts } = netState(net)!;
        expect(sum(sourceParts)).toBeCloseTo(1, 6);
        expect(sum(sourceIdle)).toBeCloseTo(0, 4);
        const volts = idle.map((value, point) => value + slope[point]! * amperes);
        const out = sourceParts.map((part, index) => sourceIdle[index]! + part * amperes);
        const flow = ({ from, to, resistance }: DcNet['runs'][number]) => (volts[from]! - volts[to]!) / resistance;
        for (let point = 0; point < net.points; point++) {
          const given = sum(net.sources.map((source, index) => (source.point === point ? out[index]! : 0)));
          const taken = sum(net.taps.map(tap => (tap.point === point ? tap.part * amperes : 0)));
          const left = sum(
            net.runs.map(run => (run.from === point ? flow(run) : 0) - (run.to === point ? flow(run) : 0)),
          );
          expect(given - taken - left).toBeCloseTo(0, 4);
        }
        for (const [index, run] of net.runs.entries())
          expect((slope[run.from]! - slope[run.to]!) / run.resistance).toBeCloseTo(runParts[index]!, 9);
      }),
    );
  });
});

describe('converters that take power', () => {
  const net: DcNet = {
    points: 3,
    runs: [
      { from: 0, to: 1, resistance: 0.02 },
      { from: 1, to: 2, resistance: 0.03 },
    ],
    sources: [
      { point: 0, emf: 700, resistance: 0.05 },
      { point: 2, emf: 710, resistance: 0.08 },
    ],
    taps: [0, 1, 2].map(point => ({ point, part: 1 / 3 })),
  };
  const response = netResponse(net)!;

  it('each draw their own, in either direction, at the voltage that all of them leave', () => {
    fc.assert(
      fc.property(fc.tuple(evenly(-3e5, 3e5), evenly(-3e5, 3e5), evenly(-3e5, 3e5)), powers => {
        const currents = currentsAtPowers(response, powers)!;
        for (const [index, { point }] of response.taps.entries())
          expect(currents[index]! * voltageAt(response, currents, point)).toBeCloseTo(powers[index]!, 5);
      }),
    );
  });

  it('of which one takes nothing leaves it without current, and with its voltage', () => {
    const [first, none, last] = currentsAtPowers(response, [1e5, 0, 1e5])!;
    expect(none).toBe(0);
    expect(first! * last!).toBeGreaterThan(0);
    expect(currentsAtPowers(response, [0, 0, 0])).toEqual([0, 0, 0]);
  });

  it('alone on one battery find what a quadratic gives', () => {
    const alone = netResponse({
      points: 1,
      runs: [],
      sources: [{ point: 0, emf: 700, resistance: 0.1 }],
      taps: [{ point: 0, part: 1 }],
    })!;
    const drawn = (power: number) => currentsAtPowers(alone, [power])?.[0];
    expect(drawn(5e5)).toBeCloseTo((700 - Math.sqrt(700 ** 2 - 4 * 0.1 * 5e5)) / 0.2, 6);
    // 700²/(4·0.1) is the most that it gives.
    expect(drawn(1.2e6)).toBeCloseTo((700 - Math.sqrt(700 ** 2 - 4 * 0.1 * 1.2e6)) / 0.2, 3);
    expect(drawn(1.226e6)).toBeUndefined();
    expect(drawn(Number.NaN)).toBeUndefined();
  });

  it('in fixed parts of one current are the sum of each by itself', () => {
    const { slope, sourceParts, runParts } = netState(net)!;
    const third = (of: 'slope' | 'sourceParts' | 'runParts', index: number) =>
      response.taps.reduce((total, tap) => total + tap[of][index]! / 3, 0);
    expect(slope).toEqual([0, 1, 2].map(index => expect.closeTo(third('slope', index), 12)));
    expect(sourceParts).toEqual([0, 1].map(index => expect.closeTo(third('sourceParts', index), 12)));
    expect(runParts).toEqual([0, 1].map(index => expect.closeTo(third('runParts', index), 12)));
  });
});
