// The link capacitor's current and voltage against a converter switched in time.
import { describe, expect, test } from 'vitest';
import { capacitorCurrent, linkVoltageRipple, type SwitchedLink } from '../../../engine/physics/dc-link.ts';
import { dutyRatios } from '../../../engine/physics/duty-ratios.ts';
import { highestIndex } from '../../../engine/physics/sidebands.ts';
import { deviation } from '../../kit/solved.ts';
import { type Injection, type Segment, switchedSegments, thirdOfTurn } from '../../kit/switched.ts';

const injections: readonly Injection[] = ['sine', 'third_harmonic', 'space_vector'];
const ratio = 201;

type Step = { readonly angle: number; readonly width: number; readonly current: number };

/** Current of the link (line current of one ampere rms), the legs at the upper rail feeding it; ten steps a segment. */
function linkCurrent(segments: readonly Segment[], cosPhi: number): Step[] {
  const lag = Math.acos(cosPhi);
  return segments.flatMap(({ from, to, legs }) =>
    Array.from({ length: 10 }, (_, part): Step => {
      const width = (to - from) / 10;
      const angle = from + (part + 0.5) * width;
      const current = legs.reduce(
        (sum, level, leg) => sum + (level > 0 ? Math.SQRT2 * Math.cos(angle - leg * thirdOfTurn - lag) : 0),
        0,
      );
      return { angle, width, current };
    }),
  );
}

const meanOf = (steps: readonly Step[]): number =>
  steps.reduce((sum, { width, current }) => sum + width * current, 0) / (2 * Math.PI);

/** Rms of all but the mean. */
function alternatingRms(steps: readonly Step[]): number {
  const mean = meanOf(steps);
  return Math.sqrt(steps.reduce((sum, { width, current }) => sum + width * (current - mean) ** 2, 0) / (2 * Math.PI));
}

describe.each(injections)('%s', injection => {
  test.each([
    [0.2, 0.8],
    [0.6, 1],
    [0.85, 0],
    [1, 0.9],
    [1, -0.9],
  ])('M = %d, cos φ = %d', (index, cosPhi) => {
    const steps = linkCurrent(switchedSegments(index, injection, ratio), cosPhi);
    expect(deviation(capacitorCurrent(1, index, cosPhi)!, alternatingRms(steps))).toBeLessThan(1e-3);
  });
});

test('direction of power makes no difference, current is in proportion', () => {
  expect(capacitorCurrent(1, 0.8, -0.7)).toBe(capacitorCurrent(1, 0.8, 0.7));
  expect(capacitorCurrent(800, 0.8, 0.7)).toBe(800 * capacitorCurrent(1, 0.8, 0.7)!);
  expect(capacitorCurrent(800, 0, 1)).toBe(0);
});

test('beyond the linear range, and for no possible angle, nothing is said', () => {
  const [end, beyond] = [highestIndex('space_vector'), 1.01 * highestIndex('space_vector')];
  expect(capacitorCurrent(1, end, 1)).toBeGreaterThan(0);
  expect(capacitorCurrent(1, beyond, 1)).toBeUndefined();
  expect(capacitorCurrent(1, -0.1, 1)).toBeUndefined();
  expect(capacitorCurrent(1, 0.8, 1.1)).toBeUndefined();
  expect(capacitorCurrent(1, 0.8, -1.1)).toBeUndefined();
});

describe('the swing of the link’s voltage', () => {
  const link = { current: 100, modulationIndex: 0.9, cosPhi: 0.8, switchingFrequency: 4e3, capacitance: 5e-3 };
  const swing = (changes: Partial<SwitchedLink> = {}): number | undefined =>
    linkVoltageRipple({ ...link, modulation: 'space_vector', ...changes });

  /** Largest swing of the charge within a carrier period, A·s at one ampere rms and one switching period a second. */
  function largestSwing(index: number, injection: Injection, cosPhi: number, periods: number): number {
    const segments = switchedSegments(index, injection, periods);
    const lag = Math.acos(cosPhi);
    const mean = 0.75 * index * Math.SQRT2 * cosPhi;
    const charges: { angle: number; charge: number }[] = [];
    let charge = 0;
    for (const { from, to, legs } of segments) {
      for (const [leg, level] of legs.entries()) {
        const phase = leg * thirdOfTurn + lag;
        if (level > 0) charge += Math.SQRT2 * (Math.sin(to - phase) - Math.sin(from - phase));
      }
      charge -= mean * (to - from);
      charges.push({ angle: to, charge });
    }
    const swings = Array.from({ length: periods }, (_, period) => {
      const isWithin = ({ angle }: { angle: number }) => Math.floor((angle * periods) / (2 * Math.PI)) === period;
      const within = charges.filter(isWithin).map(each => each.charge);
      return Math.max(...within) - Math.min(...within);
    });
    return (Math.max(...swings) * periods) / (2 * Math.PI);
  }

  describe.each(injections)('%s', modulation => {
    test.each([
      [0.2, 0.8],
      [0.6, 1],
      [0.85, 0],
      [1, 0.9],
      [1, -0.6],
    ])('M = %d, cos φ = %d: as of a converter switched in time', (modulationIndex, cosPhi) => {
      const ours = swing({ current: 1, modulationIndex, cosPhi, modulation, switchingFrequency: 1, capacitance: 1 });
      expect(deviation(ours!, largestSwing(modulationIndex, modulation, cosPhi, 1201))).toBeLessThan(3e-3);
    });
  });

  /** The same at an angle, the current standing still meanwhile: legs leave the upper rail in the order of their shares. */
  function swingAt(angle: number, shares: readonly number[], lag: number): number {
    const legs = shares.map((share, leg) => ({
      share,
      current: Math.SQRT2 * Math.cos(angle - leg * thirdOfTurn - lag),
    }));
    const mean = legs.reduce((sum, { share, current }) => sum + share * current, 0);
    let charge = 0;
    let before = 0;
    const charges = [0];
    for (const { share } of legs.toSorted((one, other) => one.share - other.share)) {
      const up = legs.filter(leg => leg.share >= share);
      charge += (up.reduce((sum, { current }) => sum + current, 0) - mean) * (share - before);
      before = share;
      charges.push(charge);
    }
    // The half period is half a second, and the other half gives back as much.
    return Math.max(...charges.map(Math.abs));
  }

  test.each([
    ['sine', 0.55, 0.9],
    ['third_harmonic', 0.95, 0.7],
    ['space_vector', 0.8, 0.35],
    ['space_vector', 1.1, -0.5],
  ] as const)(
    '%s, M = %d, cos φ = %d: at the angle where it is largest, between those that are tried first',
    (modulation, modulationIndex, cosPhi) => {
      const angles = Array.from({ length: 40_000 }, (_, step) => (step * Math.PI) / 3 / 40_000);
      const swings = angles.map(angle =>
        swingAt(angle, dutyRatios(angle, modulationIndex, modulation), Math.acos(cosPhi)),
      );
      const ours = swing({ current: 1, modulationIndex, cosPhi, modulation, switchingFrequency: 1, capacitance: 1 })!;
      expect(deviation(ours, Math.max(...swings))).toBeLessThan(1e-8);
    },
  );

  test('of a low index is half a period of the mean current, of which the zero states take nearly all', () => {
    const mean = 0.75 * 1e-4 * Math.SQRT2 * 100;
    expect(deviation(swing({ modulationIndex: 1e-4, cosPhi: 1 })!, mean / (2 * 4e3 * 5e-3))).toBeLessThan(1e-3);
  });

  test('is in proportion to the current, and in inverse proportion to capacitance and frequency', () => {
    const one = swing()!;
    expect(swing({ current: 250 })).toBeCloseTo(2.5 * one, 12);
    expect(swing({ capacitance: 10e-3 })).toBeCloseTo(one / 2, 12);
    expect(swing({ switchingFrequency: 8e3 })).toBeCloseTo(one / 2, 12);
    expect(swing({ cosPhi: -0.8 })).toBeCloseTo(one, 9);
    expect(swing({ current: 0 })).toBe(0);
  });

  test('depends on how the zero states are shared', () => {
    expect(swing({ modulation: 'sine' })).toBeGreaterThan(1.05 * swing()!);
  });

  test('is not known outside the linear range, for no possible angle, and without capacitance or switching', () => {
    expect(swing({ modulationIndex: 1.15 })).toBeGreaterThan(0);
    for (const changes of [
      { modulationIndex: 1.16 },
      { modulationIndex: 1.01, modulation: 'sine' },
      { modulationIndex: -0.1 },
      { cosPhi: 1.01 },
      { capacitance: 0 },
      { switchingFrequency: 0 },
      { modulationIndex: Number.NaN },
      { capacitance: Number.NaN },
    ] as const)
      expect(swing(changes)).toBeUndefined();
  });
});
