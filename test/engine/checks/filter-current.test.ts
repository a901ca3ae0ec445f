// Current against the rating of the chokes.
import { describe, expect, it } from 'vitest';
import { filterCurrent as check } from '../../../engine/checks/filter-current.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'filter_current')).toEqual({
    message:
      'F1’s chokes carry 753.8 A where 700 A is their rating during start_peak, at the lowest network voltage, absorbing reactive power.',
    at: 'rated_current = 700 A',
    related: [],
    limit: '700 A',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('counts the worst corner', () => {
    const highest = worst(sound(), 'F1.current').value;
    const rating = (amperes: number) =>
      ['converter_inductance = 100 µH', `converter_inductance = 100 µH\n  rated_current = ${amperes} A`] as const;
    expectLimit(code, [rating(highest + 0.1)], [rating(highest - 0.1)], 'error');
  });

  it('is shown with the rating and the corner, on the rating', () => {
    const plant = bad(check);
    const { message, place, limit, point } = theFinding(plant, code);
    const { display } = worst(plant, 'F1.current');
    expect(message).toMatch(
      new RegExp(`^F1’s chokes carry ${display} where 700 A is their rating during start_peak, .*\\.$`),
    );
    expect(point).toMatchObject({ duty: 'start_peak', voltage: 'low' });
    expect(lineAt(plant, place)).toBe('rated_current = 700 A');
    expect(limit).toMatchObject({ number: 700, display: '700 A' });
  });
});
