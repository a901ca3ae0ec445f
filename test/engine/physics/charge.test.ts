// A charge with its taper: laws in order, time against an independent integration, energy balance.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Charge, charge } from '../../../engine/physics/charge.ts';

const sloped: Charge = {
  emf: soc => 700 + 120 * soc,
  resistance: soc => 0.1 + 0.05 * soc,
  capacity: 3600 * 300,
  currentLimit: () => 200,
  voltageMax: 815,
  socFrom: 0.1,
  socTo: 0.9,
};

/** dsoc/dt = I/C with the least of the three currents, by small steps of the midpoint rule in time. */
function marchInTime(facts: Charge, socEnd: number, step: number) {
  const power = Math.min(facts.power ?? 1e12, facts.powerLimit ?? 1e12);
  const current = (soc: number) => {
    const e = facts.emf(soc);
    const r = facts.resistance(soc);
    const byPower = (-e + Math.sqrt(e * e + 4 * r * power)) / (2 * r);
    const greatest = typeof facts.voltageMax === 'number' ? facts.voltageMax : facts.voltageMax(soc);
    return Math.min(facts.currentLimit(soc), byPower, (greatest - e) / r);
  };
  let soc = facts.socFrom;
  let time = 0;
  let energy = 0;
  while (soc < socEnd && time < 1e6) {
    const middle = soc + ((step / 2) * current(soc)) / facts.capacity;
    const next = soc + (step * current(middle)) / facts.capacity;
    const share = next > socEnd ? (socEnd - soc) / (next - soc) : 1;
    energy += current(middle) * (facts.emf(middle) + current(middle) * facts.resistance(middle)) * step * share;
    time += step * share;
    soc = next;
  }
  return { time, energy };
}

describe('a charge at constant current', () => {
  it('lasts charge over current while the voltage limit is far', () => {
    const result = charge({ ...sloped, socTo: 0.5 });
    expect(result).toMatchObject({ stopped: 'soc', socEnd: 0.5, taper: undefined });
    expect(result.time).toBeCloseTo((0.4 * sloped.capacity) / 200, 6);
    expect(result.phases.map(phase => phase.law)).toEqual(['current']);
  });

  it('tapers from where its voltage meets the limit', () => {
    const result = charge(sloped);
    expect(result.phases.map(phase => phase.law)).toEqual(['current', 'voltage']);
    // 700 + 120·s + 200·(0.1 + 0.05·s) = 815 at s = 95/130.
    expect(result.taper?.soc).toBeCloseTo(95 / 130, 9);
    expect(result.taper?.time).toBeCloseTo(((95 / 130 - 0.1) * sloped.capacity) / 200, 4);
    expect(result.highestVoltage).toBeCloseTo(815, 9);
    expect(result.time).toBeCloseTo(result.phases[0]!.time + result.phases[1]!.time, 6);
  });

  it('agrees with a fine march in time, taper included', () => {
    const reference = marchInTime(sloped, 0.9, 0.2);
    const result = charge(sloped);
    expect(Math.abs(result.time / reference.time - 1)).toBeLessThan(1e-5);
    expect(Math.abs(result.energy / reference.energy - 1)).toBeLessThan(1e-5);
  });

  it('tapers by the law e^(−t/τ) where the resistance is constant', () => {
    // Linear E with slope k: d soc/dt = (Umax − E)/(R·C), τ = R·C/k; from 50 A to 10 A takes τ·ln 5.
    const result = charge({
      ...sloped,
      resistance: () => 0.1,
      voltageMax: 805,
      currentLimit: () => 50,
      socTo: 1,
      tailCurrent: 10,
    });
    const taper = result.phases.find(phase => phase.law === 'voltage');
    expect(result.stopped).toBe('tail');
    expect(taper?.time).toBeCloseTo(((0.1 * sloped.capacity) / 120) * Math.log(5), 3);
    expect(805 - sloped.emf(result.socEnd)).toBeCloseTo(1, 6);
  });
});

describe('a charge at limited power', () => {
  it('goes from current to power to voltage as the battery fills', () => {
    const result = charge({ ...sloped, emf: soc => 500 + 300 * soc, voltageMax: 780, power: 140_000 });
    expect(result.phases.map(phase => phase.law)).toEqual(['current', 'power', 'voltage']);
    const bySource = charge({ ...sloped, emf: soc => 500 + 300 * soc, voltageMax: 780, powerLimit: 140_000 });
    expect(bySource.time).toBe(result.time);
  });

  it('takes power times time while the power law rules', () => {
    const result = charge({ ...sloped, power: 50_000, socTo: 0.6 });
    expect(result.phases.map(phase => phase.law)).toEqual(['power']);
    expect(result.energy).toBeCloseTo(50_000 * result.time, 0);
  });

  it('agrees with a fine march in time for any battery', () => {
    const facts = fc.record({
      slope: fc.double({ min: 20, max: 300, noNaN: true }),
      ohms: fc.double({ min: 0.01, max: 0.3, noNaN: true }),
      watts: fc.double({ min: 30_000, max: 300_000, noNaN: true }),
      amps: fc.double({ min: 50, max: 400, noNaN: true }),
      room: fc.double({ min: 2, max: 60, noNaN: true }),
    });
    fc.assert(
      fc.property(facts, ({ slope, ohms, watts, amps, room }) => {
        const run: Charge = {
          ...sloped,
          emf: soc => 650 + slope * soc,
          resistance: () => ohms,
          currentLimit: soc => amps * (1.2 - 0.2 * soc),
          power: watts,
          voltageMax: 650 + slope * 0.9 + room,
          tailCurrent: 0,
        };
        const result = charge(run);
        expect(result.stopped).toBe('soc');
        expect(Math.abs(result.time / marchInTime(run, 0.9, 2).time - 1)).toBeLessThan(1e-3);
        expect((result.chemicalEnergy + result.losses) / result.energy).toBeCloseTo(1, 12);
      }),
      { numRuns: 40 },
    );
  });

  it('never takes longer with more power', () => {
    const watts = fc.double({ min: 1000, max: 3e5, noNaN: true });
    fc.assert(
      fc.property(watts, watts, (one, other) => {
        const time = (power: number) => charge({ ...sloped, power }).time;
        expect(time(Math.max(one, other))).toBeLessThanOrEqual(time(Math.min(one, other)) * (1 + 1e-9));
      }),
    );
  });
});

describe('what stops a charge', () => {
  it('is the tail, at the latest where the open-circuit voltage meets the limit', () => {
    const result = charge({ ...sloped, voltageMax: 790, socTo: 1 });
    expect(result.stopped).toBe('tail');
    expect(result.socEnd).toBeLessThan(0.75);
    expect(Number.isFinite(result.time)).toBe(true);
  });

  it('is a current limit of nothing', () => {
    expect(charge({ ...sloped, currentLimit: () => 0 })).toMatchObject({ stopped: 'current', time: 0, energy: 0 });
    const fading = charge({ ...sloped, currentLimit: soc => (soc < 0.5 ? 100 : 0), knots: [0.5] });
    expect(fading.stopped).toBe('current');
    expect(fading.socEnd).toBeCloseTo(0.5, 9);
  });

  it('is the clock', () => {
    const whole = charge(sloped);
    const part = charge({ ...sloped, timeLimit: 3000 });
    expect(part).toMatchObject({ stopped: 'time', time: 3000 });
    expect(charge({ ...sloped, socFrom: part.socEnd }).time).toBeCloseTo(whole.time - 3000, 4);
  });

  it('is nothing for a battery without resistance below its voltage limit', () => {
    const result = charge({ ...sloped, resistance: () => 0 });
    expect(result).toMatchObject({ stopped: 'soc', losses: 0 });
    expect(charge({ ...sloped, resistance: () => 0, voltageMax: 760 }).socEnd).toBeCloseTo(0.5, 9);
  });
});

describe('the track of a charge', () => {
  it('is empty unless asked for, and then runs from the beginning to the end in order', () => {
    expect(charge(sloped).track).toEqual([]);
    const result = charge({ ...sloped, track: true });
    expect(result.track[0]).toMatchObject({ time: 0, soc: 0.1 });
    expect(result.track.at(-1)).toMatchObject({ time: result.time, soc: result.socEnd });
    const times = result.track.map(({ time }) => time);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });
});
