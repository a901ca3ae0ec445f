// The steady state of a bridge: found for maps whose fixed point is known, by closed forms, and said where there is none.
import { describe, expect, test } from 'vitest';
import {
  type BridgeCircuit,
  type BridgePoint,
  inductiveNetwork,
  type Network,
  type Triple,
} from '../../../engine/physics/bridgecircuit.ts';
import { atRest, type FilterCircuit, filterNetwork } from '../../../engine/physics/bridgefilter.ts';
import { findPeriodic, followSector, type Memory, sector, sectorStart } from '../../../engine/physics/bridgeperiod.ts';

const circuit: BridgeCircuit = {
  reactance: 0.1,
  resistance: 0,
  dcReactance: 0,
  dcResistance: 0,
  emf: 0.9,
  drop: 0,
};
const none: Triple = [0, 0, 0];

/**
 * A bridge of which only one thing is known: what it remembers a sixth of a period later, with the phases renamed so that
 * a steady state comes back. Undefined where it can't be followed.
 */
function remembering(later: (memory: Memory) => Memory | undefined): { network: Network; sectors: () => number } {
  let sectors = 0;
  const solve: Network['solve'] = ({ currents, behind }) => {
    sectors++;
    const end = later([currents, ...behind]);
    const [first, ...others] = (end ?? [currents, ...behind]).map(([a, b, c]): Triple => [-b, -c, -a]);
    const point = { dc: 1, room: [1, 1, 1], dcVoltage: 1, outer: [0, 1] } as const;
    const failing = { room: [1, -1, 1], dcVoltage: -9 } as const;
    const at = (angle: number): BridgePoint =>
      angle < sectorStart + sector / 2
        ? { ...point, currents, behind }
        : { ...point, currents: first!, behind: others, ...(end === undefined && failing) };
    return { at, until: Number.POSITIVE_INFINITY };
  };
  return { network: { circuit, solve }, sectors: () => sectors };
}

const withSum = (a: number, b: number): Triple => [a, b, -a - b];
const apart = (one: Memory, other: Memory) =>
  Math.max(...one.flatMap((triple, index) => triple.map((value, phase) => Math.abs(value - other[index]![phase]!))));

describe('a map whose fixed point is known', () => {
  const fixed: Memory = [withSum(0.5, -0.2), withSum(0.3, 0.4), withSum(-0.6, 0.1)];
  const around = (factors: readonly number[]) => (memory: Memory) => {
    const off = memory.map((triple, index) => [0, 1].map(phase => triple[phase]! - fixed[index]![phase]!));
    const flat = off.flat();
    // Each value goes by its factor and takes a little of its neighbour along, so that nothing stands alone.
    const moved = flat.map((value, index) => factors[index]! * value + 0.3 * flat[(index + 1) % 6]!);
    return fixed.map(([a, b], index) => withSum(a + moved[2 * index]!, b + moved[2 * index + 1]!));
  };
  const guess: Memory = [withSum(0.4, -0.3), withSum(0.1, 0.2), withSum(0, 0)];

  test('is found where repetition would run away from it', () => {
    const { network, sectors } = remembering(around([1.4, -2, 3, 0.5, 1.2, -1.5]));
    const { memory, converged, residual } = findPeriodic(network, guess);
    expect(converged).toBe(true);
    expect(residual).toBeLessThan(1e-11);
    expect(apart(memory, fixed)).toBeLessThan(1e-11);
    // Four repetitions, and one step of Newton's method with one look a value, or two.
    expect(sectors()).toBeLessThan(4 + 2 * 9 + 1);
  });

  test('is found where a value only swaps places with another', () => {
    const swapped = ([currents, source, volts]: Memory): Memory => [
      withSum(0.5 + 3 * (currents![1]! + 0.2), -0.2 + 3 * (currents![0]! - 0.5)),
      withSum(0.3 + 3 * (source![1]! - 0.4), 0.4 + 3 * (source![0]! - 0.3)),
      withSum(-0.6 + 3 * (volts![1]! - 0.1), 0.1 + 3 * (volts![0]! + 0.6)),
    ];
    const { memory, converged } = findPeriodic(remembering(swapped).network, guess);
    expect([converged, apart(memory, fixed) < 1e-11]).toEqual([true, true]);
  });

  test('is found where a value stays as it is unless another changes', () => {
    // Error a, then −b: the matrix of Newton's method has zeros where its first pivots would be.
    const turning = ([currents]: Memory): Memory => [
      withSum(currents![0]! + 2 * (currents![1]! + 0.2), currents![1]! - 3 * (currents![0]! - 0.5)),
    ];
    const { memory, converged } = findPeriodic(remembering(turning).network, [withSum(0.4, -0.3)]);
    expect([converged, apart(memory, fixed.slice(0, 1)) < 1e-11]).toEqual([true, true]);
  });

  test('needs no more than a look where the guess is it, or nothing is remembered', () => {
    const right = remembering(around([1.4, -2, 3, 0.5, 1.2, -1.5]));
    expect(findPeriodic(right.network, fixed)).toMatchObject({ converged: true, memory: fixed });
    expect(right.sectors()).toBe(1);
    const gaps = remembering(() => [none]);
    expect(findPeriodic(gaps.network, [withSum(0.4, -0.4)])).toEqual({ memory: [none], residual: 0, converged: true });
    expect(gaps.sectors()).toBe(2);
  });

  test('a step of Newton that would overshoot is shortened', () => {
    // Newton's method for atan runs away from beyond 1.39, the textbook case; repetition crawls.
    const arc = ([, , volts]: Memory): Memory => [
      none,
      none,
      withSum(volts![0] - 0.05 * Math.atan(volts![0] + 0.6), volts![1] - 0.05 * Math.atan(volts![1] - 0.1)),
    ];
    for (const [far, most] of [
      [1, 40],
      [3, 95],
      [6, 55],
    ] as const) {
      const { network, sectors } = remembering(arc);
      const { memory, converged } = findPeriodic(network, [none, none, withSum(far - 0.6, 0.1 - far)]);
      expect([converged, apart(memory, [none, none, fixed[2]!]) < 1e-9]).toEqual([true, true]);
      expect(sectors()).toBeLessThan(most);
    }
  });
});

describe('by how much it fails to repeat', () => {
  const drifting = (currents: Triple, source: Triple, volts: Triple) =>
    remembering(memory =>
      memory.map((triple, index) => {
        const drift = [currents, source, volts][index]!;
        return [triple[0] + drift[0], triple[1] + drift[1], triple[2] + drift[2]];
      }),
    ).network;
  const large: Memory = [withSum(200, -200), withSum(50, -20), withSum(0.5, 0.1)];

  test('is told of currents relative to the largest of all, and of voltages per unit', () => {
    // It drifts on and never comes back, so that the matrix of Newton's method is singular.
    const residual = (...drift: [Triple, Triple, Triple]) => findPeriodic(drifting(...drift), large).residual;
    expect(residual([0, 1e-3, -1e-3], none, none)).toBeCloseTo(1e-3 / 200, 9);
    expect(residual(none, [1e-3, 0, -1e-3], none)).toBeCloseTo(1e-3 / 200, 9);
    expect(residual(none, none, [1e-3, 0, -1e-3])).toBeCloseTo(1e-3, 12);
    const grown = remembering(([currents]) => [[currents![0] + 8, currents![1] - 8, 0]]).network;
    // Measured against the end, which is larger.
    expect(findPeriodic(grown, [withSum(0, 0)]).residual).toBeLessThan(8 / 24 + 1e-12);
  });

  test('a hundred-millionth is near enough where no step helps, more is not', () => {
    const found = (drift: number) => findPeriodic(drifting(none, none, [drift, -drift, 0]), large);
    expect(found(0.9e-8).converged).toBe(true);
    expect(found(0.9e-8).residual).toBeCloseTo(0.9e-8, 14);
    expect(found(1.1e-8).converged).toBe(false);
    expect(found(0.9e-11)).toMatchObject({ converged: true, memory: large });
  });

  test('is without bound where the bridge cannot be followed, or not in numbers', () => {
    const lost = { residual: Number.POSITIVE_INFINITY, converged: false };
    expect(findPeriodic(remembering(() => undefined).network, large)).toMatchObject(lost);
    expect(findPeriodic(remembering(() => [[Number.NaN, 0, 0]]).network, large.slice(0, 1))).toMatchObject(lost);
    expect(
      findPeriodic(
        remembering(() => [
          [1, -1, 0],
          [1, Number.POSITIVE_INFINITY, 0],
        ]).network,
        large.slice(0, 2),
      ),
    ).toMatchObject(lost);
  });

  test('is never looked for without end', () => {
    let turn = 0;
    const restless = remembering(memory => {
      turn++;
      return memory.map(triple => triple.map((value, phase) => value + Math.sin(turn * (phase + 1))) as never);
    });
    expect(findPeriodic(restless.network, large).converged).toBe(false);
    expect(restless.sectors()).toBeLessThan(500);
  });
});

describe('a real bridge', () => {
  test('between pulses remembers nothing', () => {
    const found = findPeriodic(inductiveNetwork({ ...circuit, emf: 0.995 }), [none]);
    expect(found).toMatchObject({ residual: 0, converged: true });
    expect(apart(found.memory, [none])).toBe(0);
  });

  test('behind a smoothing inductance carries (3/π·(1 − x·I) − E)/R all the time', () => {
    // Mean voltage less the loss of commutation, 3/π·x·I of the peak; a ripple remains that falls with the inductance.
    const [emf, dcResistance, x] = [0.8, 0.1, 0.1];
    const smooth = inductiveNetwork({ ...circuit, emf, dcResistance, dcReactance: 1e4 });
    const expected = (3 / Math.PI - emf) / (dcResistance + (3 / Math.PI) * x);
    const { memory, converged } = findPeriodic(smooth, [withSum(0, -0.3)]);
    expect(converged).toBe(true);
    expect(memory[0]![0]).toBeCloseTo(0, 14);
    expect(memory[0]![1]).toBeCloseTo(-expected, 4);
    expect(memory[0]![2]).toBeCloseTo(expected, 4);
  });

  test('comes back after a sixth of a period with the phases one diode further', () => {
    const network = inductiveNetwork({ ...circuit, emf: 0.8, dcResistance: 0.05, resistance: 0.01, dcReactance: 0.1 });
    const { memory } = findPeriodic(network, [none]);
    const visits: [number, number][] = [];
    const { currents, ok } = followSector(network, memory, (_, from, to) => visits.push([from, to]));
    expect(ok).toBe(true);
    const [a, b, c] = currents;
    expect(apart([[-c, -a, -b]], memory)).toBeLessThan(1e-11);
    expect([visits[0]![0], visits.at(-1)![1]]).toEqual([Math.PI / 9, Math.PI / 9 + Math.PI / 3]);
    expect(Math.max(...memory[0]!)).toBeGreaterThan(0.1);
  });

  test('that blocks leaves its filter at rest, from whatever it began', () => {
    const filter: FilterCircuit = {
      ...circuit,
      emf: 2,
      sourceReactance: 0.5,
      sourceResistance: 0.05,
      susceptance: 0.2,
      damping: 0.1,
    };
    const { memory, converged } = findPeriodic(filterNetwork(filter), [none, none, none]);
    expect(converged).toBe(true);
    expect(apart(memory, [none, ...atRest(filter, sectorStart)])).toBeLessThan(1e-9);
  });
});
