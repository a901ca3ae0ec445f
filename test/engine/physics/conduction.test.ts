// Uncontrolled charging: nothing above the threshold, monotone below it, power balanced, limits of simpler laws.
import { describe, expect, it } from 'vitest';
import { type Conduction, conductUncontrolled, type UncontrolledBridge } from '../../../engine/physics/conduction.ts';
import { filtered, peak, plain } from '../../kit/bridges.ts';

const at = (bridge: UncontrolledBridge, share: number): UncontrolledBridge => ({
  ...bridge,
  dcEmf: share * Math.SQRT2 * bridge.lineVoltage,
});

const imbalance = (result: Conduction) =>
  Math.abs(result.sourcePower - result.batteryPower - result.losses) / result.sourcePower;

describe('a battery above the peak of the line voltage', () => {
  it('takes nothing', () => {
    for (const share of [1, 1.0001, 1.3]) {
      expect(conductUncontrolled(at(plain, share))).toMatchObject({ conducts: false, mode: 'none', meanCurrent: 0 });
    }
  });

  it('takes nothing within two diode drops below it either', () => {
    expect(conductUncontrolled({ ...plain, dcEmf: peak - 1.5, diodeDrop: 0.8 }).conducts).toBe(false);
    expect(conductUncontrolled({ ...plain, dcEmf: peak - 1.7, diodeDrop: 0.8 }).conducts).toBe(true);
  });

  it('takes something as soon as the capacitor raises the voltage', () => {
    const rise = conductUncontrolled(filtered).openVoltage / 690;
    const omega = 2 * Math.PI * 50;
    expect(rise).toBeCloseTo(1 / (1 - omega ** 2 * 100e-6 * 200e-6), 5);
    expect(conductUncontrolled(at(filtered, 0.9999 * rise)).conducts).toBe(true);
    expect(conductUncontrolled(at(filtered, 1.0001 * rise))).toMatchObject({ conducts: false, meanCurrent: 0 });
  });
});

describe('a battery below it', () => {
  it('takes a current with gaps at first, then without', () => {
    expect(conductUncontrolled(at(plain, 0.98)).mode).toBe('discontinuous');
    expect(conductUncontrolled(at(plain, 0.9)).mode).toBe('continuous');
  });

  it('takes more the higher the voltage of the network', () => {
    const low = conductUncontrolled(plain);
    const high = conductUncontrolled({ ...plain, lineVoltage: 700 });
    expect(high.meanCurrent).toBeGreaterThan(low.meanCurrent);
  });

  it('scales: twice all voltages make twice all currents', () => {
    const once = conductUncontrolled(plain);
    const twice = conductUncontrolled({ ...plain, lineVoltage: 1380, dcEmf: 2 * plain.dcEmf });
    expect(twice.meanCurrent / once.meanCurrent).toBeCloseTo(2, 10);
    expect(twice.peakCurrent / once.peakCurrent).toBeCloseTo(2, 9);
    expect(twice.sourcePower / once.sourcePower).toBeCloseTo(4, 9);
  });

  it('orders mean, rms and peak', () => {
    const { meanCurrent, rmsCurrent, peakCurrent, phaseRms, fundamentalRms } = conductUncontrolled(at(plain, 0.97));
    expect(meanCurrent).toBeLessThan(rmsCurrent);
    expect(rmsCurrent).toBeLessThan(peakCurrent);
    expect(fundamentalRms).toBeLessThan(phaseRms);
  });
});

describe('pulses into a battery near the peak, two diodes at a time', () => {
  const m = 0.95;
  const [crossing, width] = [Math.asin(m), Math.PI - 2 * Math.asin(m)];
  const share = 3 / Math.PI;

  it('behind resistance are what the line voltage exceeds the battery by, over the resistance', () => {
    // i = (sin θ − m)/R from α to π − α, and its integrals in closed form.
    for (const [sourceResistance, dcResistance] of [
      [0.02, 0.01],
      [0, 0.05],
      [0.03, 0],
    ] as const) {
      const resistive = { ...at(plain, m), sourceInductance: 0, sourceResistance, dcResistance };
      const found = conductUncontrolled(resistive);
      const base = peak / (2 * sourceResistance + dcResistance);
      const mean = share * base * (2 * Math.cos(crossing) - m * width);
      const square = width / 2 + Math.sin(2 * crossing) / 2 - 4 * m * Math.cos(crossing) + m * m * width;
      const rms = base * Math.sqrt(share * square);
      const losses = (2 * sourceResistance + dcResistance) * rms ** 2;
      const expected: Partial<Conduction> = {
        meanCurrent: mean,
        rmsCurrent: rms,
        peakCurrent: base * (1 - m),
        idleShare: 1 - share * width,
        // Each phase carries in four of six pulses.
        phaseRms: rms * Math.sqrt(2 / 3),
        sourceRms: rms * Math.sqrt(2 / 3),
        batteryPower: m * peak * mean,
        losses,
        sourcePower: m * peak * mean + losses,
        displacementFactor: 1,
        // A sinusoidal voltage gives its power to the fundamental alone.
        fundamentalRms: (m * peak * mean + losses) / (Math.sqrt(3) * 690),
        openVoltage: 690,
      };
      for (const [name, value] of Object.entries(expected)) {
        expect(found[name as keyof Conduction], name).toBeCloseTo(value as number, 3);
        expect((found[name as keyof Conduction] as number) / (value as number), name).toBeCloseTo(1, 6);
      }
      expect(found).toMatchObject({ conducts: true, mode: 'discontinuous', converged: true });
    }
  });

  it('behind inductance peak where the line voltage falls below the battery again', () => {
    const inductive = { ...at(plain, 0.98), sourceResistance: 0, dcResistance: 0 };
    const start = Math.asin(0.98);
    const highest = (2 * Math.cos(start) - 0.98 * (Math.PI - 2 * start)) / 2;
    const { peakCurrent } = conductUncontrolled(inductive);
    expect(peakCurrent / ((highest * peak) / (2 * Math.PI * 50 * 100e-6))).toBeCloseTo(1, 9);
    // Inductance on the DC side is twice as much in the same loop.
    const halved = { ...inductive, sourceInductance: 50e-6, dcInductance: 100e-6 };
    expect(conductUncontrolled(halved).peakCurrent / peakCurrent).toBeCloseTo(1, 9);
  });

  it('see a diode drop as a battery that much higher, but lose it in the diodes', () => {
    const dropping = conductUncontrolled({ ...at(plain, m), diodeDrop: 0.8 });
    const higher = conductUncontrolled({ ...plain, dcEmf: m * peak + 1.6 });
    for (const name of ['meanCurrent', 'rmsCurrent', 'peakCurrent', 'phaseRms', 'sourcePower'] as const) {
      expect(dropping[name] / higher[name]).toBeCloseTo(1, 9);
    }
    expect(dropping.losses - higher.losses).toBeCloseTo(1.6 * dropping.meanCurrent, 6);
  });
});

describe('power', () => {
  it('of the source is that of battery and losses, and that of the fundamental', () => {
    for (const bridge of [plain, at(plain, 0.7), { ...plain, dcInductance: 1e-3, diodeDrop: 0.8 }, at(plain, 0.99)]) {
      const found = conductUncontrolled(bridge);
      expect(imbalance(found)).toBeLessThan(1e-7);
      const ofFundamental = Math.sqrt(3) * 690 * found.fundamentalRms * found.displacementFactor;
      expect(ofFundamental / found.sourcePower).toBeCloseTo(1, 9);
      expect(found.sourceRms).toBe(found.phaseRms);
      expect(found.displacementFactor).toBeLessThan(1);
    }
  });

  it('is lost in each resistance by the current through it', () => {
    const filter = { capacitance: 200e-6, inductance: 120e-6, resistance: 4e-3 };
    const bridge = { ...at(plain, 0.9), diodeDrop: 0.8, filter };
    const undamped = conductUncontrolled(bridge);
    const { sourceRms, phaseRms, rmsCurrent, meanCurrent, losses } = undamped;
    const expected = 3 * (3e-3 * sourceRms ** 2 + 4e-3 * phaseRms ** 2) + 10e-3 * rmsCurrent ** 2 + 1.6 * meanCurrent;
    expect(losses / expected).toBeCloseTo(1, 9);
    expect(imbalance(undamped)).toBeLessThan(1e-7);
    const damped = conductUncontrolled({ ...bridge, filter: { ...filter, dampingResistance: 0.2 } });
    expect(imbalance(damped)).toBeLessThan(1e-7);
    expect(damped.converged).toBe(true);
  });
});

describe('a smooth DC current', () => {
  it('follows the law of the commutation drop', () => {
    // Overlap well below 60°: Ud0 − 3/π·X·I − R·I = E.
    const emf = 0.85 * peak;
    const smooth = { ...plain, sourceResistance: 0, dcEmf: emf, dcInductance: 0.5, dcResistance: 0.05 };
    const { meanCurrent } = conductUncontrolled(smooth);
    const reactance = 2 * Math.PI * 50 * 100e-6;
    const mean = ((3 * Math.SQRT2) / Math.PI) * 690 - ((3 / Math.PI) * reactance + 0.05) * meanCurrent;
    expect(mean / emf).toBeCloseTo(1, 4);
  });

  it('is reported as not settled where both diodes of a leg would carry', () => {
    const result = conductUncontrolled({ ...plain, dcEmf: 0.2 * peak, dcInductance: 5e-3 });
    const stiff = conductUncontrolled({ ...plain, dcEmf: 0.2 * peak });
    expect(result.converged).toBe(false);
    expect(result.meanCurrent).toBe(stiff.meanCurrent);
    expect(result.residual).toBe(1);
  });

  it('is then estimated behind a filter as by all its inductors on the raised voltage', () => {
    const filter = { capacitance: 200e-6, inductance: 120e-6, resistance: 1e-3 };
    const result = conductUncontrolled({ ...plain, dcEmf: 0.2 * peak, dcInductance: 5e-3, filter });
    const { openVoltage } = conductUncontrolled({ ...at(plain, 1.5), filter });
    const inductances = { lineVoltage: openVoltage, sourceInductance: 220e-6, sourceResistance: 4e-3 };
    const stiff = conductUncontrolled({ ...plain, ...inductances, dcEmf: 0.2 * peak });
    expect(result.converged).toBe(false);
    expect(result.meanCurrent / stiff.meanCurrent).toBeCloseTo(1, 12);
    expect(result.openVoltage).toBeCloseTo(openVoltage, 9);
  });
});

describe('a filter before the bridge', () => {
  it('is no more than its inductor where its capacitor is small', () => {
    const small = conductUncontrolled({ ...plain, filter: { capacitance: 1e-8, inductance: 50e-6 } });
    const none = conductUncontrolled({ ...plain, sourceInductance: 150e-6 });
    expect(small.meanCurrent / none.meanCurrent).toBeCloseTo(1, 4);
    expect(small.phaseRms / none.phaseRms).toBeCloseTo(1, 4);
  });

  it('is exactly its inductor where it resonates above 400 times the frequency, or has no capacitor', () => {
    const inductor = { inductance: 50e-6, resistance: 2e-3 };
    // 100 µH beside 50 µH are 33.3 µH; 20 kHz.
    const edge = 1 / ((2 * Math.PI * 20e3) ** 2 * (100e-6 / 3));
    const found = (capacitance: number) => conductUncontrolled({ ...plain, filter: { ...inductor, capacitance } });
    const alone = conductUncontrolled({ ...plain, sourceInductance: 150e-6, sourceResistance: 5e-3 });
    const near = (capacitance: number) => Math.abs(found(capacitance).meanCurrent / alone.meanCurrent - 1);
    expect(near(0)).toBeLessThan(1e-10);
    expect(near(0.999 * edge)).toBeLessThan(1e-10);
    expect(found(0.999 * edge)).toMatchObject({ openVoltage: 690, sourceRms: found(0.999 * edge).phaseRms });
    // Just below, it counts; a battery that blocks shows this at once.
    const { openVoltage } = conductUncontrolled({
      ...at(plain, 1.1),
      filter: { ...inductor, capacitance: 1.001 * edge },
    });
    expect(openVoltage).toBeGreaterThan(690);
    expect(openVoltage).toBeLessThan(690 * 1.0001);
  });

  it('has a thousandth of the other inductance at least on either side of its capacitor', () => {
    const found = (sourceInductance: number, inductance: number, share: number) =>
      conductUncontrolled({ ...at(plain, share), sourceInductance, filter: { capacitance: 2e-3, inductance } });
    const ratio = (one: Conduction, other: Conduction) => one.meanCurrent / other.meanCurrent;
    const [bare, small, more] = [0, 1e-6, 2e-6];
    expect(ratio(found(1e-3, bare, 1.24), found(1e-3, small, 1.24))).toBeCloseTo(1, 9);
    expect(Math.abs(ratio(found(1e-3, bare, 1.24), found(1e-3, more, 1.24)) - 1)).toBeGreaterThan(1e-6);
    expect(ratio(found(bare, 1e-3, 0.99), found(small, 1e-3, 0.99))).toBeCloseTo(1, 9);
    expect(Math.abs(ratio(found(bare, 1e-3, 0.99), found(more, 1e-3, 0.99)) - 1)).toBeGreaterThan(1e-6);
  });

  it('makes short pulses larger than the rise of voltage alone would', () => {
    const network = { ...at(plain, 0.96), sourceInductance: 200e-6, sourceResistance: 20e-3 };
    const result = conductUncontrolled({ ...network, filter: { capacitance: 170e-6, inductance: 100e-6 } });
    const raised = { ...network, lineVoltage: result.openVoltage, sourceInductance: 300e-6 };
    expect(result.meanCurrent).toBeGreaterThan(1.2 * conductUncontrolled(raised).meanCurrent);
  });

  it('draws its own current without any conduction', () => {
    const result = conductUncontrolled(at(filtered, 1.24));
    const omega = 2 * Math.PI * 50;
    // Well below resonance: ω·C·U/√3, raised like the voltage.
    expect(result.sourceRms).toBeCloseTo((omega * 200e-6 * result.openVoltage) / Math.sqrt(3), 2);
    expect(result.losses).toBeCloseTo(3 * (3e-3 + 0.05) * result.sourceRms ** 2, 9);
    expect(result.sourcePower).toBe(result.losses);
    expect(result).toMatchObject({ idleShare: 1, peakCurrent: 0, phaseRms: 0, fundamentalRms: 0, batteryPower: 0 });
  });
});

describe('odd inputs', () => {
  it('never hang and never give a number that is none', () => {
    const odd: Partial<UncontrolledBridge>[] = [
      { sourceInductance: 0 },
      { sourceInductance: 0, sourceResistance: 0, dcResistance: 0 },
      { dcEmf: 0 },
      { dcEmf: 0, dcResistance: 0 },
      { dcEmf: -100 },
      { sourceInductance: 10 },
      { sourceResistance: 100 },
      { dcEmf: peak * (1 - 1e-12) },
      { filter: { capacitance: 100e-6, inductance: 0 } },
      { sourceInductance: 0, filter: { capacitance: 100e-6, inductance: 100e-6 } },
      { sourceInductance: 0, filter: { capacitance: 0, inductance: 0 } },
    ];
    for (const change of odd) {
      const result = conductUncontrolled({ ...plain, ...change });
      for (const value of Object.values(result)) {
        if (typeof value === 'number') expect(Number.isFinite(value), JSON.stringify(change)).toBe(true);
      }
    }
  });
});
