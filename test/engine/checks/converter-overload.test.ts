// Passing overloads against what the maker states.
import { describe, expect, it } from 'vitest';
import { converterOverload as check } from '../../../engine/checks/converter-overload.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'converter_overload')).toEqual({
    message:
      'K1’s overload does not cover 753.8 A, 107.7 % of the 700 A that it carries lastingly during start_peak, at the lowest network voltage, absorbing reactive power: more than 100 % lasts 10 min, and 60 s is allowed.',
    at: 'overload = 150 % for 60 s every 600 s',
    related: [['discharge = 400 kW for 45 min', 'This duty asks for it.']],
    limit: '700 A',
    fixes: [],
  });
});

describe('an overload', () => {
  const quiet = ['transformer_spare = 5 %', 'transformer_spare = 5 %\n  ripple = 50 %'] as const;
  const overload = (text: string) => ['ac_current = 850 A', `ac_current = 600 A\n  overload = ${text}`] as const;
  const brief = ['for 45 min', 'for 50 s every 15 min'] as const;

  it('that is stated covers a short duty, which then is no matter of the lasting rating', () => {
    const plant = sound(quiet, brief, overload('150 % for 60 s every 600 s'));
    expect(worst(plant, 'K1.loading').value).toBeGreaterThan(1);
    expect(findingsOf(plant, code)).toEqual([]);
    expect(findingsOf(plant, 'converter_loading')).toEqual([]);
  });

  it('does not cover a duty that lasts longer, is higher, or comes sooner again', () => {
    const longer = ['for 45 min', 'for 70 s every 15 min'] as const;
    expect(theFinding(sound(quiet, longer, overload('150 % for 60 s every 600 s')), code).message).toContain(
      '60 s is allowed',
    );
    const share = 100 * worst(sound(quiet, brief, overload('150 % for 60 s every 600 s')), 'K1.loading').value;
    const upTo = (percent: number) => overload(`${percent} % for 60 s every 600 s`);
    expectLimit(code, [quiet, brief, upTo(share + 0.1)], [quiet, brief, upTo(share - 0.1)], 'error');
    const sooner = ['for 45 min', 'for 50 s every 100 s'] as const;
    expect(theFinding(sound(quiet, sooner, overload('150 % for 60 s every 600 s')), code).message).toMatch(/lasts|rms/);
  });

  it('of a duty class counts as well', () => {
    // IEC 60146-1-1, class II: 150 % for one minute (from memory).
    const classed = (name: string) => ['ac_current = 850 A', `ac_current = 600 A\n  overload_class = ${name}`] as const;
    expectLimit(code, [quiet, brief, classed('II')], [quiet, brief, classed('I')], 'error');
  });

  it('of a duty class is judged by the heat sink, where the maker states its time constant', () => {
    // 125 % for 50 s and then as long at 0 %: the rms is below rated; again after 16 s it is not, and the sink stays warm.
    const sink = (seconds: number, time: string) =>
      [
        ['ac_current = 850 A', `ac_current = 600 A\n  overload_class = II\n  time_constant = ${time}`],
        ['for 45 min', `for 50 s every ${seconds} s`],
      ] as const;
    expect(findingsOf(sound(quiet, ...sink(100, '30 s')), code)).toEqual([]);
    expect(theFinding(sound(quiet, ...sink(60, '60 s')), code).message).toContain('heat sink');
    expect(theFinding(sound(quiet, ...sink(60, '2 h')), code).message).toContain('rms');
  });

  it('does not help a duty that lasts for good', () => {
    const plant = sound(quiet, ['400 kW for 45 min', '400 kW'], overload('150 % for 60 s every 600 s'));
    expect(findingsOf(plant, 'converter_loading')).toHaveLength(1);
    expect(findingsOf(plant, code)).toEqual([]);
  });
});
