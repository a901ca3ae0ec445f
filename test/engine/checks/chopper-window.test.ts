// The voltages on both sides of a chopper against its spans, and against each other.
import { describe, expect, it } from 'vitest';
import { chopperWindow } from '../../../engine/checks/chopper-window.ts';
import { bad, showsItself } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { complaints, findingsOf, theFinding, told } from '../../kit/plants.ts';

showsItself(chopperWindow, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(chopperWindow), 'chopper_window')).toEqual({
    message: 'The battery takes Q1’s low side up to 386.8 V, outside of its span that ends at 350 V.',
    at: 'low_side_voltage = 300 V .. 350 V',
    related: [
      ['cells_in_series = 112', 'Cells in series make the voltage.'],
      ['soc = 10 % .. 90 %', 'The ends of this span count.'],
    ],
    limit: '350 V',
    fixes: [],
  });
});

describe('a battery behind a chopper', () => {
  it('gives a sound plant where it stays inside', () => {
    expect(complaints(withChopper()).map(({ message }) => message)).toEqual([]);
  });

  it('is told where it takes its side above the span', () => {
    const found = theFinding(withChopper(['250 V .. 420 V', '250 V .. 370 V']), 'chopper_window');
    expect(found.severity).toBe('error');
    // 112 cells of 3.34 V rest at 374.1 V at 90 %; 250 kW less 6 % of loss are 620 A there, times 0.165 Ω / 8.
    expect(found.message).toContain('The battery takes Q1’s low side up to 386.8 V');
  });

  it('is told where it takes its side below the span', () => {
    expect(theFinding(withChopper(['250 V .. 420 V', '365 V .. 420 V']), 'chopper_window').message).toContain(
      'low side down to 3',
    );
  });

  it('must stay below the link, or the diode between them conducts', () => {
    const plant = withChopper(['cells_in_series = 112', 'cells_in_series = 232'], ['250 V .. 420 V', '250 V .. 900 V']);
    const found = findingsOf(plant, 'chopper_window');
    expect(found).toHaveLength(1);
    expect(found[0]!.message).toContain('the diode between them conducts, and the battery feeds the DC link');
  });

  it('may not come too near to the link either', () => {
    const plant = withChopper(['cells_in_series = 112', 'cells_in_series = 219'], ['250 V .. 420 V', '250 V .. 900 V']);
    expect(theFinding(plant, 'chopper_window').message).toContain('duty ratio');
  });

  it('above the link is fine where the chopper is turned round', () => {
    const plant = withChopper(
      ['cells_in_series = 112', 'cells_in_series = 280'],
      ['250 V .. 420 V', '650 V .. 760 V'],
      ['600 V .. 850 V', '780 V .. 1100 V'],
      ['current = 1500 A', 'current = 1500 A\n  battery_side = high'],
      ['link_voltage = 750 V ± 1 %', 'link_voltage = 710 V ± 1 %'],
    );
    expect(complaints(plant).map(({ message }) => message)).toEqual([]);
  });

  it('holds its link inside the span of its high side', () => {
    expect(theFinding(withChopper(['600 V .. 850 V', '600 V .. 755 V']), 'chopper_window').message).toContain(
      'The DC link takes Q1’s high side up to 757.5 V',
    );
  });
});
