// The march from one conduction state to the next: where each ends, what follows, and that it always ends itself.
import { describe, expect, test } from 'vitest';
import {
  type BridgeCircuit,
  type BridgePoint,
  type BridgeState,
  inductiveNetwork,
  type Network,
  type Stretch,
  type Triple,
} from '../../../engine/physics/bridgecircuit.ts';
import { march } from '../../../engine/physics/bridgemarch.ts';

const circuit: BridgeCircuit = {
  reactance: 0.1,
  resistance: 0,
  dcReactance: 0,
  dcResistance: 0,
  emf: 0.9,
  drop: 0.02,
};
const none: Triple = [0, 0, 0];
const away: Triple = [1, 1, 1];
const still = { currents: none, behind: [], dc: 0, room: away, dcVoltage: 0.9, outer: [0, 1] } as const;

/** What a network was asked to solve: diodes and angle. */
interface Asked {
  readonly roles: Triple;
  readonly from: number;
  readonly state: BridgeState;
}

/** A bridge whose every condition is written down: a point by the diodes that carry and the angle. */
function scripted(
  pointOf: (state: BridgeState, angle: number) => Partial<BridgePoint>,
  stretchOf: (state: BridgeState, start: number) => Partial<Stretch> = () => ({}),
): { network: Network; asked: Asked[]; looks: () => number } {
  const asked: Asked[] = [];
  let looks = 0;
  const solve = (state: BridgeState, start: number): Stretch => {
    asked.push({ roles: state.roles, from: start, state });
    const at = (angle: number): BridgePoint => {
      looks++;
      return { ...still, currents: state.currents, ...pointOf(state, angle) };
    };
    return { at, until: Number.POSITIVE_INFINITY, ...stretchOf(state, start) };
  };
  return { network: { circuit, solve }, asked, looks: () => looks };
}

const roomOf = (index: number, value: number): Triple => {
  const room: [number, number, number] = [1, 1, 1];
  room[index] = value;
  return room;
};
const start = (...currents: Triple) => ({ currents, behind: [] });
const isPair = ({ roles }: BridgeState) => roles.includes(0) && roles.includes(1);

describe('which diodes carry at the start', () => {
  const startedWith = (...currents: Triple) => {
    const { network, asked } = scripted(() => ({}));
    march(network, start(...currents), 0, 1);
    return asked[0]!;
  };

  test('the sign of the current says so', () => {
    expect(startedWith(1, -1, 0).roles).toEqual([1, -1, 0]);
    expect(startedWith(-0.2, -0.3, 0.5).roles).toEqual([-1, -1, 1]);
    expect(startedWith(1e-13, 0, -1e-13).roles).toEqual([1, 0, -1]);
  });

  test('rounding is no current, and one diode alone carries none', () => {
    expect(startedWith(1e-14, -1e-14, 0).roles).toEqual(none);
    expect(startedWith(0.5, 0, 0)).toMatchObject({ roles: none, state: { currents: none } });
  });
});

describe('the angle at which a condition fails', () => {
  const crossing = 0.7123;
  const shapes: Readonly<Record<string, (passed: number) => number>> = {
    'a straight line': passed => -passed,
    'a steep line': passed => -1e6 * passed,
    'a flat line': passed => -1e-3 * passed,
    'an exponential': passed => 1 - Math.exp(30 * passed),
    'its mirror image': passed => Math.exp(-30 * passed) - 1,
    'a cube': passed => -passed * (0.01 + passed * passed),
    'a step': passed => (passed > 0 ? -1 : 1),
  };

  test.each(Object.keys(shapes))('is found nearly to the last digit, with few looks: %s', shape => {
    const value = shapes[shape]!;
    for (const index of [1, 2]) {
      for (const moved of [0, 0.003, 0.011, 0.023, 0.048]) {
        const { network, asked, looks } = scripted((state, angle) =>
          isPair(state) ? { room: roomOf(index, value(angle - crossing - moved)) } : {},
        );
        march(network, start(1, -1, 0), 0, 1);
        const edge = asked[1]!.from;
        // Voltages count from a million-millionth on; ten of them, or the number before, is near enough.
        const missed = value(edge - crossing - moved);
        expect(missed).toBeLessThan(-1e-12);
        if (missed < -1e-11) expect(value(edge - 2e-16 - crossing - moved)).toBeGreaterThanOrEqual(-1e-12);
        expect(looks()).toBeLessThan(shape === 'its mirror image' ? 150 : 95);
      }
    }
  });

  test('is the first of several', () => {
    const { network, asked } = scripted((state, angle) =>
      isPair(state) ? { room: [0.31 - angle, 0.3 - angle, 0.32 - angle] } : {},
    );
    march(network, start(1, -1, 0), 0, 1);
    expect(asked[1]).toMatchObject({ roles: [1, -1, 1] });
    expect(asked[1]!.from).toBeCloseTo(0.3, 10);
  });

  test('a condition that fails for a moment between two looks fails nevertheless', () => {
    for (const index of [0, 1, 2]) {
      for (let least = 0.2; least < 0.31; least += 0.0037) {
        const { network, asked } = scripted((state, angle) =>
          isPair(state) ? { room: roomOf(index, (angle - least) ** 2 - 1e-4) } : {},
        );
        march(network, start(1, -1, 0), 0, 1);
        expect(asked[1]!.from).toBeCloseTo(least - 0.01, 9);
      }
    }
  });

  test('one that comes near zero and turns back holds', () => {
    for (let least = 0.2; least < 0.31; least += 0.0037) {
      const { network, asked } = scripted((_, angle) => ({ room: roomOf(1, (angle - least) ** 2 + 1e-9) }));
      expect(march(network, start(1, -1, 0), 0, 1).ok).toBe(true);
      expect(asked).toHaveLength(1);
    }
  });

  test('takes hardly more than one look in three degrees where nothing bends towards zero', () => {
    const rooms: readonly ((angle: number) => number)[] = [
      () => 1,
      angle => 1 - 0.5 * angle,
      angle => 1 - 0.5 * angle * angle,
      angle => 1 + (angle - 0.5) ** 2,
      angle => (angle + 0.1) ** 2,
      angle => (1.1 - angle) ** 2,
    ];
    for (const room of rooms) {
      const { network, looks } = scripted((_, angle) => ({ room: [room(angle), room(angle), room(angle)] }));
      march(network, start(1, -1, 0), 0, 1);
      expect(looks()).toBeLessThan(25);
    }
  });

  test('rounding is no failure: currents to 1e-14, voltages to 1e-12', () => {
    const ended = (currents: Triple, room: Triple) => {
      const { network, asked } = scripted(() => ({ room }));
      march(network, start(...currents), 0, 1);
      return asked.length > 1;
    };
    expect(ended([1, -1, 0], [-0.9e-14, -0.9e-12, -0.9e-12])).toBe(false);
    expect(ended([1, -1, 0], [-1.1e-14, 1, 1])).toBe(true);
    expect(ended([1, -1, 0], [1, -1.1e-12, 1])).toBe(true);
    expect(ended([1, -1, 0], [1, 1, -1.1e-12])).toBe(true);
    expect(ended([2, -1, -1], [-0.9e-14, -0.9e-14, -0.9e-14])).toBe(false);
    expect(ended([2, -1, -1], [1, -1.1e-14, 1])).toBe(true);
    expect(ended([2, -1, -1], [1, 1, -1.1e-14])).toBe(true);
    expect(ended([0, 0, 0], [1, -0.9e-12, 1])).toBe(false);
  });
});

describe('what follows', () => {
  const behind: readonly Triple[] = [
    [1, 2, -3],
    [4, 5, -9],
  ];
  /** The state after the first, whose condition of an index fails at 0.5. */
  const followerOf = (currents: Triple, index: number, point: Partial<BridgePoint> = {}) => {
    const { network, asked } = scripted((state, angle) =>
      state === asked[0]!.state ? { behind, ...point, room: roomOf(index, 0.5 - angle) } : {},
    );
    march(network, { currents, behind }, 0, 1);
    expect(asked[1]!.from).toBeCloseTo(0.5, 10);
    expect(asked[1]!.state.behind).toEqual(behind);
    return asked[1]!.state;
  };

  test('nobody carries when the current of two has run out', () => {
    expect(followerOf([1, -1, 0], 0)).toMatchObject({ roles: none, currents: none });
  });

  test('the third phase joins on the side where its diode is forward', () => {
    expect(followerOf([1, -1, 0], 1)).toMatchObject({ roles: [1, -1, 1], currents: [1, -1, 0] });
    expect(followerOf([1, -1, 0], 2)).toMatchObject({ roles: [1, -1, -1], currents: [1, -1, 0] });
    expect(followerOf([0, 1, -1], 1).roles).toEqual([1, 1, -1]);
    expect(followerOf([1, 0, -1], 2).roles).toEqual([1, -1, -1]);
  });

  test('of three the one whose current has run out drops out, and the others carry the same', () => {
    expect(followerOf([0.8, -0.3, -0.5], 1, { dc: 0.8 })).toMatchObject({
      roles: [1, 0, -1],
      currents: [0.8, 0, -0.8],
    });
    expect(followerOf([0.8, -0.3, -0.5], 2, { dc: 0.7 })).toMatchObject({
      roles: [1, -1, 0],
      currents: [0.7, -0.7, 0],
    });
    expect(followerOf([-0.8, 0.3, 0.5], 1, { dc: 0.8 })).toMatchObject({ roles: [-1, 0, 1], currents: [-0.8, 0, 0.8] });
  });

  test('nobody carries when the phase alone on its side has run out, or all have', () => {
    expect(followerOf([0.8, -0.3, -0.5], 0, { dc: 0.8 })).toMatchObject({ roles: none, currents: none });
    expect(followerOf([0.8, -0.3, -0.5], 1, { dc: 1e-14 })).toMatchObject({ roles: none, currents: none });
    expect(followerOf([0.8, -0.3, -0.5], 1, { dc: Number.NaN })).toMatchObject({ roles: none, currents: none });
  });

  test('the diodes of the highest line voltage begin', () => {
    expect(followerOf([0, 0, 0], 0, { outer: [2, 1] })).toMatchObject({ roles: [0, -1, 1], currents: none });
  });

  test('a third phase whose diode is forward from the start joins at once', () => {
    const joined = (room: Triple, ...currents: Triple) => {
      const { network, asked } = scripted(state => (isPair(state) ? { room } : {}));
      march(network, start(...currents), 0, 1);
      return asked.map(({ roles, from }) => [roles, from]);
    };
    const first = [[1, -1, 0], 0];
    expect(joined([1, -1.1e-12, 1], 1, -1, 0)).toEqual([first, [[1, -1, 1], 0]]);
    expect(joined([1, 1, -1.1e-12], 1, -1, 0)).toEqual([first, [[1, -1, -1], 0]]);
    expect(joined([1, -0.9e-12, -0.9e-12], 1, -1, 0)).toEqual([first]);
    expect(joined([1, -1, 1], -1, 0, 1)).toEqual([
      [[-1, 0, 1], 0],
      [[-1, 1, 1], 0],
    ]);
  });

  test('a network may hand over by itself where its stretch ends, and else goes on with the same diodes', () => {
    const { network, asked } = scripted(
      () => ({}),
      (state, from) => ({ until: from + 0.25, ...(state.roles[0] === 0 && { next: [1, -1, 0] as Triple }) }),
    );
    const end = march(network, { currents: none, behind }, 0, 1);
    expect(asked.map(({ roles, from }) => [roles, from])).toEqual([
      [none, 0],
      [[1, -1, 0], 0.25],
      [[1, -1, 0], 0.5],
      [[1, -1, 0], 0.75],
    ]);
    expect(end).toEqual({ currents: none, behind: [], ok: true });
  });
});

describe('the march as a whole', () => {
  /** Two diodes and none, each for a while. */
  const alternating = (each: number) => {
    const script = scripted(({ roles }, angle) => {
      const { from } = script.asked.at(-1)!;
      const began = Math.round(from / each) * each;
      return { currents: roles, room: roomOf(0, began + each - angle), dc: Math.abs(roles[0]) };
    });
    return script;
  };

  test('visits everything once, in order, and says what carries', () => {
    const { network } = alternating(0.3);
    const visits: [number, number, boolean, number][] = [];
    march(network, start(0, 0, 0), 0.6, 1.5, (at, from, to, conducting) =>
      visits.push([from, to, conducting, at(from).dc]),
    );
    expect(visits.map(([, , ...rest]) => rest)).toEqual([
      [false, 0],
      [true, 1],
      [false, 0],
    ]);
    expect(visits.map(([from]) => from)).toEqual([0.6, ...visits.slice(0, -1).map(([, to]) => to)]);
    expect(visits.at(-1)![1]).toBe(1.5);
    for (const [index, [, to]] of visits.entries()) expect(to).toBeCloseTo(0.9 + 0.3 * index, 10);
  });

  test('gives up after sixty changes or six hundred stretches, and says so', () => {
    expect(march(alternating(0.01).network, start(0, 0, 0), 0, 0.585).ok).toBe(true);
    expect(march(alternating(0.01).network, start(0, 0, 0), 0, 0.615).ok).toBe(false);
    const inSteps = (width: number) =>
      scripted(
        () => ({}),
        (_, from) => ({ until: from + width }),
      ).network;
    expect(march(inSteps(1 / 598), start(0, 0, 0), 0, 1).ok).toBe(true);
    expect(march(inSteps(1 / 602), start(0, 0, 0), 0, 1).ok).toBe(false);
  });

  test('comes to an end where conditions contradict each other', () => {
    const { network, asked } = scripted(() => ({ room: [-1, -1, -1] }));
    expect(march(network, start(1, -1, 0), 0, 1).ok).toBe(false);
    expect(asked.length).toBeLessThan(100);
  });

  test('ends where a leg would short the DC side, with what was there', () => {
    const ended = (dcVoltage: number, fails: boolean) => {
      const { network } = scripted((state, angle) => ({
        dcVoltage: isPair(state) ? dcVoltage : 1,
        behind: [[1, 2, -3]],
        room: roomOf(1, isPair(state) && fails ? 0.5 - angle : 1),
      }));
      return march(network, start(1, -1, 0), 0, 1);
    };
    expect(ended(-0.02 - 1.1e-12, true)).toMatchObject({ ok: false, currents: [1, -1, 0], behind: [[1, 2, -3]] });
    expect(ended(-0.02 - 0.9e-12, true).ok).toBe(true);
    // Only where somebody would take over.
    expect(ended(-1, false).ok).toBe(true);
  });

  test('nothing is followed over no angle', () => {
    const { network, asked } = scripted(() => ({}));
    const kept = { ...start(1, -1, 0), behind: [none] };
    expect(march(network, kept, 1, 1)).toEqual({ ...kept, ok: true });
    expect(asked).toEqual([]);
  });
});

describe('a real bridge', () => {
  const degrees = Math.PI / 180;
  const visitsOf = (of: BridgeCircuit, currents: Triple, from: number, to: number) => {
    const visits: [number, number, number][] = [];
    const end = march(inductiveNetwork(of), start(...currents), from * degrees, to * degrees, (at, a, b) =>
      visits.push([a / degrees, b / degrees, at((a + b) / 2).currents.filter(current => current !== 0).length]),
    );
    expect(end.ok).toBe(true);
    return { visits, end };
  };

  test('commutates a smooth current by the law of overlap: cos u = 1 − 2·x·I', () => {
    // Per unit of the peak line voltage; Gönen, Electric Power Transmission System Engineering, 2nd ed., Ex. 6.5 has it
    // with numbers. With x·I = 0.1 the overlap is acos 0.8.
    const { visits, end } = visitsOf({ ...circuit, drop: 0, dcReactance: 1e9 }, [0, -1, 1], 20, 80);
    const overlap = Math.acos(0.8) / degrees;
    const expected = [
      [20, 30, 2],
      [30, 30 + overlap, 3],
      [30 + overlap, 80, 2],
    ];
    expect(visits).toHaveLength(3);
    for (const [index, visit] of visits.entries()) {
      for (const [place, value] of visit.entries()) expect(value).toBeCloseTo(expected[index]![place]!, 6);
    }
    expect(end.currents[0]).toBeCloseTo(1, 8);
    expect(end.currents[1]).toBeCloseTo(-1, 8);
    expect(end.currents[2]).toBe(0);
  });

  test('sends a pulse into a stiff battery near the peak, from where the line voltage meets it', () => {
    // ½·(cos α − cos θ − m·(θ − α)), sin α = m, is zero again at the end of the pulse (closed form as in the reference
    // test of the stiff battery, whose pulse at m = 0.98 is 34.481° wide).
    const { visits, end } = visitsOf({ ...circuit, emf: 0.98, drop: 0 }, none, 30, 90);
    expect(visits.map(([, , carrying]) => carrying)).toEqual([0, 2, 0]);
    const [crossing, extinction] = [visits[1]![0], visits[1]![1]];
    expect(Math.sin((crossing + 30) * degrees)).toBeCloseTo(0.98, 8);
    expect(extinction - crossing).toBeCloseTo(34.481, 3);
    expect(end.currents).toEqual(none);
  });

  test('is left with the current that it has at the last angle', () => {
    const m = 0.98;
    const crossing = Math.asin(m);
    // In the middle of the pulse of the second test, 90° after the zero of its line voltage.
    const { end } = visitsOf({ ...circuit, emf: m, drop: 0 }, none, 30, 60);
    const current = (Math.cos(crossing) - m * (Math.PI / 2 - crossing)) / (2 * 0.1);
    expect(end.currents[0]).toBeCloseTo(current, 9);
    expect(end.currents[1]).toBeCloseTo(-current, 9);
  });
});
