// A temperature that changes nothing.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { temperatureIgnored as check } from '../../../engine/checks/temperature-ignored.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, lineAt, textAt, theFinding, told } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'note', numbers: 0 });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'temperature_ignored')).toEqual({
    message:
      'B1’s temperature is stated, but its `resistance` is one value for all temperatures: the cold, where resistance doubles and charging may be forbidden, is not judged.',
    at: 'temperature = 20 °C',
    related: [['resistance = 0.16 Ω', 'One value for all temperatures.']],
    limit: undefined,
    fixes: [],
  });
});

it('points at the temperature and shows the resistance', () => {
  const plant = bad(check);
  const { place, related } = theFinding(plant, code);
  expect(lineAt(plant, place)).toBe('temperature = 20 °C');
  expect(related.map(({ place }) => textAt(plant, place))).toEqual(['resistance = 0.16 Ω']);
});

it('keeps quiet where no temperature is stated, and where the resistance follows it', () => {
  expect(findingsOf(bad(check, ['  temperature = 20 °C\n', '']), code)).toEqual([]);
  expect(findingsOf(sound(), code)).toEqual([]);
});

it('speaks of a temperature that only a case states', () => {
  const plant = bad(
    check,
    ['  temperature = 20 °C\n', ''],
    ['require T1.loading <= 95 %', 'case winter { B1.temperature = 10 °C }'],
  );
  expect(lineAt(plant, theFinding(plant, code).place)).toBe('case winter { B1.temperature = 10 °C }');
});

describe('what does not depend on it', () => {
  const resistance = /resistance = curve temperature .*/.exec(soundExample)![0];
  const found = (line: string, ...edits: readonly Edit[]) => findingsOf(sound([resistance, line], ...edits), code);

  it('is a curve over the charge alone; over both, or with a growth, it does', () => {
    expect(found('resistance = curve soc { 0 % 0.2 Ω, 100 % 0.14 Ω }')).toHaveLength(1);
    const both =
      'resistance = curve soc, temperature { columns 0 °C, 45 °C\n 0 % 0.3 Ω, 0.2 Ω\n 100 % 0.2 Ω, 0.14 Ω\n }';
    expect(found(both)).toEqual([]);
    const one = 'resistance = 0.14 Ω';
    expect(found(`${one}\n  resistance_growth = curve temperature { 0 °C 200 %, 45 °C 85 % }`)).toEqual([]);
    expect(found(`${one}\n  chemistry = lfp`)).toEqual([]);
    expect(found('resistance = 5 V')).toEqual([]);
  });

  it('is told once, of the first case', () => {
    const plant = bad(check, ['require T1.loading <= 95 %', 'case winter { B1.temperature = 10 °C }']);
    expect(lineAt(plant, theFinding(plant, code).place)).toBe('temperature = 20 °C');
  });
});
