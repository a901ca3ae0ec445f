// The voltages on both sides of a chopper against its spans, and against each other.
import { describe, expect, it } from 'vitest';
import { chopperWindow } from '../../../engine/checks/chopper-window.ts';
import { bad, showsItself } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { complaints, type Edit, findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

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

describe('what it says', () => {
  const code = 'chopper_window';
  const high: Edit = ['250 V .. 420 V', '250 V .. 900 V'];
  const cells = (count: number): Edit => ['cells_in_series = 112', `cells_in_series = ${count}`];
  const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
  const battery = (count: number) => [
    [`cells_in_series = ${count}`, 'Cells in series make the voltage.'],
    ['soc = 10 % .. 90 %', 'The ends of this span count.'],
  ];

  it('of the diode between both sides: both voltages, and which way it leads', () => {
    const plant = withChopper(cells(232), high);
    expect(told(plant, code)).toEqual({
      message: `${worst(plant, 'Q1.store_voltage_max').display} on Q1’s low side stands above the 742.5 V on its high side: the diode between them conducts, and the battery feeds the DC link without control.`,
      at: 'link_voltage = 750 V ± 1 %',
      related: battery(232),
      limit: '98 %',
      fixes: [],
    });
    const turned = withChopper(
      ['low_side_voltage = 250 V .. 420 V', 'low_side_voltage = 450 V .. 760 V'],
      ['high_side_voltage = 600 V .. 850 V', 'high_side_voltage = 200 V .. 1100 V'],
      ['current = 1500 A', 'current = 1500 A\n  battery_side = high'],
    );
    expect(theFinding(turned, code).message).toMatch(
      /^757\.5 V on Q1’s low side stands above the 3\d\d\.\d V on its high side: .*, and the DC link feeds the battery /,
    );
  });

  it('of a duty ratio near to one, and near to none', () => {
    const near = withChopper(cells(219), high);
    expect(told(near, code)).toMatchObject({
      message: `Q1 would have to run at a duty ratio of ${worst(near, 'Q1.duty_ratio_max').display} between ${worst(near, 'Q1.store_voltage_max').display} on its low side and 742.5 V on its high side; up to 98 % is what switches can customarily do.`,
      related: battery(219),
      limit: '98 %',
    });
    const far = withChopper(cells(4), ['250 V .. 420 V', '5 V .. 900 V']);
    expect(told(far, code)).toMatchObject({
      message: `Q1 would have to run at a duty ratio of ${worst(far, 'Q1.duty_ratio_min').display} between 12.8 V on its low side and 757.5 V on its high side; from 2 % is what switches can customarily do.`,
      limit: '2 %',
    });
  });

  it('of a span that is left at its bottom, on either side', () => {
    expect(told(withChopper(['250 V .. 420 V', '365 V .. 420 V']), code)).toMatchObject({
      message: expect.stringMatching(
        /^The battery takes Q1’s low side down to 33\d\.\d V, outside of its span that ends at 365 V\.$/,
      ),
      at: 'low_side_voltage = 365 V .. 420 V',
      related: battery(112),
      limit: '365 V',
    });
    expect(told(withChopper(['600 V .. 850 V', '745 V .. 850 V']), code)).toEqual({
      message: 'The DC link takes Q1’s high side down to 742.5 V, outside of its span that ends at 745 V.',
      at: 'high_side_voltage = 745 V .. 850 V',
      related: [],
      limit: '745 V',
      fixes: [],
    });
  });

  it('of a span that a case states anew: it judges that case', () => {
    const link = withChopper(cases('case other { Q1.high_side_voltage = 600 V .. 755 V }'));
    expect(told(link, code)).toMatchObject({
      message: 'The DC link takes Q1’s high side up to 757.5 V, outside of its span that ends at 755 V in case other.',
      at: 'Q1.high_side_voltage = 600 V .. 755 V',
    });
    const store = withChopper(cases('case other { Q1.low_side_voltage = 340 V .. 420 V }'));
    expect(theFinding(store, code).message).toMatch(/ down to 33\d\.\d V, .* ends at 340 V in case other\.$/);
  });

  it('nothing of a battery that is not known', () => {
    expect(findingsOf(withChopper(['cells_in_series = 112', 'cells_in_series = 112 V']), code)).toEqual([]);
  });
});
