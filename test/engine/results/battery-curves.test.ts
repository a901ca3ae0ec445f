// Battery data that vary: resistance over charge and temperature, capacity by rate.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { complaints, findingsOf, worst } from '../../kit/plants.ts';

const oneAxis = 'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }';
const twoAxes = `resistance = curve soc, temperature {
    columns 0 °C, 25 °C
    10 %  0.28 Ω, 0.14 Ω
    90 %  0.20 Ω, 0.10 Ω
  }`;

describe('a resistance over charge and temperature', () => {
  it('is bilinear, at the temperature of the cells', () => {
    const plant = sound([oneAxis, twoAxes]);
    // 20 °C lies four fifths of the way from 0 °C to 25 °C: 0.28 − 0.8·0.14 = 0.168 Ω a string, four strings.
    expect(worst(plant, 'B1.inner_resistance').value).toBeCloseTo(0.168 / 4, 12);
    expect(complaints(plant)).toEqual([]);
  });

  it('may name its axes the other way round', () => {
    const turned = `resistance = curve temperature, soc {
    columns 10 %, 90 %
    0 °C   0.28 Ω, 0.20 Ω
    25 °C  0.14 Ω, 0.10 Ω
  }`;
    const value = (text: string) => worst(sound([oneAxis, text]), 'B1.discharge_time').value;
    expect(value(turned)).toBeCloseTo(value(twoAxes), 6);
  });

  it('says where it is asked beyond its ends, on either axis', () => {
    const cold = sound([oneAxis, twoAxes], ['temperature = 20 °C', 'temperature = 30 °C']);
    expect(findingsOf(cold, 'outside_curve').map(finding => finding.message)[0]).toContain('from 0 °C to 25 °C');
    const deep = sound([oneAxis, twoAxes], ['soc = 10 % .. 90 %', 'soc = 8 % .. 90 %']);
    expect(findingsOf(deep, 'outside_curve').map(finding => finding.message)[0]).toContain('asked at 8 %');
  });
});

describe('a capacity by rate', () => {
  const byRate = (text: string) => ['capacity = 280 Ah', `capacity = curve current { ${text} }`] as const;

  it('counts at about the current of the duty', () => {
    // 400 kW from about 730 V and four strings: some 140 A a string, where both curves give 200 Ah.
    const flat = worst(sound(['capacity = 280 Ah', 'capacity = 200 Ah']), 'B1.discharge_time').value;
    const rated = worst(
      sound(byRate('10 A 300 Ah, 120 A 200 Ah, 170 A 200 Ah, 300 A 120 Ah')),
      'B1.discharge_time',
    ).value;
    expect(rated).toBeCloseTo(flat, 3);
  });

  it('lasts shorter at a higher current', () => {
    const curve = byRate('10 A 300 Ah, 300 A 150 Ah');
    const time = (power: number) =>
      worst(sound(curve, ['discharge = 400 kW', `discharge = ${power} kW`]), 'B1.discharge_time').value * power;
    expect(time(200)).toBeGreaterThan(time(400) * 1.05);
  });

  it('says when no rate is stated for the current', () => {
    const plant = sound(byRate('10 A 300 Ah, 100 A 290 Ah'));
    expect(findingsOf(plant, 'outside_curve').map(finding => finding.message)[0]).toMatch(
      /`capacity` of B1 is stated for a current from 10 A to 100 A/,
    );
  });
});
