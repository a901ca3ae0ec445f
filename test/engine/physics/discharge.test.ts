// A discharge at constant power: its end, its time against an independent integration, and its energy balance.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Discharge, discharge, leastDischargeTime } from '../../../engine/physics/discharge.ts';

const flat: Discharge = {
  emf: () => 800,
  resistance: () => 0.05,
  capacity: 3600 * 300,
  power: 200_000,
  socFrom: 0.9,
  socTo: 0.1,
  voltageMin: 600,
  currentMax: () => 600,
};

/** A cell-like curve with a steep foot, made up: exponential foot, gentle slope. */
const bent = (soc: number) => 760 + 60 * soc - 160 * Math.exp(-20 * soc);
const growing = (soc: number) => 0.05 + 0.04 * Math.exp(-6 * soc);
const curved: Discharge = { ...flat, emf: bent, resistance: growing };

/** dsoc/dt = −I/C with the classical fourth-order step in time, until the wanted depth: shares nothing with the engine. */
function marchInTime(facts: Discharge, socEnd: number, step: number) {
  const current = (soc: number) => {
    const e = facts.emf(soc);
    const r = facts.resistance(soc);
    return (e - Math.sqrt(e * e - 4 * r * facts.power)) / (2 * r);
  };
  const slope = (soc: number) => -current(soc) / facts.capacity;
  let soc = facts.socFrom;
  let time = 0;
  let losses = 0;
  while (soc > socEnd) {
    const k1 = slope(soc);
    const k2 = slope(soc + (step / 2) * k1);
    const k3 = slope(soc + (step / 2) * k2);
    const k4 = slope(soc + step * k3);
    const next = soc + (step / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
    const share = next < socEnd ? (soc - socEnd) / (soc - next) : 1;
    const middle = soc + (step / 2) * k2;
    losses += current(middle) ** 2 * facts.resistance(middle) * step * share;
    time += step * share;
    soc = next;
  }
  return { time, losses };
}

describe('a discharge that nothing stops', () => {
  it('lasts charge over current on a flat curve', () => {
    const result = discharge(flat);
    const current = (800 - Math.sqrt(800 ** 2 - 4 * 0.05 * 200_000)) / 0.1;
    expect(result.stopped).toBe('soc');
    expect(result.socEnd).toBe(0.1);
    expect(result.time).toBeCloseTo((0.8 * flat.capacity) / current, 6);
    expect(result.highestCurrent).toBeCloseTo(current, 9);
  });

  it('agrees with a fine march in time', () => {
    const result = discharge(curved);
    const reference = marchInTime(curved, 0.1, 0.5);
    expect(result.stopped).toBe('soc');
    expect(Math.abs(result.time / reference.time - 1)).toBeLessThan(1e-5);
    expect(Math.abs(result.losses / reference.losses - 1)).toBeLessThan(1e-4);
  });

  it('agrees with it for any battery', () => {
    const facts = fc.record({
      foot: fc.double({ min: 0, max: 200, noNaN: true }),
      slope: fc.double({ min: 0, max: 150, noNaN: true }),
      ohms: fc.double({ min: 0.001, max: 0.15, noNaN: true }),
      watts: fc.double({ min: 30_000, max: 400_000, noNaN: true }),
      socTo: fc.double({ min: 0.05, max: 0.7, noNaN: true }),
    });
    fc.assert(
      fc.property(facts, ({ foot, slope, ohms, watts, socTo }) => {
        const run: Discharge = {
          ...flat,
          emf: soc => 750 + slope * soc - foot * Math.exp(-15 * soc),
          resistance: soc => ohms * (1.3 - 0.3 * soc),
          power: watts,
          socTo,
          voltageMin: 0,
          currentMax: () => 1e6,
        };
        const result = discharge(run);
        expect(result.stopped).toBe('soc');
        expect(Math.abs(result.time / marchInTime(run, socTo, 2).time - 1)).toBeLessThan(1e-3);
      }),
      { numRuns: 40 },
    );
  });
});

describe('energy', () => {
  it('delivers power times time, and closes', () => {
    for (const power of [10_000, 200_000, 1_000_000]) {
      const result = discharge({ ...curved, power, voltageMin: 0, currentMax: () => 1e6 });
      expect(result.energy / (power * result.time)).toBeCloseTo(1, 7);
      expect((result.energy + result.losses) / result.chemicalEnergy).toBeCloseTo(1, 12);
    }
  });
});

describe('what stops a discharge', () => {
  it('is the least voltage', () => {
    const result = discharge({ ...curved, voltageMin: 700, socTo: 0 });
    expect(result.stopped).toBe('voltage');
    expect(result.lowestVoltage).toBeCloseTo(700, 4);
    const current = flat.power / 700;
    expect(bent(result.socEnd) - current * growing(result.socEnd)).toBeCloseTo(700, 4);
  });

  it('is the largest current, even where its limit falls with the state of charge', () => {
    const currentMax = (soc: number) => 100 + 400 * soc;
    const result = discharge({ ...curved, currentMax });
    expect(result.stopped).toBe('current');
    expect(result.highestCurrent).toBeCloseTo(currentMax(result.socEnd), 4);
  });

  it('is more power than the resistance lets through', () => {
    const result = discharge({ ...curved, resistance: soc => 0.3 + 2 * (1 - soc), voltageMin: 0, socTo: 0 });
    expect(result.stopped).toBe('power');
    const end = result.socEnd;
    expect(bent(end) ** 2 / (4 * (0.3 + 2 * (1 - end)))).toBeCloseTo(200_000, 1);
    const reference = marchInTime({ ...curved, resistance: soc => 0.3 + 2 * (1 - soc) }, end + 1e-3, 0.05);
    const near = discharge({ ...curved, resistance: soc => 0.3 + 2 * (1 - soc), voltageMin: 0, socTo: end + 1e-3 });
    expect(Math.abs(near.time / reference.time - 1)).toBeLessThan(1e-4);
  });

  it('is the clock', () => {
    const whole = discharge(curved);
    const half = discharge({ ...curved, timeLimit: whole.time / 2 });
    expect(half.stopped).toBe('time');
    expect(half.time).toBe(whole.time / 2);
    const rest = discharge({ ...curved, socFrom: half.socEnd });
    expect(rest.time).toBeCloseTo(whole.time / 2, 4);
  });

  it('names at once what forbids even the start', () => {
    expect(discharge({ ...flat, voltageMin: 790 })).toMatchObject({ time: 0, stopped: 'voltage', socEnd: 0.9 });
    expect(discharge({ ...flat, currentMax: () => 10 })).toMatchObject({ time: 0, stopped: 'current' });
    expect(discharge({ ...flat, power: 4e6 })).toMatchObject({ time: 0, stopped: 'power', energy: 0 });
    expect(discharge({ ...flat, emf: () => Number.NaN })).toMatchObject({ time: 0, stopped: 'power' });
  });

  it('is nothing where a limit is met exactly', () => {
    const { lowestVoltage, highestCurrent } = discharge(flat);
    expect(discharge({ ...flat, voltageMin: lowestVoltage }).stopped).toBe('soc');
    expect(discharge({ ...flat, currentMax: () => highestCurrent }).stopped).toBe('soc');
  });

  it('is nothing at the most that the resistance lets through, E²/4R, where half of the voltage is left', () => {
    const result = discharge({ ...flat, power: 3.2e6, voltageMin: 0, currentMax: () => 1e6 });
    expect(result).toMatchObject({ stopped: 'soc', highestCurrent: 8000, lowestVoltage: 400 });
    expect(discharge({ ...flat, power: 3.21e6, voltageMin: 0, currentMax: () => 1e6 }).stopped).toBe('power');
  });

  it('is a battery without voltage, or one that stands the wrong way round', () => {
    for (const emf of [0, -800]) expect(discharge({ ...flat, emf: () => emf }).stopped).toBe('power');
  });
});

describe('a curve with kinks', () => {
  const points = [0, 0.1, 0.2, 0.85, 1];
  const values = [600, 720, 760, 790, 830];
  const linear = (soc: number) => {
    const next = Math.max(
      1,
      points.findIndex(point => point >= soc),
    );
    const share = (soc - points[next - 1]!) / (points[next]! - points[next - 1]!);
    return values[next - 1]! + share * (values[next]! - values[next - 1]!);
  };

  it('is integrated piece by piece', () => {
    const run: Discharge = { ...flat, emf: linear, socFrom: 1, socTo: 0.02, voltageMin: 0, knots: points };
    const reference = marchInTime(run, 0.02, 0.1);
    expect(Math.abs(discharge(run).time / reference.time - 1)).toBeLessThan(1e-6);
  });
});

describe('the track', () => {
  it('starts at the beginning, ends at the end and is in order', () => {
    const result = discharge({ ...curved, track: true });
    expect(result.track[0]).toMatchObject({ time: 0, soc: 0.9 });
    expect(result.track.at(-1)).toMatchObject({ time: result.time, soc: result.socEnd });
    for (const [index, point] of result.track.entries()) {
      if (index > 0) expect(point.time).toBeGreaterThan(result.track[index - 1]!.time);
    }
    expect(discharge(curved).track).toEqual([]);
  });
});

describe('power', () => {
  it('never lasts longer when larger', () => {
    const watts = fc.double({ min: 1000, max: 2e6, noNaN: true });
    fc.assert(
      fc.property(watts, watts, (one, other) => {
        const time = (power: number) => discharge({ ...curved, power, socTo: 0 }).time;
        expect(time(Math.max(one, other))).toBeLessThanOrEqual(time(Math.min(one, other)));
      }),
    );
  });

  it('of zero lasts for ever, or until the clock', () => {
    expect(discharge({ ...flat, power: 0 }).time).toBe(Number.POSITIVE_INFINITY);
    expect(discharge({ ...flat, power: 0, timeLimit: 60 })).toMatchObject({ time: 60, energy: 0, stopped: 'time' });
  });
});

describe('the least time', () => {
  const worstOf = ({ emf, resistance, capacity }: Discharge, socs: readonly number[], currentMax: number) => ({
    emf: Math.min(...socs.map(emf)),
    resistance: Math.max(...socs.map(resistance)),
    voltageMin: 600,
    currentMax,
    capacity,
  });

  it('is that of the run where nothing varies', () => {
    expect(leastDischargeTime(worstOf(flat, [0.1, 0.9], 600), flat.power, 0.8)).toBeCloseTo(discharge(flat).time, 6);
  });

  it('is never above that of the run, whatever may end it', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(share, share, share, (bottom, load, limit) => {
        const facts = { ...curved, socTo: 0.8 * bottom, power: 1e6 * load, currentMax: () => 200 + 800 * limit };
        const worst = worstOf(facts, [facts.socTo, facts.socFrom], facts.currentMax());
        const least = leastDischargeTime(worst, facts.power, facts.socFrom - facts.socTo);
        expect(least).toBeLessThanOrEqual(discharge(facts).time * (1 + 1e-9));
      }),
      { numRuns: 300 },
    );
  });

  it('is none where a limit may end it', () => {
    expect(leastDischargeTime(worstOf(flat, [0.5], 100), flat.power, 0.8)).toBe(0);
    expect(leastDischargeTime({ ...worstOf(flat, [0.5], 600), voltageMin: 790 }, flat.power, 0.8)).toBe(0);
  });
});
