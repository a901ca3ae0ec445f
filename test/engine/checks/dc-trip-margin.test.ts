// Distance to the converter’s DC trip.
import { describe, expect, it } from 'vitest';
import { dcTripMargin as check } from '../../../engine/checks/dc-trip-margin.ts';
import { expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

describe('the judgement', () => {
  it('counts from the trip, and leaves what lies above it to dc_window', () => {
    const highest = worst(sound(), 'K1.dc_voltage_max').value;
    const trip = (volts: number) =>
      ['dc_voltage = 550 V .. 850 V', `dc_voltage = 550 V .. 850 V\n  dc_trip = ${volts} V`] as const;
    expectLimit(code, [trip(highest / 0.9699)], [trip(highest / 0.9701)], 'warning');
    expect(findingsOf(sound(trip(highest - 1)), code)).toEqual([]);
    expect(findingsOf(sound(trip(highest - 1)), 'dc_window')).toHaveLength(1);
  });
});
