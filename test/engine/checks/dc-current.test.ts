// Direct current against the converter’s DC rating.
import { describe, it } from 'vitest';
import { dcCurrentCheck as check } from '../../../engine/checks/dc-current.ts';
import { expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

describe('the judgement', () => {
  it('counts the magnitude at the worst corner', () => {
    const highest = worst(sound(), 'K1.dc_current').value;
    const rating = (amperes: number) =>
      ['dc_voltage = 550 V .. 850 V', `dc_voltage = 550 V .. 850 V\n  dc_current = ${amperes} A`] as const;
    expectLimit(code, [rating(highest + 0.1)], [rating(highest - 0.1)], 'error');
  });
});
