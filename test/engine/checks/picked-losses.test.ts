// Watts beside a picked rating: a warning, with the share as a fix.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { pickedLosses as check } from '../../../engine/checks/picked-losses.ts';
import { bad, expectFixesToHold, showsItself, sound, throughParts } from '../../kit/checks.ts';
import { analysed, complaintCodes, edited, findingsOf, lineAt, theFinding, told } from '../../kit/plants.ts';

const { code } = check;
const pick = ['rated_power = 500 kVA', 'rated_power = pick'] as const;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'picked_losses')).toEqual({
    message:
      'T1’s rating is picked, at present 500 kVA, but its losses stay in watts whatever is picked: `load_loss` at 5.8 kW, 1.16 %, and `no_load_loss` at 800 W, 0.16 % at present. State shares of the rating, or leave it to the regulation’s table.',
    at: 'load_loss = 5.8 kW',
    related: [['rated_power = pick', 'The rating that is picked.']],
    limit: undefined,
    fixes: ['State 1.16 % and 0.16 %'],
  });
});

describe('watts beside a picked rating', () => {
  it('are told together, with the shares that they are at present', () => {
    const plant = bad(check);
    const { message, place } = theFinding(plant, code);
    expect(lineAt(plant, place)).toBe('load_loss = 5.8 kW');
    expect(message).toContain('`load_loss` at 5.8 kW, 1.16 %, and `no_load_loss` at 800 W, 0.16 % at present');
    expect(expectFixesToHold(plant, code)).toBe(1);
  });

  it('are fine as shares, left out, or beside a stated rating', () => {
    const shares = [
      ['load_loss = 5.8 kW', 'load_loss = 1.2 %'],
      ['no_load_loss = 800 W', 'no_load_loss = 0.2 %'],
    ] as const;
    const out = [
      ['  load_loss = 5.8 kW\n', ''],
      ['  no_load_loss = 800 W\n', ''],
    ] as const;
    expect(complaintCodes(sound(pick, ...shares))).toEqual([]);
    expect(complaintCodes(sound(pick, ...out))).toEqual([]);
    expect(findingsOf(sound(), code)).toEqual([]);
  });
});

describe('what it says of one of them', () => {
  it('names it alone, sits on it, and offers its share', () => {
    const plant = sound(pick, ['load_loss = 5.8 kW', 'load_loss = 1.2 %']);
    expect(told(plant, code)).toEqual({
      message:
        'T1’s rating is picked, at present 500 kVA, but its losses stay in watts whatever is picked: `no_load_loss` at 800 W, 0.16 % at present. State shares of the rating, or leave it to the regulation’s table.',
      at: 'no_load_loss = 800 W',
      related: [[pick[1], 'The rating that is picked.']],
      limit: undefined,
      fixes: ['State 0.16 %'],
    });
    expect(theFinding(plant, code).fixes[0]).toMatchObject({ safe: false });
  });

  it('is not offered where it came from a part', () => {
    const plant = analysed(throughParts(edited(soundExample, ...check.bad)));
    expect(theFinding(plant, code).fixes).toEqual([]);
  });
});
