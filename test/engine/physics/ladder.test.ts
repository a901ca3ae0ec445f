// The ladder: what it carries, that power is kept, and that its ways of being asked agree.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chainOf,
  type LadderElement,
  noLoadVoltage,
  seriesImpedanceReferredToConverter,
  sharedElement,
  solveBlockedLadder,
  solveLadder,
  solveLadderFromConverter,
  sourceImpedanceSeenFromConverter,
} from '../../../engine/physics/ladder.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const cable: LadderElement = { kind: 'series', resistance: 0.002, reactance: 0.001 };
const ratio: LadderElement = { kind: 'ratio', ratio: 400 / 360 };
const iron: LadderElement = { kind: 'shunt', conductance: 0.006, susceptance: -0.02 };
const winding: LadderElement = { kind: 'series', resistance: 0.003, reactance: 0.015 };
const capacitor: LadderElement = { kind: 'shunt', conductance: 0.0005, susceptance: 0.094 };
const choke: LadderElement = { kind: 'series', resistance: 0.001, reactance: 0.0314 };
const plant = [cable, ratio, iron, winding, capacitor, choke];
const stiff = { resistance: 0, reactance: 0 };

const relative = (a: number, b: number): number => Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b), 1);

describe('power demanded at the network', () => {
  test('without an element the terminals are the connection point', () => {
    const solution = solved(solveLadder([], 400, 300e3, 400e3));
    expect(solution.terminalVoltage).toBe(400);
    expect(solution.terminalCurrent).toBeCloseTo(500e3 / (Math.sqrt(3) * 400), 9);
    expect(solution.terminalCosPhi).toBeCloseTo(0.6, 12);
    expect(solution.totalLoss).toBe(0);
  });

  test('active power through a resistance raises the converter by the drop, in the direction of flow', () => {
    const resistor: LadderElement = { kind: 'series', resistance: 0.01, reactance: 0 };
    const current = 400e3 / (Math.sqrt(3) * 400);
    const drop = Math.sqrt(3) * 0.01 * current;
    expect(solved(solveLadder([resistor], 400, 400e3, 0)).terminalVoltage).toBeCloseTo(400 + drop, 9);
    expect(solved(solveLadder([resistor], 400, -400e3, 0)).terminalVoltage).toBeCloseTo(400 - drop, 9);
    expect(solved(solveLadder([resistor], 400, -400e3, 0)).totalLoss).toBeCloseTo(3 * 0.01 * current ** 2, 6);
  });

  test('delivered reactive power raises the converter by X·Q/U, absorbed lowers it', () => {
    const reactor: LadderElement = { kind: 'series', resistance: 0, reactance: 0.02 };
    expect(solved(solveLadder([reactor], 400, 0, 200e3)).terminalVoltage).toBeCloseTo(400 + (0.02 * 200e3) / 400, 9);
    expect(solved(solveLadder([reactor], 400, 0, -200e3)).terminalVoltage).toBeCloseTo(400 - (0.02 * 200e3) / 400, 9);
  });

  test('a capacitor delivers what the converter then need not', () => {
    const bank: LadderElement = { kind: 'shunt', conductance: 0, susceptance: 0.1 };
    const solution = solved(solveLadder([bank], 400, 0, 16e3));
    expect(solution.terminalReactivePower).toBeCloseTo(0, 6);
    expect(solution.terminalCurrent).toBeCloseTo(0, 9);
  });

  test('an ideal transformer changes voltage and current and no power', () => {
    const solution = solved(solveLadder([{ kind: 'ratio', ratio: 2 }], 400, 100e3, 50e3));
    expect(solution.terminalVoltage).toBeCloseTo(200, 12);
    expect(solution.current[1]! / solution.current[0]!).toBeCloseTo(2, 12);
    expect(solution.terminalActivePower).toBeCloseTo(100e3, 6);
    expect(solution.terminalReactivePower).toBeCloseTo(50e3, 6);
  });

  test('with no demand the converter only feeds the shunts, and has no power factor where there are none', () => {
    const idle = solved(solveLadder(plant, 400, 0, 0));
    expect(idle.current[0]).toBe(0);
    expect(idle.terminalActivePower).toBeCloseTo(idle.totalLoss, 6);
    expect(solved(solveLadder([cable, winding], 400, 0, 0)).terminalCosPhi).toBeUndefined();
  });

  test('says so when a number is impossible, and never answers with NaN', () => {
    const problem = { ok: false, problem: 'impossible_input' };
    expect(solveLadder(plant, 0, 1, 1)).toEqual(problem);
    expect(solveLadder(plant, Number.NaN, 1, 1)).toEqual(problem);
    expect(solveLadder(plant, 400, Number.NaN, 1)).toEqual(problem);
    expect(solveLadder([{ kind: 'ratio', ratio: 0 }], 400, 1, 1)).toEqual(problem);
    expect(solveLadder([{ kind: 'series', resistance: Number.NaN, reactance: 0 }], 400, 1, 1)).toEqual(problem);
  });
});

describe('what several converters share', () => {
  test('carries the currents of all: to one of two it is twice as large an impedance', () => {
    expect(sharedElement(winding, 0.5)).toEqual({ kind: 'series', resistance: 0.006, reactance: 0.03 });
    expect(sharedElement(capacitor, 0.5)).toEqual({ kind: 'shunt', conductance: 0.00025, susceptance: 0.047 });
    expect(sharedElement(ratio, 0.5)).toEqual(ratio);
    for (const each of plant) expect(sharedElement(each, 1)).toBe(each);
  });

  test('gives one of them the voltages that all have together, and its part of the losses', () => {
    const whole = solved(solveLadder(plant, 400, 300e3, 60e3));
    const one = solved(
      solveLadder(
        plant.map(each => sharedElement(each, 0.25)),
        400,
        75e3,
        15e3,
      ),
    );
    expect(one.terminalVoltage).toBeCloseTo(whole.terminalVoltage, 9);
    expect(one.terminalCurrent).toBeCloseTo(whole.terminalCurrent / 4, 9);
    expect(one.totalLoss).toBeCloseTo(whole.totalLoss / 4, 6);
  });
});

describe('power demanded elsewhere', () => {
  test('a line that can carry no more names the largest power, U²/(2·X) at unity power factor', () => {
    const line: LadderElement = { kind: 'series', resistance: 0, reactance: 0.1 };
    const limit = 400 ** 2 / (2 * 0.1);
    const result = solveLadderFromConverter([line], 400, -2 * limit, 0);
    if (result.ok || result.problem !== 'no_solution') throw new Error('expected no solution');
    expect(relative(result.largestActivePower, -limit)).toBeLessThan(1e-12);
    expect(result.largestShare).toBeCloseTo(0.5, 12);
  });

  test('a resistance alone gives up at U²/(4·R) drawn', () => {
    const line: LadderElement = { kind: 'series', resistance: 0.1, reactance: 0 };
    const result = solveLadderFromConverter([line], 400, -1e6, 0);
    if (result.ok || result.problem !== 'no_solution') throw new Error('expected no solution');
    expect(relative(result.largestActivePower, -(400 ** 2) / (4 * 0.1))).toBeLessThan(1e-12);
  });

  test('a resistance alone takes any power that is delivered into it', () => {
    const line: LadderElement = { kind: 'series', resistance: 0.1, reactance: 0 };
    expect(solveLadderFromConverter([line], 400, 50e6, 0).ok).toBe(true);
  });

  test('impossible numbers are a problem, not NaN', () => {
    expect(solveLadderFromConverter(plant, Number.NaN, 1, 1).ok).toBe(false);
    expect(solveLadderFromConverter(plant, 400, Number.NaN, 1).ok).toBe(false);
    expect(solveLadderFromConverter([{ kind: 'ratio', ratio: 0 }], 400, 1, 1).ok).toBe(false);
    const problem = { ok: false, problem: 'impossible_input' };
    for (const none of [0, -400]) expect(solveLadderFromConverter(plant, none, 1, 1)).toEqual(problem);
    expect(solveLadder(plant, -400, 1, 1)).toEqual(problem);
    expect(solveLadderFromConverter(plant, 400, 1e200, 1)).toEqual(problem);
    // Behind a resonance without damping a converter sees no source, but what it gives flows.
    const resonant: LadderElement[] = [
      { kind: 'series', resistance: 0, reactance: 2 },
      { kind: 'shunt', conductance: 0, susceptance: 0.5 },
    ];
    expect(solveLadderFromConverter(resonant, 400, 1, 1)).toEqual(problem);
  });

  test('a boundary past the end is the end', () => {
    expect(solveLadderFromConverter(plant, 400, 200e3, 0, 99)).toEqual(solveLadderFromConverter(plant, 400, 200e3, 0));
  });
});

describe('gates blocked', () => {
  test('no voltage, or one that turns, is a problem; so are impedances that nobody can write', () => {
    const problem = { ok: false, problem: 'impossible_input' };
    for (const none of [0, -440, Number.NaN]) {
      expect(noLoadVoltage(plant, none, stiff)).toEqual(problem);
      expect(solveBlockedLadder(plant, none, stiff)).toEqual(problem);
      expect(sourceImpedanceSeenFromConverter(plant, none, stiff)).toEqual(problem);
    }
    for (const broken of [
      { resistance: Number.POSITIVE_INFINITY, reactance: 0 },
      { resistance: 0, reactance: Number.POSITIVE_INFINITY },
      { resistance: Number.POSITIVE_INFINITY, reactance: Number.POSITIVE_INFINITY },
    ]) {
      expect(sourceImpedanceSeenFromConverter([cable], 400, broken)).toEqual(problem);
      expect(seriesImpedanceReferredToConverter([cable], broken)).toEqual(problem);
    }
  });

  test('an exact resonance without damping leaves the blocked ladder without a solution', () => {
    const resonant: LadderElement[] = [
      { kind: 'series', resistance: 0, reactance: 2 },
      { kind: 'shunt', conductance: 0, susceptance: 0.5 },
    ];
    expect(solveBlockedLadder(resonant, 400, stiff)).toEqual({ ok: false, problem: 'impossible_input' });
    expect(sourceImpedanceSeenFromConverter(resonant, 400, stiff).ok).toBe(false);
  });

  test('shunts do not count in the series impedance', () => {
    const found = seriesImpedanceReferredToConverter([cable, iron, winding, capacitor], {
      resistance: 0,
      reactance: 0,
    });
    expect(found).toEqual({ ok: true, resistance: 0.005, reactance: 0.016 });
  });

  test('a capacitor behind a pure reactance rises by 1/(1 − X/Xc)', () => {
    const reactor: LadderElement = { kind: 'series', resistance: 0, reactance: 0.5 };
    const bank: LadderElement = { kind: 'shunt', conductance: 0, susceptance: 1 / 10 };
    const blocked = solved(noLoadVoltage([reactor, bank], 400, { resistance: 0, reactance: 0.5 }));
    expect(blocked.voltage).toBeCloseTo(400 / (1 - 1 / 10), 9);
  });

  test('the solution along the ladder ends without current at the voltage of the short form', () => {
    const source = { resistance: 0.003, reactance: 0.016 };
    const along = solved(solveBlockedLadder(plant, 440, source));
    expect(along.terminalCurrent).toBeLessThan(1e-9);
    expect(along.terminalVoltage).toBeCloseTo(solved(noLoadVoltage(plant, 440, source)).voltage, 9);
  });

  test('the network behind a transformer is seen divided by the ratio squared', () => {
    const seen = solved(
      sourceImpedanceSeenFromConverter([{ kind: 'ratio', ratio: 2 }], 400, { resistance: 4, reactance: 8 }),
    );
    expect(seen).toEqual({ ok: true, openCircuitVoltage: 200, resistance: 1, reactance: 2 });
    const series = seriesImpedanceReferredToConverter([{ kind: 'ratio', ratio: 2 }, choke], {
      resistance: 4,
      reactance: 8,
    });
    expect(series).toEqual({ ok: true, resistance: 1.001, reactance: 2.0314 });
  });

  test('an exact resonance without damping has no answer, and says so', () => {
    const resonant: LadderElement[] = [
      { kind: 'series', resistance: 0, reactance: 2 },
      { kind: 'shunt', conductance: 0, susceptance: 0.5 },
    ];
    expect(noLoadVoltage(resonant, 400, stiff)).toEqual({ ok: false, problem: 'impossible_input' });
  });
});

const small = (largest: number) => evenly(0, largest);
const element: fc.Arbitrary<LadderElement> = fc.oneof(
  fc.record({ kind: fc.constant('series' as const), resistance: small(0.004), reactance: small(0.02) }),
  fc.record({
    kind: fc.constant('shunt' as const),
    conductance: small(0.01),
    susceptance: evenly(-0.1, 0.1),
  }),
  fc.record({ kind: fc.constant('ratio' as const), ratio: evenly(0.8, 1.25) }),
);
const ladder = fc.array(element, { maxLength: 5 });
const voltage = evenly(360, 440);
const power = evenly(-300e3, 300e3);

describe('whatever the ladder', () => {
  test('power in is power out and losses, in both directions', () => {
    fc.assert(
      fc.property(ladder, voltage, power, power, (elements, u, p, q) => {
        const solution = solved(solveLadder(elements, u, p, q));
        const sum = solution.loss.reduce((total, lost) => total + lost, 0);
        expect(relative(solution.terminalActivePower, p + sum)).toBeLessThan(1e-9);
        expect(solution.voltage[0]).toBe(u);
        expect(solution.voltage).toHaveLength(elements.length + 1);
        expect(solution.voltage.at(-1)).toBe(solution.terminalVoltage);
        expect(solution.loss.every(lost => lost >= 0)).toBe(true);
        const apparent = Math.sqrt(3) * solution.terminalVoltage * solution.terminalCurrent;
        expect(
          relative(apparent, Math.hypot(solution.terminalActivePower, solution.terminalReactivePower)),
        ).toBeLessThan(1e-9);
      }),
    );
  });

  test('asked from the converter it finds what it gave when asked from the network', () => {
    fc.assert(
      fc.property(ladder, voltage, power, power, (elements, u, p, q) => {
        const forward = solved(solveLadder(elements, u, p, q));
        const back = solved(
          solveLadderFromConverter(elements, u, forward.terminalActivePower, forward.terminalReactivePower),
        );
        const scale = Math.hypot(p, q) + 1e5;
        expect(Math.abs(back.activePower[0]! - p) / scale).toBeLessThan(1e-9);
        expect(Math.abs(back.reactivePower[0]! - q) / scale).toBeLessThan(1e-9);
        expect(relative(back.terminalVoltage, forward.terminalVoltage)).toBeLessThan(1e-9);
      }),
    );
  });

  test('asked from a boundary inside it meets the demand there', () => {
    fc.assert(
      fc.property(ladder, voltage, power, power, fc.nat(5), (elements, u, p, q, place) => {
        const boundary = Math.min(place, elements.length);
        const solution = solved(solveLadderFromConverter(elements, u, p, q, boundary));
        const scale = Math.hypot(p, q) + 1e5;
        expect(Math.abs(solution.activePower[boundary]! - p) / scale).toBeLessThan(1e-9);
        expect(Math.abs(solution.reactivePower[boundary]! - q) / scale).toBeLessThan(1e-9);
      }),
    );
  });

  test('the largest power that it names is the border between a solution and none', () => {
    let collapsed = 0;
    fc.assert(
      fc.property(ladder, voltage, power, power, (elements, u, p, q) => {
        const result = solveLadderFromConverter(elements, u, 1e3 * p, 1e3 * q);
        if (result.ok || result.problem !== 'no_solution') return;
        collapsed++;
        const ask = (share: number) => solveLadderFromConverter(elements, u, 1e3 * p * share, 1e3 * q * share).ok;
        expect(ask(result.largestShare * 0.999)).toBe(true);
        expect(ask(result.largestShare * 1.001)).toBe(false);
      }),
    );
    expect(collapsed).toBeGreaterThan(10);
  });

  test('a higher network voltage never lowers the blocked voltage', () => {
    fc.assert(
      fc.property(ladder, voltage, voltage, small(0.005), small(0.03), (elements, u, other, resistance, reactance) => {
        const [low, high] = u < other ? [u, other] : [other, u];
        const at = (value: number) => solved(noLoadVoltage(elements, value, { resistance, reactance })).voltage;
        expect(at(high)).toBeGreaterThanOrEqual(at(low));
      }),
    );
  });

  test('its chain matrix has the determinant one', () => {
    fc.assert(
      fc.property(ladder, elements => {
        const { a, b, c, d } = chainOf(elements);
        expect(a.re * d.re - a.im * d.im - (b.re * c.re - b.im * c.im)).toBeCloseTo(1, 12);
        expect(a.re * d.im + a.im * d.re - (b.re * c.im + b.im * c.re)).toBeCloseTo(0, 12);
      }),
    );
  });
});
