// A lead-acid battery that is emptied fast wants its capacity by rate.
import { describe, expect, it } from 'vitest';
import { capacityByRate as check } from '../../../engine/checks/capacity-by-rate.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;
const acid = ['  cells_in_series = 224\n', '  chemistry = lead_acid\n  cells_in_series = 224\n'] as const;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'capacity_by_rate')).toEqual({
    message:
      'B1 is lead-acid and states one `capacity` of 280 Ah for all rates; start_peak would empty a full string in 115.3 min at the lowest network voltage, delivering reactive power, where such cells give far less than over the ten or twenty hours for which a capacity is usually stated: at one hour often half of it. State it as a curve, such as `capacity = curve current { 20 A 200 Ah, 100 A 120 Ah }`.',
    at: 'capacity = 280 Ah',
    related: [
      ['chemistry = lead_acid', 'The chemistry.'],
      ['discharge = 400 kW for 45 min', 'This duty empties it.'],
    ],
    limit: '5 h',
    fixes: [],
  });
});

describe('one capacity for all rates', () => {
  it('is pointed at, with the time in which the duty would empty the battery', () => {
    const { message, place, subject } = theFinding(bad(check), code);
    expect(subject).toBe('B1');
    expect(lineAt(bad(check), place)).toBe('capacity = 280 Ah');
    expect(message).toMatch(/start_peak would empty a full string in 115\.\d min at the lowest network voltage/);
  });

  it('will do for another chemistry, for a slow discharge, and is gone with a curve', () => {
    expect(findingsOf(sound(), code)).toEqual([]);
    // 400 kW empties it in well under five hours, 100 kW in about eight.
    expect(findingsOf(sound(acid, ['discharge = 400 kW', 'discharge = 100 kW']), code)).toEqual([]);
    const curve = 'capacity = curve current { 20 A 320 Ah, 150 A 280 Ah, 300 A 220 Ah }';
    expect(findingsOf(sound(acid, ['capacity = 280 Ah', curve]), code)).toEqual([]);
  });
});

describe('the time from full to empty', () => {
  it('counts by the share that the run used, of the span of the duty where that has one', () => {
    const short = ['power_factor = 0.95 }', 'power_factor = 0.95, soc = 20 % .. 60 % }'] as const;
    const whole = /full string in (\d+\.\d) min/.exec(theFinding(bad(check), code).message)![1];
    const part = /full string in (\d+\.\d) min/.exec(theFinding(bad(check, short), code).message)![1];
    // Half of the charge in half of the time.
    expect(Number(part) / Number(whole)).toBeCloseTo(1, 1);
    const { value } = worst(bad(check), 'B1.discharge_time');
    expect(Number(whole)).toBeCloseTo(value / 0.8 / 60, 1);
  });

  it('is fast up to five hours', () => {
    // Nearly in proportion to the power.
    const found = (kilowatts: number) => findingsOf(sound(acid, ['400 kW', `${kilowatts} kW`]), code).length;
    expect([found(170), found(140)]).toEqual([1, 0]);
  });

  it('is that of each duty, in each case by its own facts', () => {
    const cases = (text: string) => ['require T1.loading <= 95 %', text] as const;
    const plant = sound(cases('case acid { B1.chemistry = lead_acid }'));
    expect(theFinding(plant, code).message).toMatch(
      /^B1 is lead-acid .* delivering reactive power, in case acid, where/,
    );
    expect(theFinding(plant, code).point?.case).toBe('acid');
    const curved = 'B1.capacity = curve current { 20 A 320 Ah, 300 A 220 Ah }';
    expect(findingsOf(sound(acid, cases(`case stated { ${curved} }`)), code).map(({ point }) => point?.case)).toEqual([
      undefined,
    ]);
    const second = 'duty second { discharge = 300 kW for 10 min }';
    expect(findingsOf(sound(acid, cases(second)), code).map(({ point }) => point?.duty)).toEqual([
      'start_peak',
      'second',
    ]);
  });
});
