// Several choppers on one DC link: every finding names the one it belongs to.
import { describe, expect, it } from 'vitest';
import { within, withTwoChoppers } from '../../kit/choppers.ts';
import { type Analysed, complaints, type Edit, findingsOf, textAt, theFinding, worst } from '../../kit/plants.ts';

/** Of errors and warnings. */
const told = (plant: Analysed) => complaints(plant).map(({ code, subject }) => `${code} ${subject}`);

describe('the chopper that is at fault', () => {
  it('is the one that is too small', () => {
    const plant = withTwoChoppers(within('chopper Q2', 'current = 750 A', 'current = 500 A'));
    expect(told(plant)).toEqual(['chopper_current Q2']);
  });

  it('is the one that is told to carry too much', () => {
    const plant = withTwoChoppers(within('chopper Q1', 'current =', 'share = 70 %\n  current ='));
    expect(told(plant)).toContain('chopper_current Q1');
    expect(told(plant).filter(each => each.endsWith('2'))).toEqual([]);
  });

  it('is the one whose battery leaves its span', () => {
    const plant = withTwoChoppers(within('chopper Q2', '250 V .. 420 V', '250 V .. 370 V'));
    const found = theFinding(plant, 'chopper_window');
    expect(found).toMatchObject({ severity: 'error', subject: 'Q2' });
    expect(found.related.map(({ place }) => textAt(plant, place))).toContain('cells_in_series = 112');
    expect(told(plant)).toEqual(['chopper_window Q2']);
  });

  it('is the one that can’t stand the voltage that another holds', () => {
    const plant = withTwoChoppers(
      within('chopper Q2', '  link_voltage = 750 V ± 1 %\n', '', ['600 V .. 850 V', '600 V .. 740 V']),
    );
    const found = theFinding(plant, 'chopper_window');
    expect(found.subject).toBe('Q2');
    expect(found.message).toContain('The DC link takes Q2’s high side up to 757.5 V');
  });
});

describe('the link', () => {
  const silent = (tag: string): Edit => within(`chopper ${tag}`, '  link_voltage = 750 V ± 1 %\n', '');

  it('stands where those that state it hold it; the others follow', () => {
    const plant = withTwoChoppers(silent('Q2'));
    expect(worst(plant, 'K1.dc_voltage_min').value).toBeCloseTo(worst(withTwoChoppers(), 'K1.dc_voltage_min').value, 9);
    expect(worst(plant, 'Q2.link_voltage_max').value).toBeCloseTo(757.5, 9);
  });

  it('else inside the spans of all', () => {
    const narrowed = within('chopper Q1', '  link_voltage = 750 V ± 1 %\n', '', ['600 V .. 850 V', '640 V .. 900 V']);
    const plant = withTwoChoppers(narrowed, silent('Q2'));
    for (const tag of ['Q1', 'Q2']) {
      expect(worst(plant, `${tag}.link_voltage_min`).value).toBeCloseTo(640, 9);
      expect(worst(plant, `${tag}.link_voltage_max`).value).toBeCloseTo(850, 9);
    }
  });

  it('is said to be held by all of them', () => {
    const plant = withTwoChoppers(['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 740 V']);
    const found = theFinding(plant, 'dc_window');
    expect(found.message).toContain('The DC link of Q1 and Q2 takes K1’s DC side to 757.5 V');
    expect(found.related.map(({ place }) => textAt(plant, place))).toEqual([
      'link_voltage = 750 V ± 1 %',
      'link_voltage = 750 V ± 1 %',
    ]);
  });
});

describe('the battery that is at fault', () => {
  it('is the one that carries too much', () => {
    const plant = withTwoChoppers(within('battery B2', 'discharge_current = 280 A', 'discharge_current = 140 A'));
    expect(told(plant)).toEqual(['battery_current B2']);
  });

  it('is the one that is empty too soon', () => {
    const uneven = within('chopper Q1', 'current =', 'share = 30 %\n  current =');
    const plant = withTwoChoppers(
      uneven,
      ['for 45 min,', 'for 75 min,'],
      ['current = 750 A', 'current = 1200 A'],
      ['current = 750 A', 'current = 1200 A'],
    );
    expect(findingsOf(plant, 'discharge_time').map(({ subject }) => subject)).toEqual(['B2']);
    expect(findingsOf(withTwoChoppers(['for 45 min,', 'for 75 min,']), 'discharge_time')).toEqual([]);
  });

  it('is the one that can’t give its part at all', () => {
    const weak = within(
      'battery B2',
      '0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω',
      '0 °C 2.8 Ω, 45 °C 1.2 Ω',
    );
    const found = theFinding(withTwoChoppers(weak), 'power_shortfall', 'K1');
    expect(found.message).toContain('start_peak asks of B2');
    expect(found.related.map(({ place }) => place.path)).toHaveLength(1);
  });

  it('is not asked for the other’s voltage', () => {
    const plant = withTwoChoppers(within('battery B2', 'cells_in_series = 112', 'cells_in_series = 100'));
    expect(findingsOf(plant, 'pack_mismatch')).toEqual([]);
    expect(plant.analysis.notChecked.join('\n')).not.toContain('when their contactors close');
  });
});

describe('with the gates blocked', () => {
  /** 360 V · 1.1 · √2 and the tolerances put the crest at about 575 V. */
  const lowered: readonly Edit[] = ['Q1', 'Q2'].map(tag =>
    within(`chopper ${tag}`, '750 V ± 1 %', '500 V', ['600 V .. 850 V', '450 V .. 850 V']),
  );
  const low: readonly Edit[] = [...lowered, ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 450 V .. 850 V']];

  it('the diodes lift the link that both hold, and reach no battery', () => {
    const plant = withTwoChoppers(...low);
    const found = theFinding(plant, 'uncontrolled_charging');
    expect(found).toMatchObject({ severity: 'warning', hazard: false, subject: 'K1' });
    expect(found.message).toContain('from the 500 V that Q1 and Q2 hold to the crest');
    expect(found.message).toContain('B1 and B2 are not charged by this');
    expect(worst(plant, 'K1.diode_current').value).toBe(0);
    expect(worst(plant, 'K1.diode_charge_blocking').value).toBe(0);
  });

  it('they charge the one on the high side of its chopper, through the diode of that one', () => {
    const turned = (cells: number): Edit[] => {
      const [, before] = lowered[1]!;
      const after = before
        .replace('low_side_voltage = 250 V .. 420 V', 'low_side_voltage = 450 V .. 520 V')
        .replace('450 V .. 850 V', '500 V .. 1100 V')
        .replace('current =', 'battery_side = high\n  current =');
      return [[before, after], within('battery B2', 'cells_in_series = 112', `cells_in_series = ${cells}`)];
    };
    // Empty cells rest at 2.6 V: 210 of them at 546 V, below the crest; 240 at 624 V, above it.
    const charged = withTwoChoppers(...low, ...turned(210));
    const found = theFinding(charged, 'uncontrolled_charging');
    expect(found).toMatchObject({ severity: 'error', hazard: true });
    expect(found.message).toContain('diodes charge B2 and nothing');
    expect(worst(charged, 'K1.diode_current').value).toBeGreaterThan(0);
    const safe = theFinding(withTwoChoppers(...low, ...turned(240)), 'uncontrolled_charging');
    expect(safe.message).toContain('B1 is not charged by this');
  });
});
