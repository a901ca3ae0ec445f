// Dips, swells and frequencies that a network asks its plants to ride through.
import { describe, expect, it } from 'vitest';
import { rideThroughCheck as check } from '../../../engine/checks/ride-through.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, type Edit, findingsOf, lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const code = 'ride_through';
const grid = (...facts: readonly string[]) => ['x_over_r = 5', ['x_over_r = 5', ...facts].join('\n  ')] as const;
const converter = (...facts: readonly string[]) =>
  ['ac_current = 850 A', ['ac_current = 850 A', ...facts].join('\n  ')] as const;
const dip = (ratio: string) => `low_voltage_ride_through = curve time { 0 s ${ratio}, 500 ms ${ratio}, 510 ms 90 % }`;
const swell = (ratio: string, time = '100 ms', then = '110 ms') =>
  `high_voltage_ride_through = curve time { 0 s ${ratio}, ${time} ${ratio}, ${then} 110 % }`;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'ride_through')).toEqual({
    message:
      'To hold its power in the deepest dip K1 needs 1283 A, and 850 A is its rating during start_peak: 66.25 % of the power is left.',
    at: 'low_voltage_ride_through = curve time { 0 s 50 %, 500 ms 50 %, 510 ms 90 % }',
    related: [
      ['ac_current = 850 A', 'The rating of the converter.'],
      ['discharge = 400 kW for 45 min', 'This duty asks for it.'],
    ],
    limit: '850 A',
    fixes: [],
  });
});

describe('a dip', () => {
  it('is silent where the power may fall', () => {
    expect(complaintCodes(sound(grid(dip('5 %'))))).toEqual([]);
  });

  it('asks for the current that the power needs at the voltage that is left', () => {
    const plant = bad(check);
    // 400 kW at half of 400 V, on the converter's side of 400/360.
    expect(worst(plant, 'K1.dip_current').value).toBeCloseTo((400e3 / (Math.sqrt(3) * 200)) * (400 / 360), 6);
    const found = theFinding(plant, code);
    expect(lineAt(plant, found.place)).toContain('low_voltage_ride_through');
    expect(found.message).toContain(worst(plant, 'K1.dip_current').display);
    expect(found.message).toContain(worst(plant, 'K1.rated_current').display);
    expect(found.message).toContain(worst(plant, 'K1.dip_power_share').display);
  });

  it('adds the reactive current that the network asks for, up to the rating', () => {
    const at = (gain: number) => sound(grid(dip('60 %'), `reactive_current_gain = ${gain}`));
    const rated = worst(sound(), 'K1.rated_current').value;
    // Twice the missing 40 % is 80 % of the rating; six times would be more than all of it.
    expect(worst(at(2), 'K1.dip_reactive_current').value).toBeCloseTo(0.8 * rated, 9);
    expect(worst(at(6), 'K1.dip_reactive_current').value).toBeCloseTo(rated, 9);
    const active = (400e3 / (Math.sqrt(3) * 240)) * (400 / 360);
    expect(worst(at(2), 'K1.dip_current').value).toBeCloseTo(Math.hypot(active, 0.8 * rated), 6);
    expect(worst(at(2), 'K1.dip_power_share').value).toBeCloseTo((0.6 * rated) / active, 9);
    expect(worst(at(6), 'K1.dip_power_share').value).toBe(0);
  });

  it('holds no power at no voltage: nothing is known of the current', () => {
    expect(sound(grid(dip('0 %'))).analysis.values.worst('K1.dip_current')?.value).toBeUndefined();
  });
});

describe('a swell', () => {
  it('takes control from a converter that can’t make the voltage', () => {
    const plant = sound(grid(swell('150 %')), converter('opens_on_blocking = ac', 'opening_time = 1 s'));
    const found = theFinding(plant, code);
    expect(found.message).toContain('to stay in control');
    expect(found.value).toMatchObject({ name: 'K1.swell_reserve' });
    // No load at 400 V · 1.5 · 360/400 against 0.7071 of 224 · 3.20 V; the filter's own current moves it by little.
    const plain = (224 * 3.2) / Math.SQRT2 / (400 * 1.5 * 0.9) - 1;
    expect(Math.abs(worst(plant, 'K1.swell_reserve').value - plain)).toBeLessThan(0.005);
  });

  it('takes the DC side to the crest, which must stay below the trip', () => {
    const withTrip = (volts: number) => sound(grid(swell('128 %')), converter(`dc_trip = ${volts} V`));
    const { value } = worst(withTrip(900), 'K1.swell_peak');
    expect(worst(withTrip(900), 'K1.swell_dc_voltage').value).toBeCloseTo(Math.max(value, 224 * 3.34), 6);
    const high = sound(grid(swell('160 %')), converter('dc_trip = 800 V'));
    expect(findingsOf(high, code).some(({ message }) => message.includes('at which it trips'))).toBe(true);
  });

  it('warns that blocked diodes conduct meanwhile, with the time and the charge', () => {
    const plant = sound(grid(swell('118 %')));
    const found = theFinding(plant, 'uncontrolled_charging');
    expect(found).toMatchObject({ severity: 'warning', hazard: false });
    expect(found.message).toContain('in the highest swell');
    expect(found.message).toContain(worst(plant, 'K1.swell_charge').display);
    const time = worst(plant, 'K1.swell_time').value;
    // Level all the way to 100 ms, then down to the level at which the crest meets the resting battery.
    const level = 1.18 * (1 + worst(plant, 'K1.swell_margin').value);
    expect(time).toBeCloseTo(0.1 + (0.01 * (1.18 - level)) / 0.08, 9);
  });

  it('is cut short where every state has a device that opens sooner', () => {
    const plant = sound(grid(swell('118 %')), converter('opens_on_blocking = ac', 'opening_time = 40 ms'));
    expect(worst(plant, 'K1.swell_time').value).toBe(0.04);
  });

  it('of a second and longer is a temporary overvoltage: a hazard', () => {
    const plant = sound(grid(swell('118 %', '2 s', '2.1 s')));
    expect(theFinding(plant, 'uncontrolled_charging')).toMatchObject({ severity: 'error', hazard: true });
    const same = sound(grid('temporary_overvoltage = 118 %'));
    expect(worst(plant, 'K1.blocked_peak').value).toBeCloseTo(worst(same, 'K1.blocked_peak').value, 9);
  });
});

describe('the curves', () => {
  const frequency = 'low_frequency_ride_through = curve time { 0 s 47.5 Hz, 30 min 47.5 Hz, 31 min 49 Hz }';

  it('of the converter must cover those of the network', () => {
    const own = (ratio: string) => sound(grid(dip('30 %')), converter(dip(ratio)));
    expect(findingsOf(own('30 %'), code)).toEqual([]);
    const found = theFinding(own('40 %'), code);
    expect(found.severity).toBe('error');
    expect(found.message).toContain('falls short of the network’s by 10 %, 0 s after the beginning');
    const slower = 'low_frequency_ride_through = curve time { 0 s 48 Hz, 40 min 48 Hz }';
    expect(theFinding(sound(grid(frequency), converter(slower)), code).message).toContain('by 500 mHz');
    expect(findingsOf(sound(grid(frequency), converter(frequency)), code)).toEqual([]);
  });

  it('that make no sense are an error where they stand', () => {
    const late = sound(grid('low_voltage_ride_through = curve time { 1 s 50 %, 2 s 90 % }'));
    expect(theFinding(late, code).message).toContain('it must begin at 0 s');
    expect(lineAt(late, theFinding(late, code).place)).toContain('low_voltage_ride_through');
    const turning = sound(grid('high_voltage_ride_through = curve time { 0 s 110 %, 1 s 120 % }'));
    expect(theFinding(turning, code).message).toContain('a longer disturbance never goes farther');
  });

  it('leave unchecked what they do not say, and only once something is said', () => {
    const open = (...edits: readonly Edit[]): string => sound(...edits).analysis.notChecked.join('\n');
    expect(open()).not.toContain('ride-through');
    const half = open(grid(dip('30 %')));
    expect(half).toContain('`high_voltage_ride_through`');
    expect(half).toContain('whether K1 itself stays on (`low_voltage_ride_through`)');
    expect(open(grid(dip('30 %')), converter(dip('30 %')))).not.toContain('itself stays on');
  });
});
