// The filter's elements and resonances, against each other.

import { describe, expect, test } from 'vitest';
import {
  capacitorElement,
  capacitorReactivePower,
  capacitorShare,
  chokeElement,
  lowerResonance,
  resonanceBand,
  resonanceFrequency,
  rippleCurrent,
  starCapacitance,
} from '../../../engine/physics/filter.ts';
import { chainOf, noLoadVoltage, solveLadder } from '../../../engine/physics/ladder.ts';
import { deviation, solved } from '../../kit/solved.ts';

describe('capacitor', () => {
  test('in delta counts three times', () => {
    expect(starCapacitance(100e-6, 'delta')).toBeCloseTo(300e-6, 15);
    expect(starCapacitance(100e-6, 'star')).toBe(100e-6);
  });

  test('without damping delivers ω·C·U² in the ladder', () => {
    const bank = capacitorElement(50, 300e-6)!;
    const idle = solved(solveLadder([bank], 360, 0, 0));
    expect(deviation(-idle.terminalReactivePower, capacitorReactivePower(360, 50, 300e-6))).toBeLessThan(1e-12);
    expect(idle.totalLoss).toBe(0);
  });

  test('with damping has the impedance R − j/(ω·C)', () => {
    const bank = capacitorElement(50, 300e-6, 0.06)!;
    const square = bank.conductance ** 2 + bank.susceptance ** 2;
    expect(bank.conductance / square).toBeCloseTo(0.06, 12);
    expect(deviation(bank.susceptance / square, 1 / (2 * Math.PI * 50 * 300e-6))).toBeLessThan(1e-12);
  });

  test('none is an open branch, a negative one is unknown', () => {
    expect(capacitorElement(50, 0)).toEqual({ kind: 'shunt', conductance: 0, susceptance: 0 });
    expect(capacitorElement(50, -1e-6)).toBeUndefined();
    expect(capacitorElement(0, 1e-6)).toBeUndefined();
    expect(capacitorElement(50, 1e-6, -0.06)).toBeUndefined();
  });

  test('share is of the rating', () => {
    expect(capacitorShare(25e3, 500e3)).toBeCloseTo(0.05, 15);
    expect(capacitorShare(25e3, 0)).toBeUndefined();
  });

  test('rise is the ladder blocked behind a pure reactance', () => {
    const bank = capacitorElement(50, 300e-6)!;
    const blocked = solved(noLoadVoltage([bank], 400, { resistance: 0, reactance: 0.05 }));
    expect(deviation(blocked.voltage, 400 / (1 - 0.05 * bank.susceptance))).toBeLessThan(1e-12);
  });
});

describe('resonance', () => {
  test('is where the ladder lets unlimited current into a shorted network', () => {
    const [l1, l2, c] = [100e-6, 50e-6, 300e-6];
    const at = (frequency: number) => {
      const bank = capacitorElement(frequency, c)!;
      const { b } = chainOf([chokeElement(frequency, l2), bank, chokeElement(frequency, l1)]);
      return Math.hypot(b.re, b.im);
    };
    const resonance = resonanceFrequency(l1, l2, c)!;
    expect(at(resonance)).toBeLessThan(1e-12);
    expect(at(resonance * 1.01)).toBeGreaterThan(1e-3);
  });

  test('lower one is where the capacitor rises without limit behind the network side', () => {
    const resonance = lowerResonance(50e-6, 300e-6)!;
    const reactance = 2 * Math.PI * resonance * 50e-6;
    const capacitive = 1 / (2 * Math.PI * resonance * 300e-6);
    expect(reactance / capacitive).toBeCloseTo(1, 12);
  });

  test('needs two inductances and a capacitor', () => {
    expect(resonanceFrequency(100e-6, 0, 300e-6)).toBeUndefined();
    expect(resonanceFrequency(0, 50e-6, 300e-6)).toBeUndefined();
    expect(lowerResonance(50e-6, 0)).toBeUndefined();
  });

  test('band is ten times the network frequency to half the switching frequency', () => {
    expect(resonanceBand(50, 4000)).toEqual({ low: 500, high: 2000 });
  });
});

test('ripple is in proportion to the voltage, and in inverse proportion to inductance and frequency', () => {
  const ripple = rippleCurrent(800, 4000, 1e-4)!;
  expect(rippleCurrent(400, 4000, 1e-4)!).toBeCloseTo(ripple / 2, 12);
  expect(rippleCurrent(800, 8000, 1e-4)!).toBeCloseTo(ripple / 2, 12);
  expect(rippleCurrent(800, 4000, 2e-4)!).toBeCloseTo(ripple / 2, 12);
});

test('what no filter has gives no answer', () => {
  const nothing = (...values: readonly unknown[]) => expect(values).toEqual(values.map(() => undefined));
  nothing(resonanceFrequency(0, 1e-4, 1e-4), resonanceFrequency(1e-4, 0, 1e-4), resonanceFrequency(1e-4, 1e-4, 0));
  nothing(
    resonanceFrequency(1e-4, 1e-4, -1e-4),
    lowerResonance(0, 1e-4),
    lowerResonance(-1e-4, 1e-4),
    lowerResonance(1e-4, 0),
  );
  nothing(rippleCurrent(700, 0, 1e-4), rippleCurrent(700, 4000, 0), rippleCurrent(700, 4000, -1e-4));
});
