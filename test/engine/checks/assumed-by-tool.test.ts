// What the tool took for granted: one note a component, each with its reason.
import { describe, expect, it } from 'vitest';
import { assumedByTool as check } from '../../../engine/checks/assumed-by-tool.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, theFinding } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'note', many: true, numbers: 0 });

describe('the note', () => {
  it('stands once a component, on its tag', () => {
    const subjects = findingsOf(bad(check), code).map(({ subject }) => subject);
    expect(subjects).toContain('MountainStation');
    expect(new Set(subjects).size).toBe(subjects.length);
    expect(lineAt(bad(check), theFinding(bad(check), code, 'K1').place)).toBe('converter K1 {');
  });

  it('says what is assumed, and why', () => {
    const { message } = theFinding(bad(check), code, 'MountainStation');
    expect(message).toContain('`altitude = 1000 m` (common practice, no source');
  });

  it('is gone with the last default that the author states', () => {
    const stated = ['fault_power = 9 MVA .. 14 MVA', 'fault_power = 9 MVA .. 14 MVA\n  unbalance = 0 %'] as const;
    expect(findingsOf(sound(), code, 'MAIN')).toHaveLength(1);
    expect(findingsOf(sound(stated), code, 'MAIN')).toEqual([]);
  });

  it('is gone with what the author assumes: somebody looked', () => {
    const assumed = [
      'fault_power = 9 MVA .. 14 MVA',
      'fault_power = 9 MVA .. 14 MVA\n  unbalance = 0 % assumed "three-phase feeder"',
    ] as const;
    expect(findingsOf(sound(assumed), code, 'MAIN')).toEqual([]);
  });

  it('tells the tolerances that a standard fills in, except the network’s, which is asked for', () => {
    const plant = sound(
      ['impedance = 6 % ± 10 %', 'impedance = 6 %'],
      ['frequency = 50 Hz ± 1 %', 'frequency = 50 Hz'],
    );
    expect(theFinding(plant, code, 'T1').message).toContain('`impedance` ± 10 % (IEC 60076-1');
  });
});
