// The battery as a duty finds it: one string lost, and short-time currents beside lasting ones.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { complaintCodes, findingsOf, theFinding, valueAt, worst } from '../../kit/plants.ts';

const start = 'discharge = 400 kW for 45 min';
const lost = (words = start) => [start, `${words}, lost = string`] as const;

describe('the battery as it stands', () => {
  it('gives every number that the same span gives where the duty states it', () => {
    const [usual, stated] = [sound(), sound([start, `${start}, soc = 10 % .. 90 %`])];
    const all = (plant: typeof usual) =>
      plant.analysis.values.names.flatMap(name =>
        plant.analysis.values.all(name).map(({ value, point }) => ({ name, value, point })),
      );
    expect(all(usual).filter(({ value }) => value !== undefined).length).toBeGreaterThan(500);
    expect(all(stated)).toEqual(all(usual));
    expect(all(sound([start, `${start}, soc = 10 % .. 80 %`]))).not.toEqual(all(usual));
  });
});

describe('one string lost', () => {
  it('is what the same battery with one string fewer gives', () => {
    const three = sound(['strings = 4', 'strings = 3']);
    const four = sound(lost());
    for (const name of ['string_current', 'voltage_min', 'discharge_time', 'energy', 'full_power_soc', 'current'])
      expect(valueAt(four, `B1.${name}`, nearest(four, name)), name).toBeCloseTo(
        valueAt(three, `B1.${name}`, nearest(three, name)),
        6,
      );
  });

  it('leaves the other duties with all strings', () => {
    const plant = sound(lost());
    expect(valueAt(plant, 'B1.strings_in_service', { duty: 'start_peak' })).toBe(3);
    expect(valueAt(plant, 'B1.strings_in_service', { duty: 'braking' })).toBe(4);
    const point = { duty: 'braking', voltage: 'nominal', soc: 0.1, direction: 'delivering' } as const;
    expect(valueAt(plant, 'B1.string_current', point)).toBe(valueAt(sound(), 'B1.string_current', point));
  });

  it('leaves the battery at rest as it is', () => {
    for (const name of ['B1.rest_voltage_min', 'B1.usable_capacity', 'B1.recharge_time'])
      expect(worst(sound(lost()), name).value).toBe(worst(sound(), name).value);
  });

  it('shows in the findings, which say so and count the strings right', () => {
    const plant = sound(lost(), ['discharge_current = 280 A', 'discharge_current = 155 A']);
    const { message } = theFinding(plant, 'battery_current');
    expect(message).toContain('with one string lost; by current alone about 5 strings would do');
    expect(findingsOf(sound(['discharge_current = 280 A', 'discharge_current = 155 A']), 'battery_current')).toEqual(
      [],
    );
    const five = sound(
      lost(),
      ['discharge_current = 280 A', 'discharge_current = 155 A'],
      ['strings = 4', 'strings = 5'],
    );
    expect(findingsOf(five, 'battery_current')).toEqual([]);
  });

  it('may be asked for by a case', () => {
    const plant = sound(['require T1.loading <= 95 %', 'case lame { start_peak.lost = string }']);
    expect(valueAt(plant, 'B1.strings_in_service', { duty: 'start_peak', case: 'lame' })).toBe(3);
    expect(valueAt(plant, 'B1.strings_in_service', { duty: 'start_peak', case: undefined })).toBe(4);
  });

  it('of a battery that has only one is said to be impossible', () => {
    const plant = sound(lost(), ['strings = 4', 'strings = 1'], ['capacity = 280 Ah', 'capacity = 1120 Ah']);
    expect(theFinding(plant, 'power_shortfall', 'B1').message).toContain('0 strings are left');
  });
});

function nearest(plant: ReturnType<typeof sound>, name: string) {
  return worst(plant, `B1.${name}`).point;
}

describe('a short-time current', () => {
  const pulse = (words: string) =>
    ['discharge_current = 280 A', `discharge_current = 120 A, pulse_discharge_current = ${words}`] as const;
  const short = (words: string) => [start, `discharge = 400 kW for ${words}`] as const;

  it('counts for a duty that is no longer', () => {
    expect(complaintCodes(sound(pulse('280 A for 30 s'), short('30 s')))).toEqual([]);
    expect(complaintCodes(sound(pulse('280 A for 30 s'), short('31 s')))).toEqual(['error battery_current']);
    const { message } = theFinding(sound(pulse('280 A for 30 s'), short('31 s')), 'battery_current');
    expect(message).toContain('120 A is what its maker permits for discharging without end');
    expect(message).toContain('`pulse_discharge_current` is for 30 s');
  });

  it('is judged itself', () => {
    const { message } = theFinding(sound(pulse('130 A for 30 s'), short('20 s')), 'battery_current');
    expect(message).toContain('130 A is what its maker permits for discharging for up to 30 s');
  });

  it('leaves the lasting one to the rms value over the period', () => {
    const period = (seconds: number) => [pulse('280 A for 30 s'), short(`30 s every ${seconds} s`)] as const;
    const string = worst(sound(...period(60)), 'B1.string_current').value;
    expect(worst(sound(...period(60)), 'B1.string_rms_current').value).toBeCloseTo(string * Math.sqrt(0.5), 9);
    // 120 A lasting: the period at which the rms value meets it is 30 s · (I/120 A)².
    const bound = 30 * (string / 120) ** 2;
    const rms = (seconds: number) => findingsOf(sound(...period(seconds)), 'battery_current');
    expect(rms(bound * 1.001)).toEqual([]);
    expect(rms(bound * 0.999).map(({ message }) => message)[0]).toContain('rms over the period of the duty');
  });

  it('does not count where the duty comes again sooner than its maker wants', () => {
    expect(complaintCodes(sound(pulse('280 A for 30 s every 10 min'), short('30 s every 10 min')))).toEqual([]);
    expect(complaintCodes(sound(pulse('280 A for 30 s every 10 min'), short('30 s every 9 min')))).toContain(
      'error battery_current',
    );
  });

  it('bounds the time that the power lasts', () => {
    const plant = sound(pulse('280 A for 40 s'), short('30 s'));
    const row = plant.analysis.values.worst('B1.discharge_time')!;
    expect(row.value).toBeCloseTo(40, 6);
  });

  it('may be a curve, and wants its time', () => {
    const plant = sound(pulse('curve temperature { 0 °C 100 A, 25 °C 300 A } for 30 s'), short('30 s'));
    expect(valueAt(plant, 'B1.string_current_limit', { duty: 'start_peak', soc: 0.1 })).toBeCloseTo(260, 9);
    expect(theFinding(sound(pulse('280 A')), 'wrong_value').message).toContain('wants `for` behind its value');
  });
});

describe('a spread between the strings', () => {
  const spread = ['discharge_current = 280 A', 'discharge_current = 160 A, string_spread = 8 %'] as const;
  const mean = (amperes: number) => ['discharge_current = 280 A', `discharge_current = ${amperes} A`] as const;

  it('ends a discharge where the string that carries most meets its limit', () => {
    const same = sound(mean(160 / 1.08));
    for (const name of ['discharge_end_soc', 'discharge_time', 'full_power_soc'])
      expect(valueAt(sound(spread), `B1.${name}`, nearest(same, name)), name).toBeCloseTo(
        worst(same, `B1.${name}`).value,
        6,
      );
    expect(worst(same, 'B1.discharge_end_soc').value).toBeGreaterThan(0.1);
  });
});
