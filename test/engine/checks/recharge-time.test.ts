// Full again before the duty comes back.
import { describe, expect, it } from 'vitest';
import { rechargeTimeCheck as check } from '../../../engine/checks/recharge-time.ts';
import { showsItself, sound } from '../../kit/checks.ts';
import { findingsOf } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

describe('the judgement', () => {
  it('asks only of duties that come again', () => {
    expect(findingsOf(sound(), code)).toEqual([]);
    expect(findingsOf(sound(['for 45 min', 'for 45 min every 8 h']), code)).toEqual([]);
  });
});
