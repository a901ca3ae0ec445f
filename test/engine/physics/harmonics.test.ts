// Harmonics carried through the ladder: against the plain case by hand, against conservation, against the resonances.

import { describe, expect, test } from 'vitest';
import { capacitorElement, chokeElement, lowerResonance, resonanceFrequency } from '../../../engine/physics/filter.ts';
import {
  backgroundAmplification,
  carryHarmonics,
  type HarmonicCircuit,
  inductiveNetwork,
} from '../../../engine/physics/harmonics.ts';
import type { LadderElement } from '../../../engine/physics/ladder.ts';
import { deviation, solved } from '../../kit/solved.ts';

const [l1, l2, networkL, capacitance] = [100e-6, 30e-6, 20e-6, 300e-6];

/** Choke, damped capacitor, choke, and on the network side a transformer of the given ratio without impedance. */
const circuit = (damping: number, resistance = 1e-3, ratio = 1): HarmonicCircuit => ({
  elementsAt: frequency => [
    { kind: 'ratio', ratio },
    chokeElement(frequency, l2, resistance),
    capacitorElement(frequency, capacitance, damping)!,
    chokeElement(frequency, l1, resistance),
  ],
  networkAt: inductiveNetwork(
    { resistance: resistance * ratio ** 2, reactance: 2 * Math.PI * 50 * networkL * ratio ** 2 },
    50,
  ),
});

const orders = [5, 7, 11, 13, 19, 29, 37, 79, 81, 159, 161, 400];

describe('carried harmonics', () => {
  test('through chokes alone are volts over ohms', () => {
    const chokes: HarmonicCircuit = {
      elementsAt: frequency => [chokeElement(frequency, l1)],
      networkAt: inductiveNetwork({ resistance: 0, reactance: 2 * Math.PI * 50 * networkL }, 50),
    };
    const [line] = solved(carryHarmonics([{ frequency: 350, voltage: 12 }], chokes)).lines;
    const current = 12 / Math.sqrt(3) / (2 * Math.PI * 350 * (l1 + networkL));
    expect(deviation(line!.converterCurrent, current)).toBeLessThan(1e-12);
    expect(deviation(line!.connectionCurrent, current)).toBeLessThan(1e-12);
    expect(deviation(line!.connectionVoltage, (12 * networkL) / (l1 + networkL))).toBeLessThan(1e-12);
    // Through an inductance the current lags by a quarter.
    expect(deviation(-line!.converterPhasor.im, current)).toBeLessThan(1e-12);
  });

  test('turn with the sign of the voltage', () => {
    const given = { frequency: 4050, voltage: 30 } as const;
    const [plus, minus] = solved(carryHarmonics([given, { ...given, sign: -1 }], circuit(0.05))).lines;
    expect(minus!.converterPhasor.re).toBe(-plus!.converterPhasor.re);
    expect(minus!.converterPhasor.im).toBe(-plus!.converterPhasor.im);
    expect(minus!.converterCurrent).toBe(plus!.converterCurrent);
  });

  test.each([0, 0.02, 0.2])('passive: no more power arrives than the converter gives, damping %d ohm', damping => {
    const harmonics = orders.map(order => ({ frequency: order * 50, voltage: 20 }));
    const plant = circuit(damping);
    for (const line of solved(carryHarmonics(harmonics, plant)).lines) {
      const given = Math.sqrt(3) * line.converterVoltage * line.converterPhasor.re;
      const arriving = 3 * plant.networkAt(line.frequency).resistance * line.connectionCurrent ** 2;
      const choke = 3e-3 * line.converterCurrent ** 2;
      expect(arriving + choke).toBeGreaterThan(0);
      expect(given, `${line.frequency} Hz`).toBeGreaterThanOrEqual((arriving + choke) * (1 - 1e-9));
    }
  });

  test('without damping all power given is that of the three resistances', () => {
    for (const line of solved(
      carryHarmonics(
        orders.map(order => ({ frequency: order * 50, voltage: 20 })),
        circuit(0),
      ),
    ).lines) {
      const given = Math.sqrt(3) * line.converterVoltage * line.converterPhasor.re;
      const lost = 3e-3 * (line.converterCurrent ** 2 + 2 * line.connectionCurrent ** 2);
      expect(deviation(given, lost), `${line.frequency} Hz`).toBeLessThan(1e-6);
    }
  });

  test('a transformer changes them by its ratio', () => {
    const given = [{ frequency: 3950, voltage: 40 }];
    const [plain] = solved(carryHarmonics(given, circuit(0.05))).lines;
    const [stepped] = solved(carryHarmonics(given, circuit(0.05, 1e-3, 20))).lines;
    expect(deviation(stepped!.connectionVoltage, 20 * plain!.connectionVoltage)).toBeLessThan(1e-9);
    expect(deviation(stepped!.connectionCurrent, plain!.connectionCurrent / 20)).toBeLessThan(1e-9);
    expect(deviation(stepped!.converterCurrent, plain!.converterCurrent)).toBeLessThan(1e-9);
  });

  test('are refused where nothing limits them, or where there is no frequency', () => {
    const bare: HarmonicCircuit = { elementsAt: () => [], networkAt: () => ({ resistance: 0, reactance: 0 }) };
    expect(carryHarmonics([{ frequency: 250, voltage: 5 }], bare)).toEqual({
      ok: false,
      problem: 'unlimited_current',
      frequency: 250,
    });
    expect(carryHarmonics([{ frequency: 0, voltage: 5 }], circuit(0.05)).ok).toBe(false);
    const problem = { ok: false, problem: 'impossible_input' };
    for (const voltage of [Number.NaN, -5]) {
      expect(carryHarmonics([{ frequency: 250, voltage }], circuit(0.05))).toEqual(problem);
    }
    expect(solved(carryHarmonics([{ frequency: 250, voltage: 0 }], circuit(0.05))).lines[0]!.converterCurrent).toBe(0);
    const endless: HarmonicCircuit = { ...bare, networkAt: () => ({ resistance: Number.NaN, reactance: 1 }) };
    expect(carryHarmonics([{ frequency: 250, voltage: 5 }], endless).ok).toBe(false);
  });
});

describe('resonance', () => {
  const resonance = resonanceFrequency(l1, l2 + networkL, capacitance)!;
  /** What the filter makes of a harmonic's current at the connection point: over that without the capacitor. */
  const amplification = (plant: HarmonicCircuit, frequency: number): number => {
    const current = (circuit: HarmonicCircuit) =>
      solved(carryHarmonics([{ frequency, voltage: 1 }], circuit)).lines[0]!.connectionCurrent;
    const elementsAt = (at: number) => plant.elementsAt(at).filter(element => element.kind !== 'shunt');
    return current(plant) / current({ ...plant, elementsAt });
  };

  test('amplifies most at its frequency, not at all far below, and filters above', () => {
    const at = (frequency: number): number => amplification(circuit(0, 1e-4), frequency);
    expect(at(resonance)).toBeGreaterThan(50);
    expect(at(resonance)).toBeGreaterThan(at(resonance * 1.01));
    expect(at(resonance)).toBeGreaterThan(at(resonance * 0.99));
    expect(at(50)).toBeGreaterThan(1);
    expect(at(50)).toBeLessThan(1.01);
    expect(at(3 * resonance)).toBeLessThan(0.15);
  });

  test('without resistance amplifies by 1/|1 − (f/f_res)²|', () => {
    for (const share of [0.3, 0.7, 0.95, 1.3, 4]) {
      const found = amplification(circuit(0, 0), share * resonance);
      expect(deviation(found, 1 / Math.abs(1 - share * share))).toBeLessThan(1e-9);
    }
  });

  test('damping lowers the peak', () => {
    const peaks = [0, 0.02, 0.05, 0.1].map(damping => amplification(circuit(damping), resonance));
    peaks.slice(1).forEach((peak, index) => {
      expect(peak).toBeLessThan(peaks[index]!);
    });
  });
});

describe('background harmonics', () => {
  const lower = lowerResonance(l2 + networkL, capacitance)!;

  test('without converter current rise at the capacitor by 1/(1 − X/X_C), whatever the ratio', () => {
    for (const ratio of [1, 20]) {
      for (const order of [5, 7, 11]) {
        const angular = 2 * Math.PI * 50 * order;
        const found = backgroundAmplification(circuit(0, 0, ratio), 50 * order, 'no_current')!;
        const expected = 1 / (1 - angular * (l2 + networkL) * angular * capacitance);
        expect(deviation(found.terminal, expected)).toBeLessThan(1e-9);
      }
    }
  });

  test('are amplified most at the lower resonance', () => {
    const at = (frequency: number): number =>
      backgroundAmplification(circuit(0, 1e-4), frequency, 'no_current')!.terminal;
    expect(at(lower)).toBeGreaterThan(50);
    expect(at(lower)).toBeGreaterThan(at(lower * 1.01));
    expect(at(lower)).toBeGreaterThan(at(lower * 0.99));
  });

  test('meet a converter that forms a plain sine as its short circuit', () => {
    const chokes: HarmonicCircuit = {
      elementsAt: frequency => [chokeElement(frequency, l1)],
      networkAt: inductiveNetwork({ resistance: 0, reactance: 2 * Math.PI * 50 * networkL }, 50),
    };
    const found = backgroundAmplification(chokes, 250, 'no_voltage')!;
    expect(found.terminal).toBe(0);
    expect(deviation(found.connection, l1 / (l1 + networkL))).toBeLessThan(1e-12);
    const current = 1 / Math.sqrt(3) / (2 * Math.PI * 250 * (l1 + networkL));
    expect(deviation(found.currentPerVolt, current)).toBeLessThan(1e-12);
  });

  test('pass a plant that takes no current unchanged', () => {
    const chokes: HarmonicCircuit = {
      elementsAt: frequency => [chokeElement(frequency, l1)],
      networkAt: inductiveNetwork({ resistance: 0.01, reactance: 0.1 }, 50),
    };
    expect(backgroundAmplification(chokes, 250, 'no_current')).toEqual({
      connection: 1,
      terminal: 1,
      currentPerVolt: 0,
    });
  });

  test('have no answer at a resonance without resistance', () => {
    const plant: HarmonicCircuit = {
      elementsAt: () => [
        { kind: 'series', resistance: 0, reactance: 2 },
        { kind: 'shunt', conductance: 0, susceptance: 0.5 },
      ],
      networkAt: () => ({ resistance: 0, reactance: 0 }),
    };
    expect(backgroundAmplification(plant, 250, 'no_current')).toBeUndefined();
  });

  test('have no answer where the impedances are not numbers', () => {
    const broken: LadderElement = { kind: 'series', resistance: Number.NaN, reactance: 0 };
    const plant: HarmonicCircuit = { elementsAt: () => [broken], networkAt: () => ({ resistance: 0, reactance: 1 }) };
    expect(backgroundAmplification(plant, 250, 'no_voltage')).toBeUndefined();
  });
});
