// A filter before the diode bridge: at rest, ringing against its analytic solution, and Kirchhoff's laws in each state.
import { describe, expect, test } from 'vitest';
import type { BridgePoint, BridgeState, Triple } from '../../../engine/physics/bridgecircuit.ts';
import { atRest, type FilterCircuit, filterNetwork, riseAtRest } from '../../../engine/physics/bridgefilter.ts';
import { missOfLaws, pairs, phases, sourceVoltage, threes } from '../../kit/kirchhoff.ts';

const lossy: FilterCircuit = {
  sourceReactance: 0.5,
  sourceResistance: 0.05,
  susceptance: 0.2,
  damping: 0.1,
  reactance: 0.3,
  resistance: 0.04,
  dcReactance: 0.2,
  dcResistance: 0.1,
  emf: 0.7,
  drop: 0.02,
};
const lossless: FilterCircuit = { ...lossy, sourceResistance: 0, damping: 0, resistance: 0, dcResistance: 0, drop: 0 };
const start = 0.4;
const none: Triple = [0, 0, 0];
const idle = (...behind: Triple[]): BridgeState => ({ roles: none, currents: none, behind });

/** Stretch after stretch of one conduction state. */
function follow(circuit: FilterCircuit, state: BridgeState, from: number, to: number): BridgePoint {
  const network = filterNetwork(circuit);
  let now = state;
  let angle = from;
  for (let count = 0; count < 200; count++) {
    const stretch = network.solve(now, angle);
    if (stretch.until >= to) return stretch.at(to);
    now = { roles: state.roles, ...stretch.at(stretch.until) };
    angle = stretch.until;
  }
  throw new Error('its stretches lead nowhere');
}

/** How far apart two lists of phase quantities are. */
const apart = (one: readonly Triple[], other: readonly Triple[]) =>
  Math.max(...one.flatMap((triple, index) => phases.map(phase => Math.abs(triple[phase] - other[index]![phase]))));

describe('no diode carrying', () => {
  test('the capacitor raises the voltage by 1/(1 − ω²·L·C) where nothing resists', () => {
    expect(riseAtRest(lossless)).toBeCloseTo(1 / (1 - 0.5 * 0.2), 14);
  });

  test('with resistances the voltage is divided as phasors are', () => {
    // |(R_d − jX_c)/(R_s + R_d + j(X_s − X_c))| for 0.1 Ω, 5 Ω; 0.05 Ω, 0.5 Ω, by hand: √25.01/√20.2725.
    expect(riseAtRest(lossy)).toBeCloseTo(Math.sqrt(25.01) / Math.sqrt(20.2725), 14);
    expect(riseAtRest({ ...lossy, sourceResistance: 3 })).toBeCloseTo(Math.sqrt(25.01) / Math.sqrt(9.61 + 20.25), 14);
  });

  test('what is at rest stays so, and its line voltage peaks at the rise', () => {
    for (const circuit of [lossless, lossy, { ...lossy, damping: 2, sourceResistance: 1 }]) {
      const state = idle(...atRest(circuit, start));
      expect(missOfLaws(circuit, filterNetwork(circuit).solve(state, start), none, start + 0.02)).toBeLessThan(1e-10);
      const { behind } = follow(circuit, state, start, start + 2.5);
      expect(apart(behind, atRest(circuit, start + 2.5))).toBeLessThan(1e-13);
      const drop = circuit.drop + circuit.emf;
      const blocking = Array.from({ length: 300 }, (_, step) => {
        const angle = start + (step * Math.PI) / 300;
        return filterNetwork(circuit)
          .solve(idle(...atRest(circuit, angle)), angle)
          .at(angle).room[0];
      });
      expect(drop - Math.min(...blocking)).toBeCloseTo(riseAtRest(circuit), 3);
    }
  });

  test('a capacitor that is switched on rings about its rest with the resonance of L and C, cos and sin', () => {
    // From nothing: what is missing from rest dies away as u·cos ντ + i·√(L/C)·sin ντ, ν = 1/√(x·b), undamped.
    const [x, b] = [0.5, 0.2];
    const [rate, wave] = [1 / Math.sqrt(x * b), Math.sqrt(x / b)];
    const [source, capacitor] = atRest(lossless, start);
    const passed = 2.2;
    const { behind } = follow(lossless, idle(none, none), start, start + passed);
    const [laterSource, laterCapacitor] = atRest(lossless, start + passed);
    const [cosine, sine] = [Math.cos(rate * passed), Math.sin(rate * passed)];
    for (const phase of phases) {
      const current = -source[phase] * cosine + (capacitor[phase] / wave) * sine;
      const voltage = -capacitor[phase] * cosine - source[phase] * wave * sine;
      expect(behind[0]![phase] - laterSource[phase]).toBeCloseTo(current, 12);
      expect(behind[1]![phase] - laterCapacitor[phase]).toBeCloseTo(voltage, 12);
    }
  });

  test('the room is what the battery and the diodes are above the highest line voltage of the capacitors', () => {
    const orders: readonly Triple[] = [
      [0.5, -0.4, -0.1],
      [-0.1, 0.5, -0.4],
      [-0.4, -0.1, 0.5],
    ];
    for (const volts of orders) {
      const point = filterNetwork(lossy).solve(idle(none, volts), start).at(start);
      const blocking = 0.7 + 0.02 - 0.9;
      for (const phase of phases) expect(point.room[phase]).toBeCloseTo(blocking, 14);
      expect(point.outer).toEqual([volts.indexOf(0.5), volts.indexOf(-0.4)]);
      expect(point).toMatchObject({ dc: 0, dcVoltage: 0.7, currents: none });
      // The source current through what is in series with the capacitor adds to its voltage.
      const loaded = filterNetwork(lossy)
        .solve(idle([0.3, -0.1, -0.2], [0.5, -0.4, -0.1]), start)
        .at(start);
      expect(loaded.room[0]).toBeCloseTo(0.72 - (0.9 + 0.1 * 0.4), 14);
    }
  });

  test('nothing behind is a filter without charge', () => {
    const empty = filterNetwork(lossy).solve(idle(), start);
    const zero = filterNetwork(lossy).solve(idle(none, none), start);
    expect(empty.at(start + 0.05)).toEqual(zero.at(start + 0.05));
  });
});

describe.each([...pairs, ...threes])('diodes carrying: %i %i %i', (...roles) => {
  const side = roles[0] + roles[1] + roles[2];
  const parts = side === 0 ? [0.7, 0.7] : [0.6, 0.8];
  const currents = roles.map(role => {
    if (role === 0) return 0;
    return role === -side ? role * 1.4 : role * parts.pop()!;
  }) as unknown as Triple;
  const state: BridgeState = {
    roles,
    currents,
    behind: [
      [0.3, -0.1, -0.2],
      [0.1, 0.4, -0.5],
    ],
  };

  test('obey Kirchhoff, with resistances and without', () => {
    for (const circuit of [lossy, lossless, { ...lossy, dcReactance: 0 }]) {
      const stretch = filterNetwork(circuit).solve(state, start);
      expect(missOfLaws(circuit, stretch, roles, start + 0.01)).toBeLessThan(1e-10);
      expect(missOfLaws(circuit, stretch, roles, stretch.until - 0.002)).toBeLessThan(1e-10);
    }
  });

  test('start from what the circuit remembers', () => {
    const { at, until, next } = filterNetwork(lossy).solve(state, start);
    const point = at(start);
    expect(apart([point.currents, ...point.behind], [state.currents, ...state.behind])).toBeLessThan(1e-15);
    expect(until).toBeGreaterThan(start);
    expect(next).toBeUndefined();
    const lone = roles.indexOf(-side);
    expect(point.outer).toEqual(side === 0 ? [roles.indexOf(1), roles.indexOf(-1)] : [lone, lone]);
  });

  test('keep the energy: what the source gives is stored or goes into the battery', () => {
    const stored = ({ currents: i, behind }: Pick<BridgePoint, 'currents' | 'behind'>, dc: number) =>
      phases.reduce(
        (sum, phase) => {
          const [source, volts] = [behind[0]![phase], behind[1]![phase]];
          return sum + (0.3 * i[phase] ** 2 + 0.5 * source ** 2 + 0.2 * volts ** 2) / 2;
        },
        0.1 * dc * dc,
      );
    const { at, until } = filterNetwork(lossless).solve(state, start);
    const width = (until - start) / 20;
    let given = 0;
    for (let step = 0; step < 20; step++) {
      // Simpson's rule for what source and battery exchange.
      for (const [share, weight] of [
        [0, 1],
        [0.5, 4],
        [1, 1],
      ] as const) {
        const angle = start + (step + share) * width;
        const { behind, dc } = at(angle);
        const power = phases.reduce<number>((sum, phase) => sum + sourceVoltage(phase, angle) * behind[0]![phase], 0);
        given += ((power - 0.7 * dc) * weight * width) / 6;
      }
    }
    expect(stored(at(until), at(until).dc) - stored(state, at(start).dc)).toBeCloseTo(given, 10);
  });
});

describe('the length of a stretch', () => {
  const lengthOf = (circuit: FilterCircuit) => filterNetwork(circuit).solve(idle(none, none), start).until - start;

  test('is six degrees where nothing is fast', () => {
    expect(lengthOf(lossless)).toBeCloseTo(Math.PI / 30, 14);
  });

  test('is two over the sum of the rates of oscillation and decay, and one, where something is', () => {
    // Lossless: the resonance of both inductances in parallel with the capacitor, 1/√(0.1875·1e-5).
    expect(lengthOf({ ...lossless, susceptance: 1e-5 })).toBeCloseTo(2 / (1 + 1 / Math.sqrt(0.1875e-5)), 14);
    const oscillation = 1 / Math.sqrt(0.1875 * 0.2);
    const decaying = (circuit: Partial<FilterCircuit>, rate: number) =>
      expect(lengthOf({ ...lossless, ...circuit })).toBeCloseTo(2 / (1 + oscillation + rate), 14);
    decaying({ sourceResistance: 70, damping: 30 }, 100 / 0.5);
    decaying({ resistance: 70, damping: 30 }, 100 / 0.3);
    decaying({ resistance: 20, dcResistance: 400, damping: 10 }, (2 * 30 + 400) / (2 * 0.3 + 0.2));
  });

  test('is short enough for the series, whatever is fast', () => {
    const state: BridgeState = {
      roles: [1, -1, 0],
      currents: [0.5, -0.5, 0],
      behind: [
        [0.3, -0.1, -0.2],
        [0.1, 0.4, -0.5],
      ],
    };
    const fast: readonly Partial<FilterCircuit>[] = [
      { susceptance: 1e-5 },
      { sourceReactance: 1e-4 },
      { reactance: 1e-4, dcReactance: 0 },
      { sourceResistance: 100 },
      { damping: 100 },
      { resistance: 100 },
      { dcResistance: 100 },
    ];
    for (const change of fast) {
      const circuit = { ...lossy, ...change };
      const network = filterNetwork(circuit);
      const { at, until } = network.solve(state, start);
      const middle = (start + until) / 2;
      const half = network.solve({ roles: state.roles, ...at(middle) }, middle);
      const [whole, halves] = [at(until), half.at(until)];
      const scale = Math.max(1, ...whole.behind.flat().map(Math.abs));
      expect(apart([whole.currents, ...whole.behind], [halves.currents, ...halves.behind]) / scale).toBeLessThan(1e-12);
    }
  });
});
