// Distance to the converter’s DC trip.
import { describe, expect, it } from 'vitest';
import { dcTripMargin as check } from '../../../engine/checks/dc-trip-margin.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { findingsOf, lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'dc_trip_margin')).toEqual({
    message:
      'The battery takes K1’s DC side to 761.3 V, 1.128 % below its trip at 770 V, less than the 3 % wanted: a small swing trips it.',
    at: 'dc_trip = 770 V',
    related: [],
    limit: '746.9 V',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('counts from the trip, and leaves what lies above it to dc_window', () => {
    const highest = worst(sound(), 'K1.dc_voltage_max').value;
    const trip = (volts: number) =>
      ['dc_voltage = 550 V .. 850 V', `dc_voltage = 550 V .. ${volts} V\n  dc_trip = ${volts} V`] as const;
    expectLimit(code, [trip(highest / 0.9699)], [trip(highest / 0.9701)], 'warning');
    expect(findingsOf(sound(trip(highest - 1)), code)).toEqual([]);
    expect(findingsOf(sound(trip(highest - 1)), 'dc_window')).toHaveLength(1);
  });

  it('is that of the link where a chopper holds it', () => {
    const plant = withChopper(['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 770 V\n  dc_trip = 770 V']);
    expect(theFinding(plant, code).message).toMatch(/^Q1 takes K1’s DC side to 757\.5 V, /);
  });

  it('is shown with voltage, trip and margin, on the trip', () => {
    const plant = bad(check);
    const { message, place, limit } = theFinding(plant, code);
    const { value, display } = worst(plant, 'K1.dc_voltage_max');
    const margin = show(1 - value / 770, dimensions.ratio);
    expect(message).toBe(
      `The battery takes K1’s DC side to ${display}, ${margin} below its trip at 770 V, less than the 3 % wanted: a small swing trips it.`,
    );
    expect(lineAt(plant, place)).toBe('dc_trip = 770 V');
    // 770 V less 3 %.
    expect(limit).toMatchObject({ display: '746.9 V' });
  });
});
