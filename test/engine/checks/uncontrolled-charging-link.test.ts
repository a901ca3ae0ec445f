// Blocked diodes before a chopper face the DC link: what they lift, and what they can't reach.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { withChopper } from '../../kit/choppers.ts';
import { analysed, complaints, type Edit, edited, findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

/** 360 V · 1.1 · √2 and the tolerances put the crest at about 575 V. */
const holding = (volts: string) =>
  withChopper(
    ['link_voltage = 750 V ± 1 %', `link_voltage = ${volts}`],
    ['high_side_voltage = 600 V .. 850 V', 'high_side_voltage = 450 V .. 850 V'],
    ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 450 V .. 850 V'],
  );

describe('blocked diodes before a chopper', () => {
  it('are judged by the link that it holds, not by the battery', () => {
    const plant = withChopper();
    expect(worst(plant, 'B1.rest_voltage_max').value).toBeLessThan(worst(plant, 'K1.blocked_peak').value);
    expect(worst(plant, 'K1.diode_margin').value).toBeCloseTo(742.5 / worst(plant, 'K1.blocked_peak').value - 1, 9);
    expect(findingsOf(plant, 'uncontrolled_charging')).toEqual([]);
    expect(findingsOf(plant, 'connected_below_floor')).toEqual([]);
  });

  it('leave the battery alone: no current that lasts', () => {
    for (const name of ['K1.diode_current', 'K1.diode_current_peak', 'K1.diode_stop_soc'])
      expect(worst(holding('500 V'), name).value).toBe(0);
  });

  it('lift a link that is held too low: a warning that says why the battery is safe', () => {
    const found = theFinding(holding('500 V'), 'uncontrolled_charging');
    expect(found).toMatchObject({ severity: 'warning', hazard: false, subject: 'K1' });
    expect(found.message).toContain('lift the DC link from the 500 V that Q1 holds');
    expect(found.message).toContain('only a switch leads to the battery');
  });

  it('may stand close below it: a warning as well', () => {
    const { value: crest } = worst(holding('500 V'), 'K1.blocked_peak');
    const found = theFinding(holding(`${(1.02 * crest).toFixed(1)} V`), 'uncontrolled_charging');
    expect(found).toMatchObject({ severity: 'warning', hazard: false });
    expect(found.message).toContain('less than the customary 3 %');
  });

  it('are a hazard where the crest is above what the link is built for', () => {
    const plant = withChopper(
      ['secondary_voltage = 360 V', 'secondary_voltage = 570 V'],
      ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 860 V'],
    );
    const found = theFinding(plant, 'uncontrolled_charging');
    expect(found).toMatchObject({ severity: 'error', hazard: true });
    expect(found.message).toContain('above the 850 V up to which Q1 is built');
  });

  it('reach a battery on the high side through the diode of the chopper', () => {
    const turned = (cells: number) =>
      withChopper(
        ['cells_in_series = 112', `cells_in_series = ${cells}`],
        ['low_side_voltage = 250 V .. 420 V', 'low_side_voltage = 450 V .. 760 V'],
        ['high_side_voltage = 600 V .. 850 V', 'high_side_voltage = 500 V .. 1100 V'],
        ['current = 1500 A', 'current = 1500 A\n  battery_side = high'],
        ['link_voltage = 750 V ± 1 %', 'link_voltage = 500 V ± 1 %'],
        ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 450 V .. 850 V'],
      );
    // Empty cells rest at 2.6 V: 210 of them at 546 V, below the crest; 240 at 624 V, above it.
    const charged = theFinding(turned(210), 'uncontrolled_charging');
    expect(charged).toMatchObject({ severity: 'error', hazard: true });
    expect(charged.message).toContain('diodes charge B1');
    expect(worst(turned(210), 'K1.diode_current').value).toBeGreaterThan(0);
    expect(findingsOf(turned(240), 'uncontrolled_charging')).toEqual([]);
  });
});

it('a case in which the link is built for less is judged by it', () => {
  const low = [
    ['link_voltage = 750 V ± 1 %', 'link_voltage = 500 V ± 1 %'],
    ['high_side_voltage = 600 V .. 850 V', 'high_side_voltage = 450 V .. 850 V'],
    ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 450 V .. 850 V'],
  ] as const;
  expect(theFinding(withChopper(...low), 'uncontrolled_charging').severity).toBe('warning');
  const plant = withChopper(...low, [
    'require T1.loading <= 95 %',
    'case other { K1.dc_voltage = 450 V .. 550 V }\ncase higher { MAIN.voltage = 400 V ± 11 % }',
  ]);
  const found = theFinding(plant, 'uncontrolled_charging');
  expect(found).toMatchObject({ severity: 'error', point: { case: 'other' } });
  expect(found.message).toContain('above the 550 V up to which K1 is built in case other');
});

describe('the converter before a chopper', () => {
  it('is judged by the link it is given', () => {
    const low = complaints(holding('500 V')).map(({ code }) => code);
    expect(low).toContain('voltage_reserve');
    expect(low).toContain('control_margin');
    const { message } = theFinding(holding('500 V'), 'voltage_reserve');
    expect(message).toContain('the link at the lowest voltage that Q1 holds');
  });

  it('trips on a link that is held above its span', () => {
    const found = theFinding(withChopper(['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 740 V']), 'dc_window');
    expect(found.message).toContain('Q1 takes K1’s DC side to 757.5 V');
  });

  it('has its direct current judged at the voltage of the link', () => {
    const plant = withChopper(['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 850 V\n  dc_current = 600 A']);
    expect(findingsOf(plant, 'dc_current')).toEqual([]);
    expect(worst(plant, 'B1.current').value).toBeGreaterThan(1100);
  });
});

describe('where no winding voltage fits', () => {
  const narrow: readonly Edit[] = [
    ['  secondary_voltage = 360 V\n', '  secondary_voltage = 380 V\n'],
    ['ac_current = 850 A', 'ac_current = 700 A'],
  ];

  it('a chopper is named as the way out, and is one', () => {
    const plant = analysed(edited(soundExample, ...narrow));
    const least = worst(plant, 'T1.winding_min').value;
    expect(least).toBeGreaterThan(worst(plant, 'T1.winding_max').value);
    expect(theFinding(plant, 'uncontrolled_charging').message).toContain('A chopper between K1 and its battery');
    const chosen = `  secondary_voltage = ${Math.ceil(least / 10) * 10} V\n`;
    const opened = withChopper(['  secondary_voltage = 360 V\n', chosen], narrow[1]!);
    expect(complaints(opened).map(({ message }) => message)).toEqual([]);
  });

  it('and only there', () => {
    const plant = analysed(edited(soundExample, narrow[0]!));
    expect(theFinding(plant, 'uncontrolled_charging').message).not.toContain('chopper');
  });
});

describe('what is said of the link', () => {
  const code = 'uncontrolled_charging';
  const shield = 'B1 is not charged by this: of Q1’s two ways between them, only a switch leads to the battery.';
  const beside = (volts: string) => [[`link_voltage = ${volts}`, 'This is what the chopper holds.']];

  it('that it is lifted: from where, and to where', () => {
    const plant = holding('500 V');
    const { display } = worst(plant, 'K1.blocked_peak');
    expect(told(plant, code)).toEqual({
      message: `With the gates blocked, K1’s diodes lift the DC link from the 500 V that Q1 holds to the crest of ${display} at its terminals. ${shield}`,
      at: 'secondary_voltage = 360 V',
      related: beside('500 V'),
      limit: '0 %',
      fixes: [],
    });
  });

  it('that it stands close: margin, rule and both voltages', () => {
    const plant = holding('575 V');
    const { display } = worst(plant, 'K1.blocked_peak');
    expect(told(plant, code)).toEqual({
      message: `K1’s blocked diodes are held back with only ${worst(plant, 'K1.diode_margin').display} to spare, less than the customary 3 %: crest ${display}, DC link 575 V as Q1 holds it at the lowest. ${shield}`,
      at: 'secondary_voltage = 360 V',
      related: beside('575 V'),
      limit: '3 %',
      fixes: [],
    });
    expect(theFinding(plant, code).value?.name).toBe('K1.diode_margin');
  });

  it('that it is lifted beyond what chopper or converter is built for: the lower of both', () => {
    const above = (span: string) =>
      withChopper(['secondary_voltage = 360 V', 'secondary_voltage = 570 V'], ['550 V .. 850 V', span]);
    const plant = above('550 V .. 860 V');
    const { display } = worst(plant, 'K1.blocked_peak');
    expect(told(plant, code)).toEqual({
      message: `With the gates blocked, K1’s diodes lift the DC link to the crest of ${display} at its terminals, above the 850 V up to which Q1 is built: capacitors and semiconductors fail. ${shield}`,
      at: 'secondary_voltage = 570 V',
      related: beside('750 V ± 1 %'),
      limit: '850 V',
      fixes: [],
    });
    expect(theFinding(plant, code).value).toMatchObject({ name: 'K1.blocked_peak', display });
    expect(theFinding(above('550 V .. 840 V'), code).message).toContain('above the 840 V up to which K1 is built');
    expect(theFinding(above('550 V .. 850 V'), code).message).toContain('above the 850 V up to which K1 is built');
  });
});
