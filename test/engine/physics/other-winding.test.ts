// Another winding in the transformer: what arrives by the short way is what the ladder with that winding carries.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type LadderElement, solveLadder } from '../../../engine/physics/ladder.ts';
import { terminalsByWinding } from '../../../engine/physics/other-winding.ts';
import { evenly } from '../../kit/evenly.ts';
import { solved } from '../../kit/solved.ts';

const cable: LadderElement = { kind: 'series', resistance: 0.002, reactance: 0.001 };
const iron: LadderElement = { kind: 'shunt', conductance: 0.006, susceptance: -0.02 };
const capacitor: LadderElement = { kind: 'shunt', conductance: 0.0005, susceptance: 0.094 };
const choke: LadderElement = { kind: 'series', resistance: 0.001, reactance: 0.0314 };

/** A transformer 400/360 V whose second winding has `factor` times its turns: its ohms grow with their square. */
const wound = (factor: number): readonly LadderElement[] => [
  iron,
  { kind: 'ratio', ratio: 400 / (360 * factor) },
  { kind: 'series', resistance: 0.003 * factor ** 2, reactance: 0.015 * factor ** 2 },
];

const plant = (factor: number): readonly LadderElement[] => [cable, ...wound(factor), capacitor, choke];
const behindWinding = 4;

describe('the stated winding', () => {
  test('is the ladder as it stands', () => {
    const arriving = terminalsByWinding(plant(1), behindWinding, 400, 300e3, -80e3)(1);
    const { terminalVoltage, terminalCurrent, terminalActivePower } = solved(solveLadder(plant(1), 400, 300e3, -80e3));
    expect(arriving.terminalVoltage).toBeCloseTo(terminalVoltage, 9);
    expect(arriving.terminalCurrent).toBeCloseTo(terminalCurrent, 9);
    expect(arriving.terminalActivePower).toBeCloseTo(terminalActivePower, 6);
  });
});

describe('another winding', () => {
  test('with nothing behind it and no load the voltage goes with its turns', () => {
    const bare = [{ kind: 'ratio', ratio: 2 }] as const;
    const arriving = terminalsByWinding(bare, 1, 400, 0, 0);
    expect(arriving(1).terminalVoltage).toBeCloseTo(200, 9);
    expect(arriving(1.5).terminalVoltage).toBeCloseTo(300, 9);
    expect(arriving(1.5).terminalCurrent).toBe(0);
    expect(arriving(1.5).terminalActivePower).toBe(0);
  });

  test('with nothing behind it the same power takes a current against its turns', () => {
    const bare = [{ kind: 'ratio', ratio: 1 }] as const;
    const arriving = terminalsByWinding(bare, 1, 400, -400e3, 0)(2);
    expect(arriving.terminalVoltage).toBeCloseTo(800, 9);
    expect(arriving.terminalCurrent).toBeCloseTo(400e3 / (Math.sqrt(3) * 800), 9);
    expect(arriving.terminalActivePower).toBeCloseTo(-400e3, 6);
  });

  test('whatever stands around it and is asked, the ladder with that winding carries the same', () => {
    const asked = { active: evenly(-800e3, 800e3), reactive: evenly(-400e3, 400e3), factor: evenly(0.05, 20) };
    fc.assert(
      fc.property(fc.record({ ...asked, voltage: evenly(360, 440) }), ({ active, reactive, factor, voltage }) => {
        const arriving = terminalsByWinding(plant(1), behindWinding, voltage, active, reactive)(factor);
        const whole = solved(solveLadder(plant(factor), voltage, active, reactive));
        const near = (a: number, b: number, scale: number): void =>
          expect(Math.abs(a - b)).toBeLessThan(1e-9 * Math.max(Math.abs(b), scale));
        near(arriving.terminalVoltage, whole.terminalVoltage, 1);
        near(arriving.terminalCurrent, whole.terminalCurrent, 1);
        // Of great powers to and fro a little may be left.
        near(arriving.terminalActivePower, whole.terminalActivePower, whole.terminalVoltage * whole.terminalCurrent);
      }),
    );
  });
});

describe('what no plant can have', () => {
  test.each([0, -400, Number.NaN])('a network of %d V leaves everything unknown', voltage => {
    const arriving = terminalsByWinding(plant(1), behindWinding, voltage, 1e3, 0)(1);
    expect(Object.values(arriving)).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  });

  test('where nothing flows rounding makes no root of a negative number', () => {
    // The capacitor gives just what is asked for: what is left for the converter is nothing but rounding.
    const shunt: LadderElement = { kind: 'shunt', conductance: 0, susceptance: 0.1 };
    const ladder = [{ kind: 'ratio', ratio: 1 } as const, shunt];
    for (let step = 0; step <= 1000; step++) {
      const reactive = (step + 1) * 16.7;
      const { terminalCurrent } = terminalsByWinding(ladder, 1, 400, 0, reactive)(Math.sqrt(reactive / 16e3));
      expect(terminalCurrent).toBeGreaterThanOrEqual(0);
      expect(terminalCurrent).toBeLessThan(1e-3);
    }
  });
});
