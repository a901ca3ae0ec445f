// One conduction state of the diode bridge: Kirchhoff's laws, closed forms, and the angle at which a battery is reached.
import { describe, expect, test } from 'vitest';
import {
  type BridgeCircuit,
  type BridgeState,
  cosine,
  inductiveNetwork,
  phaseAngles,
  rolesOf,
  sharing,
  sine,
  type Triple,
} from '../../../engine/physics/bridgecircuit.ts';
import { missOfLaws, pairs, phases, slopeAt, sourceVoltage, threes } from '../../kit/kirchhoff.ts';

const lossy: BridgeCircuit = {
  reactance: 0.3,
  resistance: 0.04,
  dcReactance: 0.2,
  dcResistance: 0.1,
  emf: 0.7,
  drop: 0.02,
};
const lossless: BridgeCircuit = { ...lossy, resistance: 0, dcReactance: 0, dcResistance: 0, drop: 0 };
const start = 0.4;

const stateOf = (roles: Triple, currents: Triple): BridgeState => ({ roles, currents, behind: [] });
const times = (roles: Triple, size: number): Triple => [roles[0] * size, roles[1] * size, roles[2] * size];

/** Two diodes share unequally what the one on the other side carries. */
const sharedOut = (roles: Triple): Triple => {
  const side = roles[0] + roles[1] + roles[2];
  const parts = [0.2, 0.5];
  return roles.map(role => (role === side ? role * parts.pop()! : role * 0.7)) as unknown as Triple;
};

test('the phases of the source follow each other by a third of a turn, and the highest and lowest carry', () => {
  for (const phase of phases) {
    const { [phase]: shift } = phaseAngles;
    for (const angle of [0, 1]) {
      const voltage = Math.sin(angle + shift) / Math.sqrt(3);
      expect(voltage).toBeCloseTo(sourceVoltage(phase, angle), 14);
      expect(sine[phase] * Math.sin(angle) + cosine[phase] * Math.cos(angle)).toBeCloseTo(voltage, 14);
    }
  }
  expect(rolesOf([2, 1])).toEqual([0, -1, 1]);
  expect(rolesOf([0, 2])).toEqual([1, 0, -1]);
});

describe.each(pairs)('two diodes carrying: %i %i %i', (...roles) => {
  const state = stateOf(roles, times(roles, 0.5));

  test('obey Kirchhoff with resistance and without', () => {
    for (const circuit of [lossy, lossless, { ...lossy, dcReactance: 0, drop: 0 }]) {
      const stretch = inductiveNetwork(circuit).solve(state, start);
      for (const angle of [start + 0.01, start + 0.3, start + 2]) {
        expect(missOfLaws(circuit, stretch, roles, angle)).toBeLessThan(1e-10);
      }
    }
  });

  test('start with the current that they had, and go on until somebody ends them', () => {
    const stretch = inductiveNetwork(lossy).solve(state, start);
    const { currents, outer, behind } = stretch.at(start);
    for (const phase of phases) expect(currents[phase]).toBeCloseTo(0.5 * roles[phase], 14);
    expect([outer, behind]).toEqual([[roles.indexOf(1), roles.indexOf(-1)], []]);
    expect(stretch.until).toBe(Number.POSITIVE_INFINITY);
    expect(stretch.next).toBeUndefined();
  });

  test('without resistance carry ½·(cos α − cos θ − m·(θ − α))/x from the crossing on', () => {
    // Power Electronics course, University of Siegen, lecture 4, for two diodes instead of one (ours).
    const m = 0.7;
    const crossing = Math.asin(m);
    const line = (angle: number) =>
      sourceVoltage(phases[roles.indexOf(1)]!, angle) - sourceVoltage(phases[roles.indexOf(-1)]!, angle);
    // The line voltage is sin(θ − shift): its zero by its values a quarter turn apart.
    const shift = -Math.atan2(line(0), line(Math.PI / 2));
    const { at } = inductiveNetwork({ ...lossless, emf: m }).solve(stateOf(roles, times(roles, 0)), crossing + shift);
    for (const angle of [1, 1.6, 2.4]) {
      const expected = (Math.cos(crossing) - Math.cos(angle) - m * (angle - crossing)) / (2 * 0.3);
      expect(at(angle + shift).dc).toBeCloseTo(expected, 13);
    }
  });
});

describe.each(threes)('three diodes carrying: %i %i %i', (...roles) => {
  const state = stateOf(roles, sharedOut(roles));

  test('obey Kirchhoff with resistance and without', () => {
    for (const circuit of [lossy, lossless, { ...lossy, dcReactance: 0, drop: 0 }]) {
      const stretch = inductiveNetwork(circuit).solve(state, start);
      for (const angle of [start + 0.01, start + 0.3, start + 2]) {
        expect(missOfLaws(circuit, stretch, roles, angle)).toBeLessThan(1e-10);
      }
    }
  });

  test('start with the currents that they had; the phase alone on its side takes the whole', () => {
    const stretch = inductiveNetwork(lossy).solve(state, start);
    const { currents, outer, behind } = stretch.at(start);
    for (const phase of phases) expect(currents[phase]).toBeCloseTo(state.currents[phase], 14);
    const lone = phases.find(phase => roles.filter(role => role === roles[phase]).length === 1);
    expect([outer, behind]).toEqual([[lone, lone], []]);
    expect(stretch.until).toBe(Number.POSITIVE_INFINITY);
    const { side, first, second } = sharing(roles);
    expect([roles[first], roles[second]]).toEqual([side, side]);
    expect(new Set([lone, first, second]).size).toBe(3);
  });

  test('without resistance the commutating current is ½·(1 − cos θ)/x under a smooth DC current', () => {
    // cos(α + u) = cos α − 2·x·I per unit of the peak line voltage, at α = 0: the law of overlap (Gönen, Electric Power
    // Transmission System Engineering, 2nd ed., Ex. 6.5, has it with numbers).
    const { side, lone, first, second } = sharing(roles);
    const across = (angle: number) => side * (sourceVoltage(first, angle) - sourceVoltage(second, angle));
    const crossing = Math.atan2(-across(0), across(Math.PI / 2));
    const currents: [number, number, number] = [0, 0, 0];
    currents[lone] = -side * 0.8;
    currents[second] = side * 0.8;
    const smooth = { ...lossless, dcReactance: 1e9 };
    const { at } = inductiveNetwork(smooth).solve(stateOf(roles, currents), crossing);
    for (const passed of [0.2, 0.5, 0.9]) {
      const taken = side * at(crossing + passed).currents[first];
      const sense = across(crossing + 0.1) > 0 ? 1 : -1;
      expect(taken).toBeCloseTo((sense * (1 - Math.cos(passed))) / (2 * 0.3), 8);
    }
  });
});

test('a resistance that hardly is one changes the current by hardly anything', () => {
  const roles = pairs[0]!;
  const state = stateOf(roles, times(roles, 0.5));
  const bare = inductiveNetwork(lossless)
    .solve(state, start)
    .at(start + 1).dc;
  for (const resistance of [1e-14, 1e-12, 1e-10, 1e-8]) {
    const { dc } = inductiveNetwork({ ...lossless, resistance })
      .solve(state, start)
      .at(start + 1);
    // Its own voltage over one radian, to first order; never a jump where one formula takes over from the other.
    expect(Math.abs(dc - bare)).toBeLessThan(3 * resistance + 1e-13);
  }
});

describe('no diode carrying', () => {
  const idle = stateOf([0, 0, 0], [0, 0, 0]);
  const lines = phases.flatMap(upper => phases.filter(lower => lower !== upper).map(lower => [upper, lower] as const));
  const highest = (angle: number) =>
    lines.reduce((best, line) => (voltageOf(line, angle) > voltageOf(best, angle) ? line : best));
  const voltageOf = (line: (typeof lines)[number], angle: number) =>
    sourceVoltage(line[0], angle) - sourceVoltage(line[1], angle);

  test('the line voltage that first exceeds battery and diodes takes over, wherever the wait begins', () => {
    for (const emf of [0.9, 0.97]) {
      const circuit = { ...lossy, emf };
      for (let from = -8; from < 8; from += 0.093) {
        const { at, until, next } = inductiveNetwork(circuit).solve(idle, from);
        const line = highest(until + 1e-6);
        const now = voltageOf(highest(from), from) > emf + circuit.drop;
        if (now) expect(until).toBe(from);
        else {
          expect(until).toBeGreaterThan(from);
          expect(until - from).toBeLessThan(Math.PI / 3);
          expect(voltageOf(line, until)).toBeCloseTo(emf + circuit.drop, 8);
          // Just past the crossing, so that the diodes find themselves forward.
          expect(voltageOf(line, until)).toBeGreaterThan(emf + circuit.drop);
          expect(slopeAt(angle => voltageOf(line, angle), until)).toBeGreaterThan(0);
        }
        expect(next).toEqual(rolesOf(line));
        const waiting = { currents: [0, 0, 0], behind: [], dc: 0, room: [0, 0, 0], dcVoltage: emf, outer: line };
        expect(at(from)).toEqual(waiting);
      }
    }
  });

  test('nothing ever takes over from a battery at the peak or above', () => {
    for (const emf of [0.98, 1.2]) {
      const { at, until, next } = inductiveNetwork({ ...lossy, emf }).solve(idle, 1);
      expect([until, next]).toEqual([Number.POSITIVE_INFINITY, undefined]);
      expect(at(100)).toMatchObject({ currents: [0, 0, 0], dc: 0, dcVoltage: emf });
    }
  });

  test('a battery the wrong way round, however high, is met at once', () => {
    for (const emf of [-0.5, -3]) expect(inductiveNetwork({ ...lossy, emf }).solve(idle, 1).until).toBe(1);
  });
});
