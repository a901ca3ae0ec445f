// Numbers without a source, where the house rules want one.
import { describe, expect, it } from 'vitest';
import { unsourced as check } from '../../../engine/checks/unsourced.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, theFinding } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning', many: true, numbers: 0 });

describe('the house rule', () => {
  it('is off unless it is stated', () => {
    expect(findingsOf(sound(), code)).toEqual([]);
    expect(
      findingsOf(sound(['transformer_spare = 5 %', 'transformer_spare = 5 %\n  require_source = no']), code),
    ).toEqual([]);
  });

  it('lists the numbers of a component once, and takes a source or an assumption as one', () => {
    const plant = bad(
      check,
      ['ac_current = 850 A', 'ac_current = 850 A from "data sheet"'],
      ['switching_frequency = 4 kHz', 'switching_frequency = 4 kHz assumed "usual"'],
    );
    expect(theFinding(plant, code, 'K1').message).toContain(': `dc_voltage`.');
  });

  it('leaves duties and the rules themselves alone: they are wishes', () => {
    const subjects = findingsOf(bad(check), code).map(({ subject }) => subject);
    expect(subjects).toEqual(['MountainStation', 'MAIN', 'T1', 'F1', 'K1', 'B1']);
  });
});
