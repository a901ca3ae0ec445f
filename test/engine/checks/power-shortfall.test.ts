// Power that no current delivers, and battery voltage beyond its limits, charging and discharging.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { powerShortfall as check } from '../../../engine/checks/power-shortfall.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, lineAt, textAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;
const stiff = 'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }';
const limits = (least: number, greatest: number) =>
  ['voltage_limits = 2.80 V .. 3.60 V per cell', `voltage_limits = ${least} V .. ${greatest} V per string`] as const;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'power_shortfall')).toEqual({
    message:
      'No current delivers what start_peak asks of B1: at the end of its span it gives at most 129.9 kW, where half of its voltage drops over its own resistance.',
    at: 'discharge = 400 kW for 45 min',
    related: [['resistance = curve temperature { 0 °C 4 Ω, 45 °C 3.9 Ω }', 'The battery’s resistance.']],
    limit: '129.9 kW',
    fixes: [],
  });
});

describe('the largest power', () => {
  it('is a quarter of the voltage squared over the resistance', () => {
    // 3.9 Ω and 4 Ω between 0 °C and 45 °C, at 20 °C: 3.9556 Ω a string, four in parallel; 716.8 V at rest at 10 %.
    const resistance = (4 - (0.1 * 20) / 45) / 4;
    const largest = 716.8 ** 2 / (4 * resistance);
    const { limit, message, place } = theFinding(bad(check), code);
    expect(limit!.number / largest).toBeCloseTo(1, 6);
    expect(message).toContain(limit!.display);
    expect(lineAt(bad(check), place)).toContain('discharge = 400 kW');
  });

  it('of the network’s way is said too', () => {
    const plant = sound(
      ['discharge = 400 kW for 45 min, power_factor = 0.95', 'discharge = 4 MW, at = K1'],
      ['require T1.loading <= 95 %\n', ''],
    );
    expect(theFinding(plant, code).message).toMatch(/way between the network and K1 can’t carry .* at most [\d.]+ MW/);
  });

  it('names the case', () => {
    const plant = sound(['require T1.loading <= 95 %', 'case frozen { B1.resistance = 20 * B1.resistance }']);
    const found = findingsOf(plant, code).filter(({ message }) => message.startsWith('No current'));
    expect(found.map(({ point }) => point?.case)).toEqual(['frozen']);
    expect(found[0]!.message).toContain('in case frozen');
  });

  it('is enough on the sound plant, by far', () => {
    expect(findingsOf(sound([stiff, 'resistance = curve temperature { 0 °C 0.5 Ω, 45 °C 0.5 Ω }']), code)).toEqual([]);
  });
});

describe('the battery’s voltage under load', () => {
  const { value: highest } = worst(sound(), 'B1.voltage_max');
  const { value: lowest } = worst(sound(), 'B1.voltage_min');

  it('must stay below its limit up to the top of a charge', () => {
    expectLimit(code, [limits(600, highest + 0.1)], [limits(600, highest - 0.1)], 'error');
    const plant = sound(limits(600, 755));
    const { message, place, related, limit } = theFinding(plant, code);
    expect(limit).toMatchObject({ name: 'B1.voltage_limit', number: 755 });
    expect(message).toContain(worst(plant, 'B1.voltage_max').display);
    expect(message).toContain('755 V');
    expect(lineAt(plant, place)).toContain('charge = 250 kW');
    expect(related.map(({ place }) => textAt(plant, place).split(' ')[0])).toEqual(['voltage_limits', 'soc']);
  });

  it.each([
    ['greatest_voltage', limits(600, 800), 755, 'charge = 250 kW'],
    ['least_voltage', limits(600, 800), 700, 'discharge = 400 kW'],
  ])('is held against %s too, which is named', (property, wide, volts, power) => {
    const curve = `${property} = curve temperature { 0 °C ${volts} V, 45 °C ${volts} V }`;
    const plant = sound([wide[0], `${wide[1]}\n  ${curve}`]);
    const { place, related } = theFinding(plant, code);
    expect(lineAt(plant, place)).toContain(power);
    expect(related.map(({ place }) => textAt(plant, place))).toContain(curve);
  });

  it('must stay above its limit down to the bottom of a discharge', () => {
    expectLimit(code, [limits(lowest - 0.1, 800)], [limits(lowest + 0.1, 800)], 'error');
    const plant = sound(limits(700, 800));
    const { message, place } = theFinding(plant, code);
    expect(message).toContain(worst(plant, 'B1.voltage_min').display);
    expect(message).toContain('700 V');
    expect(lineAt(plant, place)).toContain('discharge = 400 kW');
  });
});

const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];

describe('what must hold with something lost', () => {
  const losing = (what: string): Edit => ['power_factor = 0.95 }', `power_factor = 0.95, lost = ${what} }`];
  const single: Edit = ['  strings = 4\n', '  strings = 1\n'];

  it('needs another string', () => {
    expect(told(sound(losing('string'), single, cases('')), code)).toEqual({
      message: 'start_peak must hold with one string lost, but B1 has only one: 0 strings are left to carry it.',
      at: 'lost = string',
      related: [['strings = 1', 'Number of strings.']],
      limit: undefined,
      fixes: [],
    });
    expect(findingsOf(sound(losing('string'), ['  strings = 4\n', '  strings = 2\n']), code).join()).not.toContain(
      'lost',
    );
    expect(theFinding(sound(losing('string'), single, cases('')), code).severity).toBe('error');
    const worn = sound(cases('case worn { B1.strings = 1, start_peak.lost = string }'));
    expect(told(worn, code)).toMatchObject({
      message: expect.stringContaining('but B1 has only one in case worn: 0 strings'),
      at: 'start_peak.lost = string',
    });
  });

  it('needs another converter', () => {
    expect(told(sound(losing('unit'), cases('')), code)).toEqual({
      message: 'start_peak must hold with one unit lost, but K1 is the only converter: 0 units are left to carry it.',
      at: 'lost = unit',
      related: [],
      limit: undefined,
      fixes: [],
    });
    expect(theFinding(sound(losing('unit'), cases('')), code).severity).toBe('error');
    const gone = sound(cases('case gone { start_peak.lost = unit }'));
    expect(told(gone, code)).toMatchObject({
      message: expect.stringContaining('K1 is the only converter in case gone: 0 units'),
      at: 'start_peak.lost = unit',
    });
    expect(findingsOf(sound(losing('none')), code)).toEqual([]);
  });

  it('is looked at with the largest converter lost: of units that are not alike, the others are left unchecked', () => {
    const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
    const blocks = [...soundExample.matchAll(/^(filter|converter|battery) ([A-Z])1 (\{\n[\s\S]*?\n\})$/gm)];
    const open = (what: string, ...[from, to]: readonly string[]) => {
      const second = blocks.map(([, kind, letter, facts]) => `${kind} ${letter}2 ${facts}\n`).join('\n');
      const beside = `${chain.replace('T1', 'T1 -> N')}\nconnect N -> F2 -> K2 -> B2`;
      const unlike = from === undefined ? second : second.replace(from, to!);
      return sound(losing(what), [chain, `bus N { }\n${unlike}\n${beside}`]).analysis.notChecked.join('\n');
    };
    const words = 'start_peak with K2 lost instead of K1: the largest converter alone is taken out';
    expect(open('unit', 'strings = 4', 'strings = 2')).toContain(words);
    expect(open('unit', 'ac_current = 850 A', 'ac_current = 1200 A')).toContain('with K1 lost instead of K2:');
    expect(open('unit')).not.toContain('instead of');
    expect(open('string', 'strings = 4', 'strings = 2')).not.toContain('instead of');
  });
});

describe('what it says of power that nothing delivers', () => {
  it('is the way, for a charge too, and the point', () => {
    const plant = sound(['charge = 250 kW', 'charge = 40 MW, at = K1']);
    const { message, at, limit } = told(plant, code);
    expect(message).toBe(`The way between the network and K1 can’t carry what braking asks: at most ${limit}.`);
    expect(at).toBe('charge = 40 MW');
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', point: { duty: 'braking', case: undefined } });
    expect(theFinding(plant, code).limit!.number).toBeGreaterThan(0);
  });

  it('is the least of what any point can carry, told once for all cases', () => {
    const plant = bad(
      check,
      cases('case frozen { B1.resistance = 2 * B1.resistance }\ncase usual { B1.state_of_health = 90 % }'),
    );
    // The base case comes first: of it alone.
    expect(theFinding(plant, code).message).not.toContain('in case');
  });
});

describe('what it says of the limits of a battery', () => {
  it('of a charge: voltage, limit, where the taper begins, and where the limit stands', () => {
    const plant = sound(
      ['charge = 250 kW for 90 s every 15 min', 'charge = 250 kW for 4 h'],
      ['2.80 V .. 3.60 V per cell', '2.80 V .. 3.38 V per cell'],
    );
    const end = show(worst(plant, 'B1.full_power_end').value, dimensions.ratio);
    expect(told(plant, code)).toEqual({
      message: `B1 would have to stand at ${worst(plant, 'B1.voltage_max').display} to take the power, above its limit of 757.1 V during braking, at the highest network voltage, at 90 % state of charge: the charge tapers off before, at ${end} state of charge, and the power is not there up to the top of the span.`,
      at: 'charge = 250 kW for 4 h',
      related: [
        ['voltage_limits = 2.80 V .. 3.38 V per cell', 'The battery’s limits.'],
        ['soc = 10 % .. 90 %', 'The top of this span counts.'],
      ],
      limit: '757.1 V',
      fixes: [],
    });
    expect(theFinding(plant, code).value).toMatchObject({ name: 'B1.voltage_max' });
  });

  it('of a discharge: the same the other way round', () => {
    const plant = sound(
      ['discharge = 400 kW for 45 min', 'discharge = 400 kW'],
      ['2.80 V .. 3.60 V per cell', '3.10 V .. 3.60 V per cell'],
      [
        'soc = 10 % .. 90 %',
        'soc = 10 % .. 90 %\n  least_voltage = curve temperature per cell { 0 °C 3.10 V, 45 °C 3.10 V }',
      ],
    );
    const { message, related, limit } = told(plant, code);
    expect(message).toMatch(
      /^B1 sags to 692\.\d V under the power asked for, below its limit of 694\.4 V during start_peak, .*: the discharge ends before, at 14\.\d* % state of charge, and the power is not there down to the bottom of the span\.$/,
    );
    expect(limit).toBe('694.4 V');
    expect(related.map(([, words]) => words)).toEqual([
      'The battery’s limits.',
      'The limit as it varies.',
      'The bottom of this span counts.',
    ]);
  });
});
