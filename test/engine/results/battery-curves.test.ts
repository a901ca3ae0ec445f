// Battery data that vary: resistance over charge and temperature, capacity by rate.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { complaints, type Edit, findingsOf, valueAt, worst } from '../../kit/plants.ts';

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

describe('limits that vary', () => {
  const window = '  voltage_limits = 2.80 V .. 3.60 V per cell\n';
  const ends = (...words: readonly string[]) =>
    worst(sound([window, words.map(line => `  ${line}\n`).join('')]), 'B1.discharge_end_soc').value;
  const overTemperature = 'least_voltage = curve temperature per cell { 0 °C 2.90 V, 40 °C 3.20 V }';

  it('the least voltage, at the temperature of the cells', () => {
    // 20 °C lies half-way: 3.05 V a cell.
    expect(ends(overTemperature)).toBeCloseTo(ends('least_voltage = 3.05 V per cell'), 9);
    expect(ends('least_voltage = 3.15 V per cell')).toBeCloseTo(ends('voltage_limits = 3.15 V .. 3.60 V per cell'), 9);
    expect(ends('least_voltage = 3.15 V per cell')).toBeGreaterThan(0.1);
  });

  it('stands in place of its end of the window, and leaves the other', () => {
    const plant = sound([window, `${window}  least_voltage = 3.00 V per cell\n`]);
    expect(valueAt(plant, 'B1.voltage_limit', { duty: 'start_peak', soc: 0.1 })).toBeCloseTo(672, 9);
    expect(valueAt(plant, 'B1.voltage_limit', { duty: 'braking', soc: 0.9 })).toBeCloseTo(224 * 3.6, 9);
  });

  it('over both axes, bilinear, and power and findings follow', () => {
    const surface = `discharge_current = curve soc, temperature {
    columns 0 °C, 25 °C
    10 %   50 A, 150 A
    90 %  200 A, 300 A
  }`;
    const plant = sound(['discharge_current = 280 A', surface]);
    // 20 °C lies four fifths of the way: 130 A at 10 %, 280 A at 90 %.
    expect(valueAt(plant, 'B1.string_current_limit', { duty: 'start_peak', soc: 0.1 })).toBeCloseTo(130, 9);
    expect(valueAt(plant, 'B1.string_current_limit', { duty: 'start_peak', soc: 0.9 })).toBeCloseTo(280, 9);
    expect(findingsOf(plant, 'battery_current').map(({ message }) => message)[0]).toContain('130 A');
    expect(valueAt(plant, 'B1.available_power', { soc: 0.9 })).toBeCloseTo(
      4 * 280 * (224 * 3.34 - 4 * 280 * (0.165 / 4)),
      6,
    );
  });
});

describe('what can’t be', () => {
  const curve = /open_circuit_voltage = .*/.exec(sound().files.get('plant.plant')!)![0];
  const rest = (points: string) => [curve, `open_circuit_voltage = curve soc per cell { ${points} }`] as const;
  const said = (...edits: readonly Edit[]) =>
    findingsOf(sound(...edits), 'impossible_value').map(({ message }) => message);

  it('a voltage at rest that falls', () => {
    const message = said(rest('0 % 2.60 V, 10 % 3.30 V, 50 % 3.20 V, 100 % 3.40 V'))[0];
    expect(message).toContain('falls from 3.3 V at 10 % to 3.2 V at 50 %');
    expect(said(rest('0 % 2.60 V, 10 % 3.20 V, 50 % 3.20 V, 100 % 3.40 V'))).toEqual([]);
  });

  it('a state of charge beyond full or below empty, on any curve and either axis', () => {
    expect(said(rest('0 % 2.60 V, 50 % 3.20 V, 110 % 3.40 V'))[0]).toContain('there is nothing above 100 %');
    expect(said(rest('-10 % 2.60 V, 50 % 3.20 V, 100 % 3.40 V'))[0]).toContain('there is nothing below 0 %');
    const turned =
      'resistance = curve temperature, soc { columns 10 %, 120 %\n 0 °C 0.2 Ω, 0.1 Ω\n 25 °C 0.1 Ω, 0.1 Ω\n }';
    expect(said([oneAxis, turned])[0]).toContain('there is nothing above 100 %');
  });

  it('a duty that comes again before it has ended, however that is said', () => {
    const start = 'discharge = 400 kW for 45 min';
    expect(said([start, 'discharge = 400 kW for 5 min every 1 min'])[0]).toMatch(/lasts 5 min .* every 60 s/);
    expect(said([start, 'discharge = 400 kW, duration = 5 min, repeat = 1 min'])[0]).toMatch(/5 min .* every 60 s/);
    expect(said(['require T1.loading <= 95 %', 'case often { braking.repeat = 1 min }'])[0]).toMatch(
      /braking lasts 90 s .* every 60 s in case often/,
    );
    expect(said([start, 'discharge = 400 kW for 5 min every 5 min'])).toEqual([]);
    expect(said(['ac_current = 850 A', 'ac_current = 850 A\n  overload = 150 % for 60 s every 10 s'])[0]).toContain(
      'before it has ended',
    );
  });
});
