// Current against the rating of the chokes.
import { describe, it } from 'vitest';
import { filterCurrent as check } from '../../../engine/checks/filter-current.ts';
import { expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

describe('the judgement', () => {
  it('counts the worst corner', () => {
    const highest = worst(sound(), 'F1.current').value;
    const rating = (amperes: number) =>
      ['converter_inductance = 100 µH', `converter_inductance = 100 µH\n  rated_current = ${amperes} A`] as const;
    expectLimit(code, [rating(highest + 0.1)], [rating(highest - 0.1)], 'error');
  });
});
