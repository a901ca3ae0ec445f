// Numbers without a source, where the house rules want one.
import { describe, expect, it } from 'vitest';
import { unsourced as check } from '../../../engine/checks/unsourced.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, theFinding } from '../../kit/plants.ts';

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

describe('what wants no source', () => {
  const open = (subject: string, ...edits: readonly Edit[]) =>
    findingsOf(bad(check, ...edits), code, subject).map(({ message }) => message);

  it('is a word, a price or a measure of the thing, and what came with a part', () => {
    const facts: Edit = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  neutral = floating\n  mass = 2 t'];
    expect(open('T1', facts)).toEqual([
      'The house rules want a source for each number; T1 states without one: `rated_power`, `primary_voltage`, `secondary_voltage`, `impedance`, `load_loss`, `no_load_loss`.',
    ]);
    const part: Edit = ['filter F1 {', 'filter F1 is Choke\npart filter Choke {'];
    expect(open('F1', part)).toEqual([]);
  });

  it('is a picked number: nobody has stated it', () => {
    expect(open('T1', ['rated_power = 500 kVA', 'rated_power = pick']).join()).not.toContain('rated_power');
  });
});
