// Facts that contradict each other.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { impossibleValue as check } from '../../../engine/checks/impossible-value.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, lineAt, theFinding, told } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'impossible_value')).toEqual({
    message:
      'T1’s load loss of 58 kW alone is 11.6 % of its rating, more than its whole impedance of 5.4 %: one of the two is wrong.',
    at: 'load_loss = 58 kW',
    related: [['impedance = 6 % ± 10 %', 'The impedance.']],
    limit: undefined,
    fixes: [],
  });
});

describe('contradictions', () => {
  it('a load loss above the least impedance', () => {
    // 6 % less its tolerance of a tenth, of 500 kVA: 27 kW.
    const loss = (kilowatts: number) => ['load_loss = 5.8 kW', `load_loss = ${kilowatts} kW`] as const;
    expectLimit(code, [loss(26.99)], [loss(27.01)], 'error');
    const { message, place } = theFinding(bad(check), code);
    expect(message).toMatch(/58 kW alone is 11\.6 % of its rating, more than its whole impedance of 5\.4 %/);
    expect(lineAt(bad(check), place)).toBe('load_loss = 58 kW');
  });

  it('a no-load loss above the no-load current', () => {
    const loss = (kilowatts: number) => ['no_load_loss = 800 W', `no_load_loss = ${kilowatts} kW`] as const;
    expectLimit(code, [loss(4.99)], [loss(5.01)], 'error');
    expect(theFinding(sound(loss(8)), code).message).toMatch(/1\.6 % of its rating, more than .* 1 %/);
  });

  it('contactors that open inside the span of operation', () => {
    const lowest = (share: number) => ['lowest_connected = 0 %', `lowest_connected = ${share} %`] as const;
    expectLimit(code, [lowest(10)], [lowest(11)], 'error');
    const plant = sound(lowest(20));
    expect(theFinding(plant, code).message).toMatch(/20 %.*10 %/);
    expect(lineAt(plant, theFinding(plant, code).place)).toBe('lowest_connected = 20 %');
  });

  it('a duty that charges and discharges', () => {
    const plant = sound(['charge = 250 kW', 'discharge = 10 kW, charge = 250 kW']);
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', subject: 'braking' });
  });
});

describe('a trip on the DC side', () => {
  const trip = (volts: number): Edit => ['switching_frequency', `dc_trip = ${volts} V\n  switching_frequency`];

  it('may be set inside the span in which the converter could operate, but not at its bottom or below', () => {
    expect(findingsOf(sound(trip(849)), code)).toEqual([]);
    expect(findingsOf(sound(trip(551)), code)).toEqual([]);
    expect(told(sound(trip(550)), code)).toEqual({
      message: 'K1 is said to trip at 550 V, no higher than the DC voltage from which on it operates (550 V).',
      at: 'dc_trip = 550 V',
      related: [['dc_voltage = 550 V .. 850 V', 'The span.']],
      limit: undefined,
      fixes: [],
    });
    expect(theFinding(sound(trip(549)), code)).toMatchObject({ severity: 'error', subject: 'K1' });
  });

  it('is judged by the facts of each case', () => {
    const inCase = (text: string) => sound(trip(900), cases(text));
    expect(told(inCase('case odd { K1.dc_trip = 500 V }'), code).message).toMatch(
      /at 500 V in case odd, .* \(550 V\)\.$/,
    );
    expect(told(inCase('case odd { K1.dc_voltage = 920 V .. 950 V }'), code)).toMatchObject({
      message: expect.stringMatching(/at 900 V in case odd, .* \(920 V\)\.$/),
      related: [['K1.dc_voltage = 920 V .. 950 V', 'The span.']],
    });
  });
});

describe('a state of charge of its own that a duty states', () => {
  const own = (words: string) => ['power_factor = 0.95 }', `power_factor = 0.95, soc = ${words} }`] as const;
  const floor = (words: string) => ['lowest_connected = 0 %', `lowest_connected = ${words}`] as const;
  const outside = (words: string) => ({
    message: `start_peak is to hold over ${words} state of charge, but operation of B1 uses only 10 % to 90 %.`,
    related: [['soc = 10 % .. 90 %', 'The span of the battery.']],
    limit: undefined,
    fixes: [],
  });

  it('stays within the span of the battery, up to its ends', () => {
    expect(findingsOf(sound(own('10 % .. 90 %')), code)).toEqual([]);
    expect(findingsOf(sound(own('20 % .. 80 %')), code)).toEqual([]);
    expect(told(sound(own('9 % .. 90 %')), code)).toEqual({ ...outside('9 % to 90 %'), at: 'soc = 9 % .. 90 %' });
    expect(told(sound(own('10 % .. 91 %')), code)).toEqual({ ...outside('10 % to 91 %'), at: 'soc = 10 % .. 91 %' });
    expect(theFinding(sound(own('9 % .. 90 %')), code)).toMatchObject({ severity: 'error', subject: 'start_peak' });
  });

  it('begins no lower than its contactors open, be that stated as a state of charge or as a voltage', () => {
    const told5 = (lowest: string) => told(sound(own('5 % .. 90 %'), floor(lowest)), code);
    expect(told5('5 %')).toMatchObject(outside('5 % to 90 %'));
    expect(told5('8 %')).toEqual({
      message:
        'start_peak is to hold down to 5 % state of charge, but B1 has opened its contactors by then: it is connected down to 8 % only.',
      at: 'soc = 5 % .. 90 %',
      related: [['lowest_connected = 8 %', 'Below this its contactors are open.']],
      limit: undefined,
      fixes: [],
    });
    // From 0 % at 2.60 V to 10 % at 3.20 V a cell, 224 in series: 8 % rests at 224 · 3.08 V = 689.92 V, 5 % at 649.6 V.
    expect(told5('689.92 V').message).toMatch(/connected down to 8 % only\.$/);
    expect(told5('649.6 V')).toMatchObject(outside('5 % to 90 %'));
  });

  it('is judged by the facts of each case', () => {
    const inCase = (text: string, ...edits: readonly Edit[]) => sound(...edits, cases(text));
    expect(told(inCase('case odd { start_peak.soc = 5 % .. 50 % }'), code).message).toMatch(
      /over 5 % to 50 % state of charge in case odd, but .* 10 % to 90 %\.$/,
    );
    expect(told(inCase('case odd { B1.soc = 20 % .. 80 % }', own('10 % .. 80 %')), code)).toMatchObject({
      message:
        'start_peak is to hold over 10 % to 80 % state of charge in case odd, but operation of B1 uses only 20 % to 80 %.',
      related: [['B1.soc = 20 % .. 80 %', 'The span of the battery.']],
    });
    const wide = 'case wide { start_peak.soc = 5 % .. 90 %\n  B1.soc = 5 % .. 90 % }';
    expect(findingsOf(inCase(wide), code)).toEqual([]);
  });

  it('names of several batteries the one that it leaves furthest, of equal ones the first by name', () => {
    const block = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
    const second = (span: string, before: boolean): Edit => {
      const other = block.replace('B1', 'B0').replace('soc = 10 % .. 90 %', `soc = ${span}`);
      return [block, before ? `${other}${block}` : `${block}${other}`];
    };
    const both = [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      'connect MAIN -> T1 -> F1 -> K1 -> B1\nconnect K1 -> B0',
    ] as const;
    for (const before of [true, false]) {
      const named = (span: string) => told(sound(own('5 % .. 90 %'), second(span, before), both), code).message;
      expect(named('10 % .. 90 %')).toMatch(/of B0 uses only 10 % to 90 %\.$/);
      expect(named('8 % .. 90 %')).toMatch(/of B1 uses only 10 % to 90 %\.$/);
      expect(named('8 % .. 80 %')).toMatch(/of B0 uses only 8 % to 80 %\.$/);
    }
  });

  it('is no matter of a battery that nothing connects', () => {
    const spare = ['connect MAIN', 'battery B2 is B1 { soc = 40 % .. 60 % }\n\nconnect MAIN'] as const;
    expect(findingsOf(sound(own('20 % .. 80 %'), spare), code)).toEqual([]);
  });
});

const cases = (text: string) => ['require T1.loading <= 95 %', text] as const;

describe('what it says', () => {
  it.each([
    [
      'no_load_loss = 800 W',
      'no_load_loss = 8 kW\n  no_load_current = 1.5 %',
      'T1’s no-load loss is 1.6 % of its rating, more than its whole no-load current of 1.5 %: one of the two is wrong.',
      'no_load_loss = 8 kW',
      [['no_load_current = 1.5 %', 'The no-load current.']],
    ],
    [
      'lowest_connected = 0 %',
      'lowest_connected = 20 %',
      'B1 is said to open its contactors at 20 %, inside the span that operation uses (down to 10 %).',
      'lowest_connected = 20 %',
      [['soc = 10 % .. 90 %', 'The span.']],
    ],
    [
      'charge = 250 kW',
      'discharge = 10 kW, charge = 250 kW',
      'braking states `discharge` and `charge`; a duty is one of them, and only the discharge is judged.',
      'charge = 250 kW for 90 s every 15 min',
      [['discharge = 10 kW', 'The other one.']],
    ],
    [
      'for 90 s every 15 min',
      ', duration = 10 min, repeat = 5 min',
      'braking lasts 10 min and is said to come again every 5 min, before it has ended; `repeat` counts from start to start.',
      'repeat = 5 min',
      [['duration = 10 min', 'How long it lasts.']],
    ],
    [
      'power_factor = 0.95',
      'power_factor = 0.95, reactive = 100 kvar',
      'start_peak states `reactive` and `power_factor`; each says what reactive power is asked for, and only `reactive` is judged.',
      'power_factor = 0.95',
      [['reactive = 100 kvar', 'The other one.']],
    ],
    [
      'ac_current = 850 A',
      'ac_current = 850 A\n  no_load_loss = 900 W, linear_loss = 8 V',
      'K1 states `no_load_loss` and `linear_loss`; each says what it loses without power, and only the parts of the loss are judged.',
      'no_load_loss = 900 W',
      [['linear_loss = 8 V', 'The other one.']],
    ],
    [
      'switching_frequency = 4 kHz',
      'switching_frequency = 50 Hz',
      'K1 is said to switch at 50 Hz, no faster than the 50 Hz of its network: so it can’t form a voltage of that frequency.',
      'switching_frequency = 50 Hz',
      [['frequency = 50 Hz ± 1 %', 'The network’s frequency.']],
    ],
  ])('of %s', (from, to, message, at, related) => {
    expect(told(sound([from, to]), code)).toEqual({ message, at, related, limit: undefined, fixes: [] });
    expect(theFinding(sound([from, to]), code).severity).toBe('error');
  });

  it.each([
    ['T1.load_loss = 58 kW', / impedance of 5\.4 % in case odd: one/],
    ['T1.no_load_loss = 8 kW', / no-load current of 1 % in case odd: one/],
    ['B1.lowest_connected = 20 %', / \(down to 10 %\) in case odd\.$/],
    ['B1.soc = 5 % .. 90 %', / at 8 %, .* \(down to 5 %\) in case odd\.$/],
    ['braking.discharge = 10 kW', /`charge` in case odd; a duty/],
    ['K1.switching_frequency = 40 Hz', /at 40 Hz in case odd, no faster/],
    ['start_peak.repeat = 40 min', /every 40 min in case odd, before/],
  ])('of a case: %s', (fact, message) => {
    const early = ['lowest_connected = 0 %', 'lowest_connected = 8 %'] as const;
    const plant = sound(
      early,
      cases(`case usual { B1.state_of_health = 90 % }\ncase odd { ${fact} }\ncase odder { ${fact} }`),
    );
    expect(told(plant, code).message).toMatch(message);
    expect(findingsOf(sound(early), code)).toEqual([]);
  });

  it('of a power factor in a case that the reactive power of the base rules out, and not the other way round', () => {
    const reactive = ['power_factor = 0.95', 'reactive = 100 kvar'] as const;
    const plant = sound(reactive, cases('case odd { start_peak.power_factor = 0.9 }'));
    expect(told(plant, code).message).toContain('states `reactive` and `power_factor` in case odd; each');
    expect(findingsOf(sound(cases('case other { start_peak.reactive = 90 kvar }')), code)).toEqual([]);
  });

  it('of a loss without power in a case whose base states parts of the loss, and not the other way round', () => {
    const stating = (facts: string) => ['ac_current = 850 A', `ac_current = 850 A\n  ${facts}`] as const;
    const plant = sound(stating('fixed_loss = 900 W'), cases('case odd { K1.no_load_loss = 1 kW }'));
    expect(told(plant, code).message).toContain('states `no_load_loss` and `fixed_loss` in case odd; each');
    expect(told(plant, code).related).toEqual([['fixed_loss = 900 W', 'The other one.']]);
    const replaced = sound(stating('no_load_loss = 1 kW'), cases('case odd { K1.fixed_loss = 900 W }'));
    expect(findingsOf(replaced, code)).toEqual([]);
    const both = cases('case odd { K1.fixed_loss = 900 W\n  K1.no_load_loss = 1 kW }');
    expect(told(sound(stating('no_load_loss = 1 kW'), both), code).related).toEqual([
      ['K1.fixed_loss = 900 W', 'The other one.'],
    ]);
  });

  it('nothing of contactors that open at a voltage, and of a duty that comes again as soon as it ends', () => {
    expect(findingsOf(sound(['lowest_connected = 0 %', 'lowest_connected = 600 V']), code)).toEqual([]);
    expect(findingsOf(sound(['for 90 s every 15 min', ', duration = 5 min, repeat = 5 min']), code)).toEqual([]);
  });
});
