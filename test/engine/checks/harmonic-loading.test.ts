// Harmonics that leave less of a transformer's rating than the duty needs.
import { describe, expect, it } from 'vitest';
import { harmonicLoading as check } from '../../../engine/checks/harmonic-loading.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, lineAt, textAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;
const eddy = (percent: number): Edit => ['eddy_loss = 30 %', `eddy_loss = ${percent} %`];
const without: Edit = ['MAIN -> T1 -> F1 -> K1', 'MAIN -> T1 -> K1'];
const rating = (kva: number): Edit => ['rated_power = 500 kVA', `rated_power = ${kva} kVA`];
const free: Edit = ['require T1.loading <= 95 %\n', ''];

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'harmonic_loading')).toEqual({
    message:
      'With its harmonics T1 is as warm as at 113.1 % of its rating, more than it may carry; by current it is loaded to 93.98 % during start_peak, at the lowest network voltage, delivering reactive power. They multiply the eddy loss of its windings by 2.498, and 30 % of its load loss is eddy loss.',
    at: 'rated_power = 500 kVA',
    related: [['discharge = 400 kW for 45 min', 'This duty asks for it.']],
    limit: '100 %',
    fixes: [],
  });
});

describe('the harmonics', () => {
  it('count by the eddy loss: by hand, √(1 − e + F·e) above the loading by current', () => {
    const plant = bad(check);
    const finding = theFinding(plant, code);
    const factor = worst(plant, 'T1.harmonic_loss_factor').value;
    const byHand = worst(plant, 'T1.derated_loading').value * Math.sqrt(0.7 + 0.3 * factor);
    expect(finding.value?.name).toBe('T1.thermal_loading');
    expect(finding.value?.number).toBeCloseTo(byHand, 9);
    expect(finding.message).toContain(worst(plant, 'T1.harmonic_loss_factor').display);
    expect(lineAt(plant, finding.place)).toBe('rated_power = 500 kVA');
    expect(finding.related.map(({ place }) => textAt(plant, place))).toEqual(['discharge = 400 kW for 45 min']);
  });

  it('speak from the eddy loss on at which the whole rating is used', () => {
    const plant = bad(check);
    const factor = worst(plant, 'T1.harmonic_loss_factor').value;
    const share = 100 * ((1 / worst(plant, 'T1.derated_loading').value ** 2 - 1) / (factor - 1));
    expect(findingsOf(bad(check, eddy(share - 0.01)), code)).toEqual([]);
    expect(theFinding(bad(check, eddy(share + 0.01)), code).severity).toBe('warning');
  });

  it('are those of the switching where nothing filters it', () => {
    expect(theFinding(sound(without), code).severity).toBe('warning');
    expect(findingsOf(sound(), code)).toEqual([]);
  });

  it('leave the word to the loading by current where that is too much already', () => {
    const plant = bad(check, free, rating(400));
    expect(findingsOf(plant, code)).toEqual([]);
    expect(theFinding(plant, 'transformer_loading').severity).toBe('error');
  });
});

describe('an overload that the maker allows', () => {
  /** On 400 kVA, 400 kW are 117 % of the rating; 300 kW with no end to them are 88 %. */
  const plant = (peak: string, ...edits: readonly Edit[]) =>
    bad(
      check,
      free,
      ['transformer_spare = 5 %', 'transformer_spare = 0 %'],
      ['rated_power = 500 kVA', 'rated_power = 400 kVA\n  overload = 130 %'],
      ['discharge = 400 kW for 45 min', peak],
      ...edits,
    );
  const steady: Edit = ['duty braking', 'duty steady { discharge = 300 kW, power_factor = 0.95 }\nduty braking'];

  it('carries a short duty with its harmonics', () => {
    const short = plant('discharge = 400 kW for 5 min');
    expect(worst(short, 'T1.derated_loading').value).toBeCloseTo(1.174, 3);
    expect(worst(short, 'T1.thermal_loading').value).toBeGreaterThan(1.4);
    expect(findingsOf(short, code)).toEqual([]);
    expect(findingsOf(short, 'transformer_loading')).toEqual([]);
  });

  it('leaves to the lasting duty what its harmonics take', () => {
    const finding = theFinding(plant('discharge = 400 kW for 5 min', steady), code);
    expect(finding.message).toContain(
      'as warm as at 108.7 % of its rating, more than it may carry; by current it is loaded to 88.17 % during steady, at the lowest network voltage, delivering reactive power.',
    );
  });

  it('does not carry a duty that warms it with its harmonics beyond the permitted rise, though its current alone would not', () => {
    const long = plant('discharge = 400 kW for 35 min');
    const rise = worst(long, 'T1.relative_rise').value;
    expect(rise).toBeLessThan(1);
    expect(findingsOf(long, 'transformer_loading')).toEqual([]);
    const heat = (worst(long, 'T1.thermal_loading').value / worst(long, 'T1.derated_loading').value) ** 2;
    expect(theFinding(long, code).message).toContain(
      `; it would warm up to ${(100 * rise * heat).toFixed(1)} % of the permitted rise.`,
    );
  });

  it('says nothing where the current alone is beyond it', () => {
    const beyond = plant('discharge = 400 kW for 5 min', ['overload = 130 %', 'overload = 117 %']);
    expect(findingsOf(beyond, code)).toEqual([]);
    expect(theFinding(beyond, 'transformer_loading').severity).toBe('error');
  });
});
