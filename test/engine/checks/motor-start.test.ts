// Motor starts on an island: starting current against overload, dip, torque.
import { describe, expect, it } from 'vitest';
import { motorStartCheck as check } from '../../../engine/checks/motor-start.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, type Edit, findingsOf, lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const code = 'motor_start';
const forming = (facts: string) =>
  ['power_factor = 0.95 }', `power_factor = 0.95, mode = forming, running_load = 0 kW, ${facts} }`] as const;
const overload = (words: string) => ['ac_current = 850 A', `ac_current = 850 A\n  overload = ${words}`] as const;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'motor_start')).toEqual({
    message:
      'Starting a motor of 110 kW, which draws 6 times its rated current, K1 needs 1446 A where it can carry 850 A: at that limit the voltage dips by 41.72 %, more than the 15 % allowed during start_peak; 33.97 % of its starting torque is left.',
    at: 'motor_start = 110 kW',
    related: [['ac_current = 850 A', 'The rating of the converter.']],
    limit: '850 A',
    fixes: [],
  });
});

describe('a motor start', () => {
  it('is silent while the converter holds the voltage', () => {
    expect(complaintCodes(sound(forming('motor_start = 15 kW')))).toEqual([]);
  });

  it('sits on the motor, with the current, the limit, the dip and the torque that is left', () => {
    const plant = bad(check);
    const found = theFinding(plant, code);
    expect(lineAt(plant, found.place)).toContain('motor_start = 110 kW');
    const kept = 1 - worst(plant, 'K1.motor_start_dip').value;
    for (const name of ['motor_start_current', 'short_time_current', 'motor_start_dip'])
      expect(found.message).toContain(worst(plant, `K1.${name}`).display);
    expect(found.message).toContain(`${(100 * kept * kept).toPrecision(4)} % of its starting torque is left`);
  });

  it('draws its shaft power over efficiency and power factor, times the ratio', () => {
    const plant = sound(
      forming(
        'motor_start = 15 kW, motor_efficiency = 90 %, motor_power_factor = 0.8, start_current_ratio = 7, start_power_factor = 0.3',
      ),
    );
    // Through 400/360, and what the filter and the magnetising current make of it: within a twentieth.
    const line = (7 * 15e3) / 0.9 / 0.8 / Math.sqrt(3) / 400;
    expect(worst(plant, 'K1.motor_start_current').value / ((line * 400) / 360)).toBeGreaterThan(0.7);
    expect(worst(plant, 'K1.motor_start_current').value / ((line * 400) / 360)).toBeLessThan(1.05);
  });

  it('may use an overload that lasts as long as the start', () => {
    const limit = (words: string, time: string): number =>
      worst(sound(forming(`motor_start = 15 kW, start_time = ${time}`), overload(words)), 'K1.short_time_current')
        .value;
    const rated = worst(sound(), 'K1.rated_current').value;
    expect(limit('150 % for 60 s every 600 s', '8 s')).toBeCloseTo(1.5 * rated, 9);
    expect(limit('150 % for 4 s every 600 s', '8 s')).toBeCloseTo(rated, 9);
  });

  it('may use the overload of a duty class that lasts as long as the start, unless one is stated', () => {
    const ofClass = (name: string, time: string, more = ''): number => {
      const facts = ['ac_current = 850 A', `ac_current = 850 A\n  overload_class = ${name}${more}`] as const;
      return worst(sound(forming(`motor_start = 15 kW, start_time = ${time}`), facts), 'K1.short_time_current').value;
    };
    // IEC 60146-1-1, from memory: I nothing; II 150 % for 60 s; III 150 % for 120 s, 200 % for 10 s.
    expect(ofClass('I', '1 s')).toBeCloseTo(850, 9);
    expect([ofClass('II', '60 s'), ofClass('II', '61 s')]).toEqual([1275, 850]);
    expect([ofClass('III', '8 s'), ofClass('III', '10 s')]).toEqual([1700, 1700]);
    expect([ofClass('III', '11 s'), ofClass('III', '121 s')]).toEqual([1275, 850]);
    expect(ofClass('III', '8 s', ', overload = 120 % for 60 s every 600 s')).toBeCloseTo(1020, 9);
    expect(ofClass('III', '8 s', ', overload = 300 % for 4 s every 600 s')).toBeCloseTo(850, 9);
  });

  it('that a duty class covers is silent, and one that it does not cover names it', () => {
    const start = forming('motor_start = 80 kW');
    const inClass = (name: string) => ['ac_current = 850 A', `ac_current = 850 A\n  overload_class = ${name}`] as const;
    expect(theFinding(sound(start), code).message).toContain('where it can carry 850 A');
    const rule = ['transformer_spare = 5 %', 'transformer_spare = 5 %, voltage_dip = 20 %'] as const;
    expect(findingsOf(sound(start, inClass('III'), rule), code)).toEqual([]);
    expect(told(sound(start, inClass('I')), code).related).toContainEqual([
      'overload_class = I',
      'The overload of the converter.',
    ]);
  });

  it('at the limit is a warning as long as the dip is shallow enough, an error beyond', () => {
    const rule = (share: string) =>
      ['transformer_spare = 5 %', `transformer_spare = 5 %, voltage_dip = ${share}`] as const;
    const start = forming('motor_start = 80 kW');
    const { value } = worst(sound(start), 'K1.motor_start_dip');
    const percent = (share: number): string => `${(100 * share).toFixed(6)} %`;
    expect(worst(sound(start), 'K1.motor_start_current').value).toBeGreaterThan(
      worst(sound(), 'K1.rated_current').value,
    );
    expect(theFinding(sound(start, rule(percent(value * 1.001))), code).severity).toBe('warning');
    expect(theFinding(sound(start, rule(percent(value * 0.999))), code).severity).toBe('error');
  });

  it('takes voltage as well: a soft starter takes less', () => {
    const reserve = (facts: string): number => worst(sound(forming(facts)), 'K1.motor_start_reserve').value;
    expect(reserve('motor_start = 60 kW, start_current_ratio = 3.5')).toBeGreaterThan(reserve('motor_start = 60 kW'));
  });

  it('is not judged while a network holds the voltage', () => {
    expect(findingsOf(sound(['power_factor = 0.95 }', 'power_factor = 0.95, motor_start = 900 kW }']), code)).toEqual(
      [],
    );
  });
});

describe('what it says', () => {
  const rule = (share: string) =>
    ['transformer_spare = 5 %', `transformer_spare = 5 %, voltage_dip = ${share}`] as const;

  it('of a start within the current: the dip of the way, with what is stated beside it', () => {
    const plant = sound(
      forming('motor_start = 60 kW, start_current_ratio = 4'),
      rule('1 %'),
      overload('150 % for 60 s every 600 s'),
    );
    const { value, display } = worst(plant, 'K1.motor_start_dip');
    expect(told(plant, code)).toEqual({
      message: `Starting a motor of 60 kW, which draws 4 times its rated current, K1 can carry its ${worst(plant, 'K1.motor_start_current').display}, but over filter, transformer and cables the voltage dips by ${display}, more than the 1 % allowed during start_peak; ${(100 * (1 - value) ** 2).toPrecision(4)} % of its starting torque is left.`,
      at: 'motor_start = 60 kW',
      related: [
        ['start_current_ratio = 4', 'The current that it draws at standstill.'],
        ['overload = 150 % for 60 s every 600 s', 'The overload of the converter.'],
        ['ac_current = 850 A', 'The rating of the converter.'],
      ],
      limit: '1 %',
      fixes: [],
    });
  });

  it('of a start at the limit whose dip the practice allows: that it is within', () => {
    const plant = sound(forming('motor_start = 80 kW'), rule('60 %'));
    expect(told(plant, code).message).toMatch(
      / K1 needs 972\.\d A where it can carry 850 A: at that limit the voltage dips by 17\.\d* %, within the 60 % allowed /,
    );
    expect(theFinding(plant, code).limit).toEqual({ name: 'K1.short_time_current', number: 850, display: '850 A' });
  });
});

describe('of several cases', () => {
  const caseOf = (...cases: readonly string[]) =>
    theFinding(
      sound(
        forming('motor_start = 110 kW'),
        ['ac_current = 850 A', 'ac_current = 1600 A'],
        ['require T1.loading <= 95 %', cases.join('\n')],
      ),
      code,
    ).point?.case;

  it('the start that is furthest beyond its own limit is told', () => {
    const large = 'case large { start_peak.motor_start = 180 kW }';
    const larger = 'case larger { start_peak.motor_start = 200 kW }';
    expect(caseOf(large, larger)).toBe('larger');
    expect(caseOf(larger, large)).toBe('larger');
    expect(caseOf(larger, 'case narrow { start_peak.motor_start = 190 kW\n  K1.ac_current = 900 A }')).toBe('narrow');
  });
});

describe('what is left out', () => {
  const open = (...edits: readonly Edit[]) =>
    sound(...edits).analysis.notChecked.filter(words => /motor starts/.test(words));

  it('is the start of a motor on an island that states none in any case', () => {
    const said = 'motor starts during start_peak, for which no `motor_start` is stated';
    expect(open(forming('load_step = 5 kW'))).toEqual([said]);
    expect(open(forming('motor_start = 5 kW'))).toEqual([]);
    expect(open()).toEqual([]);
    const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
    expect(open(cases('case usual { B1.state_of_health = 90 % }\ncase away { start_peak.mode = forming }'))).toEqual([
      said,
    ]);
    expect(open(forming('load_step = 5 kW'), cases('case hard { start_peak.motor_start = 9 kW }'))).toEqual([]);
  });
});
