// A tapping that the tap changer does not have, or that it leaves by itself.
import { describe, expect, it } from 'vitest';
import { tapChanger as check } from '../../../engine/checks/tap-changer.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, theFinding, told } from '../../kit/plants.ts';

const { code } = check;
const facts = (...lines: readonly string[]) =>
  ['no_load_loss = 800 W', ['no_load_loss = 800 W', ...lines].join('\n  ')] as const;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'tap_changer')).toEqual({
    message:
      'T1’s tapping of +2 % lies between two positions of its tap changer, which come in steps of 2.5 %: 0 % and +2.5 % are the nearest.',
    at: 'tap = +2 %',
    related: [['tap_changer = off_circuit', 'The tap changer.']],
    limit: undefined,
    fixes: [],
  });
});

describe('the tapping', () => {
  it('must be a position of an off-circuit changer, where its steps are stated', () => {
    expect(theFinding(bad(check), code).message).toContain('0 % and +2.5 % are the nearest');
    expect(lineAt(bad(check), theFinding(bad(check), code).place)).toBe('tap = +2 %');
    expect(findingsOf(sound(facts('tap = -2.5 %', 'tap_changer = off_circuit', 'tap_step = 2.5 %')), code)).toEqual([]);
    expect(findingsOf(sound(facts('tap = +2 %', 'tap_changer = off_circuit')), code)).toEqual([]);
  });

  it('must lie within its range', () => {
    const at = (tap: string) => sound(facts(`tap = ${tap}`, 'tap_changer = off_circuit', 'tap_range = 5 %'));
    expect(theFinding(at('+7.5 %'), code).message).toContain('± 5 %');
    expect(findingsOf(at('-5 %'), code)).toEqual([]);
  });

  it('contradicts the statement that there is no changer', () => {
    expect(theFinding(sound(facts('tap = +2.5 %', 'tap_changer = none')), code).severity).toBe('warning');
    expect(findingsOf(sound(facts('tap = 0 %', 'tap_changer = none')), code)).toEqual([]);
  });

  it('is not used where the changer moves under load', () => {
    const found = theFinding(sound(facts('tap = +2.5 %', 'tap_changer = on_load')), code);
    expect(found.severity).toBe('note');
    expect(found.message).toContain('+2.5 % is not used');
  });
});

describe('what it says', () => {
  const off = 'tap_changer = off_circuit';
  it.each([
    [
      ['tap = -1 %', off, 'tap_step = 2.5 %', 'tap_range = 5 %'],
      'T1’s tapping of -1 % lies between two positions of its tap changer, which come in steps of 2.5 %: -2.5 % and 0 % are the nearest.',
    ],
    [
      ['tap = +6 %', off, 'tap_step = 2.5 %'],
      'T1’s tapping of +6 % lies between two positions of its tap changer, which come in steps of 2.5 %: +5 % and +7.5 % are the nearest.',
    ],
    [['tap = +7.5 %', off, 'tap_range = 5 %'], 'T1’s tapping of +7.5 % lies beyond its tap changer’s ± 5 %.'],
    [
      ['tap = +2.5 %', 'tap_changer = none'],
      'T1 states a tapping of +2.5 % and no tap changer (`tap_changer = none`): one of the two is wrong. The tapping counts.',
    ],
    [
      ['tap = +2.5 %', 'tap_changer = on_load'],
      'T1’s tapping of +2.5 % is not used: its tap changer moves under load, and goes where the network voltage takes it.',
    ],
  ])('of %j', (lines, message) => {
    expect(told(sound(facts(...lines)), code)).toEqual({
      message,
      at: lines[0],
      related: [[lines[1], 'The tap changer.']],
      limit: undefined,
      fixes: [],
    });
    const { severity } = theFinding(sound(facts(...lines)), code);
    expect(severity).toBe(lines[1] === 'tap_changer = on_load' ? 'note' : 'warning');
  });

  it('of each case what is new in it', () => {
    const plant = sound(facts('tap = +2.5 %', 'tap_changer = none'), [
      'require T1.loading <= 95 %',
      'case usual { B1.state_of_health = 90 % }\ncase other { T1.tap = -5 % }',
    ]);
    const found = findingsOf(plant, code);
    expect(found.map(({ message }) => message.slice(0, 32))).toEqual([
      'T1 states a tapping of +2.5 % an',
      'T1 states a tapping of -5 % and ',
    ]);
    expect(lineAt(plant, found[1]!.place)).toBe('case other { T1.tap = -5 % }');
  });

  it('nothing of what is not stated, or not understood', () => {
    for (const lines of [
      ['tap = +2 %'],
      [off, 'tap_step = 2.5 %'],
      ['tap = +2 V', off],
      ['tap = +2 %', off, 'tap_step = 3 V'],
    ])
      expect(findingsOf(sound(facts(...lines)), code)).toEqual([]);
  });
});
