// Surroundings hotter than the converter’s rating, or colder than the battery’s data and every case.
import { describe, expect, it } from 'vitest';
import { ambientRange as check } from '../../../engine/checks/ambient-range.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, findingsOf, lineAt, textAt, theFinding } from '../../kit/plants.ts';

const { code } = check;
const ambient = (low: number, high: number) =>
  ['ambient = 5 °C .. 40 °C', `ambient = ${low} °C .. ${high} °C`] as const;

showsItself(check, { severity: 'warning' });

const roomy = ['rated_power = 500 kVA', 'rated_power = 630 kVA'] as const;

describe('the heat', () => {
  it('is a warning above 40 °C where the converter states no derating', () => {
    expectLimit(code, [ambient(5, 40)], [ambient(5, 41)], 'warning');
    // The transformer feels the heat as well: one with room to spare.
    const plant = sound(ambient(5, 50), roomy);
    expect(complaintCodes(plant)).toEqual([`warning ${code}`]);
    const { message, place, limit, related, subject } = theFinding(plant, code);
    expect(message).toBe(
      'The surroundings reach 50 °C, above the 40 °C to which converters are usually rated, and K1 states no `ambient_derating`: its rating there is unknown, and is taken as at 40 °C.',
    );
    expect(subject).toBe('K1');
    expect(limit).toMatchObject({ display: '40 °C' });
    expect(limit!.number).toBeCloseTo(313.15, 9);
    expect(related.map(({ place }) => lineAt(plant, place))).toEqual(['converter K1 {']);
    expect(lineAt(plant, place)).toBe('ambient = 5 °C .. 50 °C');
  });

  it('is counted where it does', () => {
    const derating = [
      'ac_current = 850 A',
      'ac_current = 950 A\n  ambient_derating = curve temperature { 40 °C 100 %, 50 °C 85 % }',
    ] as const;
    expect(complaintCodes(sound(ambient(5, 50), derating, roomy))).toEqual([]);
  });
});

describe('the cold', () => {
  it('is a warning below the battery’s data as long as no case judges such cells', () => {
    expectLimit(code, [ambient(0, 40)], [ambient(-1, 40)], 'warning');
    const { message, limit, place, related, subject } = theFinding(bad(check), code);
    expect(message).toMatch(
      /^The surroundings go down to -20 °C, but B1’s `charge_current` is stated from 0 °C on only, and the coldest cells that any case judges are at 20 °C: say/,
    );
    expect(subject).toBe('B1');
    expect(limit).toMatchObject({ display: '0 °C' });
    expect(lineAt(bad(check), place)).toBe('ambient = -20 °C .. 40 °C');
    expect(related.map(({ place }) => textAt(bad(check), place).split(' ')[0])).toEqual(['charge_current']);
    const judged = bad(check, ['require T1.loading <= 95 %', 'case frost { B1.temperature = -20 °C }']);
    expect(findingsOf(judged, code)).toEqual([]);
    expect(theFinding(judged, 'battery_current').message).toContain('in case frost');
  });

  const inCase = (temperature: string) =>
    ['require T1.loading <= 95 %', `case winter { B1.temperature = ${temperature} }`] as const;

  it('is answered by a case that says how cold kept-warm cells get', () => {
    expect(findingsOf(bad(check, inCase('5 °C')), code)).toEqual([]);
    expect(findingsOf(bad(check, inCase('0 °C')), code)).toEqual([]);
  });

  it('is not answered by a case that is no colder, nor by one that is outside the data and still not cold enough', () => {
    expect(findingsOf(bad(check, inCase('20 °C')), code)).toHaveLength(1);
    expect(findingsOf(bad(check, inCase('25 °C')), code)).toHaveLength(1);
    expect(theFinding(bad(check, inCase('-5 °C')), code).message).toContain('that any case judges are at -5 °C');
  });

  it('is seen in whichever data of the battery run over temperature', () => {
    const steady = [
      'charge_current = curve temperature { 0 °C 0 A, 10 °C 70 A, 25 °C 140 A, 45 °C 140 A }',
      'charge_current = 140 A',
    ] as const;
    const resistance = (text: string) =>
      [
        'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }',
        `resistance = ${text}`,
      ] as const;
    const said = (text: string) => findingsOf(bad(check, steady, resistance(text)), code).map(({ message }) => message);
    const from = (text: string) => [expect.stringContaining(`B1’s \`resistance\` is stated from ${text} on only`)];
    expect(said('curve temperature { 2 °C 0.2 Ω, 45 °C 0.12 Ω }')).toEqual(from('2 °C'));
    expect(said('curve soc, temperature { columns 3 °C, 25 °C\n 0 % 0.2 Ω, 0.14 Ω\n 100 % 0.2 Ω, 0.14 Ω }')).toEqual(
      from('3 °C'),
    );
    expect(said('curve temperature, soc { columns 0 %, 100 %\n 4 °C 0.2 Ω, 0.14 Ω\n 45 °C 0.2 Ω, 0.14 Ω }')).toEqual(
      from('4 °C'),
    );
    expect(said('curve soc { 0 % 0.2 Ω, 100 % 0.14 Ω }')).toEqual([]);
    expect(said('0.15 Ω')).toEqual([]);
    const discharge = [
      'discharge_current = 280 A',
      'discharge_current = curve temperature { 1 °C 100 A, 45 °C 280 A }',
    ] as const;
    expect(theFinding(bad(check, steady, discharge), code).message).toContain(
      'B1’s `discharge_current` is stated from 1 °C on only',
    );
  });
});
