// How long the battery lasts against what the duty asks, and what ends it.
import { describe, expect, it } from 'vitest';
import { dischargeTimeCheck as check } from '../../../engine/checks/discharge-time.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, textAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const lasting = (minutes: number) => ['for 45 min', `for ${minutes} min`] as const;

showsItself(check, { severity: 'error' });

describe('the time', () => {
  it('is judged by the duty', () => {
    const minutes = worst(sound(), 'B1.discharge_time').value / 60;
    expectLimit(code, [lasting(minutes - 0.01)], [lasting(minutes + 0.01)], 'error');
  });

  it('shows both times, on the duty', () => {
    const plant = bad(check);
    const { message, place, related, point, limit } = theFinding(plant, code);
    expect(message).toBe(
      `B1 lasts ${worst(plant, 'B1.discharge_time').display} where the duty asks for 3 h during start_peak, at the lowest network voltage, delivering reactive power.`,
    );
    expect(limit).toEqual({ name: 'start_peak.duration', number: 10_800, display: '3 h' });
    expect(point).toMatchObject({ duty: 'start_peak', voltage: 'low' });
    expect(lineAt(plant, place)).toContain('for 3 h');
    expect(related.map(({ place }) => textAt(plant, place).split(' ')[0])).toEqual(['capacity', 'strings', 'soc']);
  });

  it('says when a limit of the battery ends it before the span does', () => {
    // 3.15 V a cell, 705.6 V: the loaded battery meets it above the bottom of the span.
    const plant = sound(['2.80 V .. 3.60 V', '3.15 V .. 3.60 V'], lasting(100));
    const end = worst(plant, 'B1.discharge_end_soc');
    expect(end.value).toBeGreaterThan(0.1);
    expect(theFinding(plant, code).message).toContain(
      `; the least voltage of the battery ends it at ${end.display} state of charge already.`,
    );
  });

  it('runs to the bottom of the span that the duty states, without a word of an early end', () => {
    const own = ['power_factor = 0.95 }', 'power_factor = 0.95, soc = 40 % .. 90 % }'] as const;
    const plant = sound(own, lasting(80));
    expect(worst(plant, 'B1.discharge_end_soc').value).toBeCloseTo(0.4, 9);
    expect(theFinding(plant, code).message).toMatch(/delivering reactive power\.$/);
  });

  it('says where a string is lost', () => {
    const lame = ['for 45 min', 'for 80 min, lost = string'] as const;
    expect(theFinding(sound(lame), code).message).toMatch(/delivering reactive power, with one string lost\.$/);
  });

  it('is judged for every duty that has one, and for no other', () => {
    const more = (duration: string) =>
      ['duty braking', `duty feed { discharge = 300 kW${duration} }\nduty braking`] as const;
    const both = findingsOf(sound(more(' for 5 h'), lasting(180)), code);
    expect(both.map(({ point }) => point?.duty)).toEqual(['start_peak', 'feed']);
    expect(findingsOf(sound(more('')), code)).toEqual([]);
  });

  it('is no matter of a discharge that cannot begin', () => {
    const plant = sound(['discharge_current = 280 A', 'discharge_current = 20 A'], lasting(180));
    expect(findingsOf(plant, code)).toEqual([]);
    expect(findingsOf(plant, 'battery_current')).toHaveLength(1);
  });

  it('takes the time that a case restates', () => {
    const plant = sound(['require T1.loading <= 95 %', 'case long { start_peak.duration = 2 h }']);
    expect(theFinding(plant, code).message).toMatch(/2 h.* in case long/);
  });

  it('names the case', () => {
    const plant = sound(lasting(80), ['require T1.loading <= 95 %', 'case worn { B1.state_of_health = 80 % }']);
    expect(theFinding(plant, code).message).toContain('in case worn');
  });
});
