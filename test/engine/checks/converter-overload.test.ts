// Passing overloads against what the maker states.
import { describe, expect, it } from 'vitest';
import { converterOverload as check } from '../../../engine/checks/converter-overload.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

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

describe('what it says', () => {
  const quiet: Edit = ['transformer_spare = 5 %', 'transformer_spare = 5 %\n  ripple = 50 %'];
  const why = (facts: string, duty: string) => {
    const plant = sound(quiet, ['ac_current = 850 A', `ac_current = 600 A\n  ${facts}`], ['for 45 min', duty]);
    expect(told(plant, code)).toMatchObject({ at: facts.split('\n')[0], limit: '600 A' });
    expect(theFinding(plant, code).limit?.name).toBe('K1.rated_current');
    expect(theFinding(plant, code).related.map(({ message }) => message)).toEqual(['This duty asks for it.']);
    const [said, words] = theFinding(plant, code).message.split(' reactive power: ');
    const { display } = worst(plant, 'K1.loading');
    expect(said).toBe(
      `K1’s overload does not cover ${worst(plant, 'K1.current').display}, ${display} of the 600 A that it carries lastingly during start_peak, at the lowest network voltage, absorbing`,
    );
    return words;
  };

  it('is what is too much: height, length, rms or heat', () => {
    const brief = 'for 50 s every 15 min';
    expect(why('overload = 120 % for 60 s every 600 s', brief)).toBe(
      '125.6 % is more than the 120 % that it may carry at all.',
    );
    expect(why('overload_class = I', brief)).toBe('125.6 % is more than the 100 % that it may carry at all.');
    expect(why('overload_class = II', 'for 90 s every 15 min')).toBe(
      'more than 100 % lasts 90 s, and 60 s is allowed.',
    );
    const often = 'for 50 s every 60 s';
    expect(why('overload_class = II\n  time_constant = 60 s', often)).toBe(
      'its heat sink would begin at 119.5 % of the rise at rated current, with a time constant of 60 s, and the class begins at no more than 100 %.',
    );
    // 125.6 % for 50 s of 60 s: times √(50/60).
    expect(why('overload_class = II\n  time_constant = 2 h', often)).toBe(
      'over 60 s the rms is 114.7 %, and 100 % is allowed.',
    );
  });

  it('is told of the case that asks for more, at what the case states', () => {
    const plant = sound(
      quiet,
      ['ac_current = 850 A', 'ac_current = 600 A\n  overload = 150 % for 60 s every 600 s'],
      ['for 45 min', 'for 50 s every 15 min'],
      [
        'require T1.loading <= 95 %',
        'case weak { K1.overload = 110 % for 60 s every 600 s }\ncase long { start_peak.duration = 55 s }',
      ],
    );
    expect(told(plant, code)).toMatchObject({
      message: expect.stringMatching(/ in case weak: 125\.6 % is more than the 110 % /),
      at: 'K1.overload = 110 % for 60 s every 600 s',
    });
    const classed = sound(
      quiet,
      ['ac_current = 850 A', 'ac_current = 600 A\n  overload_class = II'],
      ['for 45 min', 'for 50 s every 15 min'],
      ['require T1.loading <= 95 %', 'case weak { K1.overload = 110 % for 60 s every 600 s }'],
    );
    expect(told(classed, code).at).toBe('K1.overload = 110 % for 60 s every 600 s');
  });

  it('is nothing where no overload is stated', () => {
    expect(findingsOf(sound(quiet, ['ac_current = 850 A', 'ac_current = 600 A']), code)).toEqual([]);
  });
});
