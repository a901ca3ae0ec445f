// The current on the low side of a chopper against its rating.
import { describe, expect, it } from 'vitest';
import { chopperCurrent } from '../../../engine/checks/chopper-current.ts';
import { showsItself } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { findingsOf, theFinding, worst } from '../../kit/plants.ts';

showsItself(chopperCurrent, { severity: 'error' });

describe('the rating of a chopper', () => {
  it('is judged at the lowest voltage of the battery', () => {
    const needed = worst(withChopper(), 'Q1.current').value;
    const rated = (amperes: number) => withChopper(['current = 1500 A', `current = ${amperes} A`]);
    expect(findingsOf(rated(needed + 1), 'chopper_current')).toEqual([]);
    const { point } = theFinding(rated(needed - 1), 'chopper_current');
    expect(point?.soc).toBe(0.1);
    expect(point?.duty).toBe('start_peak');
  });
});
