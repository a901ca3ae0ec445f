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
