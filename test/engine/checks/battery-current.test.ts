// Each string against what its maker permits, both ways, in the cold too.
import { describe, expect, it } from 'vitest';
import { batteryCurrent as check } from '../../../engine/checks/battery-current.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, textAt, theFinding, valueAt, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

describe('the string current', () => {
  it('is judged against the permitted discharge current', () => {
    const needed = worst(sound(), 'B1.string_current').value;
    const limit = (amperes: number) => ['discharge_current = 280 A', `discharge_current = ${amperes} A`] as const;
    expectLimit(code, [limit(needed + 0.05)], [limit(needed - 0.05)], 'error');
    expect(theFinding(sound(limit(100)), code).message).toContain('discharging during start_peak');
  });

  it('is judged against the permitted charge current at the battery’s temperature', () => {
    // At 20 °C half-way between 15 °C and 25 °C: (70 + 140)/2 A at 17.5 °C, so 116.67 A by the straight line from 10 °C.
    const plant = bad(check);
    expect(valueAt(plant, 'B1.string_current_limit', { duty: 'braking', soc: 0.1 })).toBeCloseTo(
      70 + (70 * 10) / 15,
      9,
    );
    const { message, place, related, value, limit } = theFinding(plant, code);
    expect(limit).toMatchObject({ name: 'B1.string_current_limit', display: '116.7 A' });
    const at = { duty: 'braking', soc: 0.1, voltage: 'high', direction: 'delivering' } as const;
    expect(value!.number).toBeCloseTo(valueAt(plant, 'B1.string_current', at), 9);
    expect(message).toBe(
      `Each string of B1 carries ${value!.display} where 116.7 A is what its maker permits for charging during braking, at the highest network voltage, at 10 % state of charge; by current alone about 5 strings would do.`,
    );
    expect(lineAt(plant, place)).toBe('strings = 4');
    expect(related.map(({ place }) => textAt(plant, place).split(' ')[0])).toEqual(['charge_current', 'charge']);
  });

  it('is a charge from the bottom of the span, where the voltage is lowest', () => {
    expect(theFinding(bad(check), code).point).toMatchObject({ duty: 'braking', soc: 0.1, voltage: 'high' });
  });

  it('says how many strings would do, and is right', () => {
    expect(theFinding(bad(check), code).message).toContain('about 5 strings would do');
    expect(findingsOf(bad(check, ['strings = 4', 'strings = 5']), code)).toEqual([]);
  });

  it('promises no number of strings where charging is forbidden', () => {
    const plant = sound(['temperature = 20 °C', 'temperature = 0 °C']);
    const { message } = theFinding(plant, code);
    expect(message).toContain('0 A is what its maker permits');
    expect(message).toMatch(/state of charge\.$/);
  });

  it('promises none where it would take more than twenty times as many', () => {
    const limit = (amperes: number) => ['discharge_current = 280 A', `discharge_current = ${amperes} A`] as const;
    expect(theFinding(sound(limit(8)), code).message).toContain('about 75 strings would do');
    expect(theFinding(sound(limit(7)), code).message).toMatch(/delivering reactive power\.$/);
  });

  it('counts a lost string besides those that carry', () => {
    // 202 A in each of three: at 150 A five have to be left, and one more to be lost.
    const plant = sound(
      ['discharge_current = 280 A', 'discharge_current = 150 A'],
      ['for 45 min', 'for 45 min, lost = string'],
    );
    expect(theFinding(plant, code).message).toMatch(
      /, with one string lost; by current alone about 6 strings would do\.$/,
    );
  });

  describe('where a short time permits more', () => {
    const pulse = (amperes: number) =>
      [
        'discharge_current = 280 A',
        `discharge_current = 100 A\n  pulse_discharge_current = ${amperes} A for 60 s`,
      ] as const;
    const run = (text: string) => ['for 45 min', text] as const;

    it('holds within it, with a pause that lets the rms sink to the lasting current', () => {
      expect(findingsOf(sound(pulse(280), run('for 30 s every 15 min')), code)).toEqual([]);
    });

    it('is judged by the lasting current where the duty lasts longer', () => {
      const { message } = theFinding(sound(pulse(280)), code);
      expect(message).toContain(
        'where 100 A is what its maker permits for discharging without end (its `pulse_discharge_current` is for 60 s, and the duty lasts longer or comes again sooner) during start_peak',
      );
    });

    it('is said once where the duty lasts longer and comes again: the rms has no more to tell', () => {
      expect(findingsOf(sound(pulse(280), run('for 45 min every 1 h')), code)).toHaveLength(1);
    });

    it('is judged by the short one within its time', () => {
      const { message, related } = theFinding(sound(pulse(120), run('for 30 s every 15 min')), code);
      expect(message).toContain(
        'where 120 A is what its maker permits for discharging for up to 60 s during start_peak',
      );
      expect(related.map(({ message }) => message)).toEqual(['What one string may carry.', 'This duty asks for it.']);
    });

    it('is judged by the rms over a period with too short a pause', () => {
      const plant = sound(pulse(280), run('for 30 s every 40 s'));
      const { message, place, related, limit, value, severity } = theFinding(plant, code);
      const { display } = worst(plant, 'B1.string_rms_current');
      expect(severity).toBe('error');
      expect(message).toBe(
        `Each string of B1 carries ${display} rms over the period of the duty where 100 A is what its maker permits for discharging without end during start_peak, at the lowest network voltage, at 10 % state of charge, delivering reactive power: the pauses are too short for what the short time permits.`,
      );
      expect(lineAt(plant, place)).toContain('every 40 s');
      expect(related.map(({ place }) => textAt(plant, place).split(' ')[0])).toEqual([
        'discharge_current',
        'discharge',
      ]);
      expect(limit).toMatchObject({ name: 'B1.string_lasting_limit', display: '100 A' });
      expect(value).toMatchObject({ name: 'B1.string_rms_current', display });
      const lame = sound(pulse(280), run('for 30 s every 40 s, lost = string'));
      expect(theFinding(lame, code).message).toMatch(/, with one string lost: the pauses/);
    });

    it('is judged charging as well', () => {
      const both = [
        'charge_current = curve temperature { 0 °C 0 A, 10 °C 70 A, 25 °C 140 A, 45 °C 140 A }',
        'charge_current = 20 A\n  pulse_charge_current = 140 A for 2 min',
      ] as const;
      expect(theFinding(sound(both), code).message).toContain(
        'is what its maker permits for charging without end during braking',
      );
    });
  });

  it('names the case, and counts the strings that the case leaves', () => {
    const plant = sound(
      ['require T1.loading <= 95 %', 'case one_lost { B1.strings = 3 }'],
      ['charge = 250 kW', 'charge = 300 kW'],
    );
    const { message, point } = theFinding(plant, code);
    expect(point?.case).toBe('one_lost');
    expect(message).toContain('in case one_lost');
    expect(message).toContain('about 4 strings would do');
  });
});
