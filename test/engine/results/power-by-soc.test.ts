// Power over the state of charge: each limit by its closed form, stretch by stretch, and in step with the other results.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import type { Edit } from '../../kit/plants.ts';
import { valueAt, worst } from '../../kit/plants.ts';

const row = (...edits: readonly Edit[]) => {
  const { analysis } = sound(...edits);
  const rows = analysis.values.all('B1.power_by_soc');
  return rows.find(
    ({ point }) => point.duty === 'start_peak' && point.voltage === 'low' && point.direction === 'delivering',
  )!;
};
const largeConverter = ['ac_current = 850 A', 'ac_current = 8500 A'] as const;
const lowDc = ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 100 V .. 850 V'] as const;
const winding = ['secondary_voltage = 360 V', 'secondary_voltage = 100 V'] as const;
const limits = ({ stretches }: ReturnType<typeof row>) => stretches.map(({ limit }) => limit.name);

/** Rest voltage of the example, V, and its resistance at 20 °C: half-way between 0.19 Ω and 0.14 Ω, four strings. */
const emf = (soc: number) => 224 * (soc <= 0.1 ? 2.6 + 6 * soc : soc <= 0.5 ? 3.2 + 0.225 * (soc - 0.1) : Number.NaN);
const ohms = 0.165 / 4;

describe('the limits, each by its closed form', () => {
  it('the discharge current of the strings: U·I', () => {
    const { stretches } = row(largeConverter, winding, lowDc);
    const held = stretches.find(({ limit }) => limit.name === 'discharge_current')!;
    const point = held.points.find(({ soc }) => Math.abs(soc - 0.5) < 1e-9)!;
    expect(point.value).toBeCloseTo(1120 * (emf(0.5) - 1120 * ohms), 3);
  });

  it('the least voltage of the battery: U_min·(E − U_min)/R', () => {
    const { stretches } = row(largeConverter, winding, lowDc, ['2.80 V .. 3.60 V', '3.00 V .. 3.60 V']);
    const held = stretches.find(({ limit }) => limit.name === 'least_voltage')!;
    const point = held.points.find(({ soc }) => Math.abs(soc - 0.075) < 1e-9)!;
    expect(point.value).toBeCloseTo((672 * (emf(0.075) - 672)) / ohms, 3);
  });

  it('collapse: E²/(4·R)', () => {
    const free = ['discharge_current = 280 A', 'discharge_current = 99 kA'] as const;
    const { stretches } = row(
      ['ac_current = 850 A', 'ac_current = 99 kA'],
      ['load_loss = 5.8 kW', 'load_loss = 58 W'],
      ['rated_power = 500 kVA', 'rated_power = 50 MVA'],
      winding,
      lowDc,
      free,
      ['  voltage_limits = 2.80 V .. 3.60 V per cell\n', ''],
      ['switching_frequency = 4 kHz', 'switching_frequency = 4 kHz\n  efficiency = 100 %'],
      ['converter_inductance = 100 µH', 'converter_inductance = 0.1 µH'],
    );
    const held = stretches.find(({ limit }) => limit.name === 'power_collapse')!;
    expect(held.points[0]!.value).toBeCloseTo(emf(held.points[0]!.soc) ** 2 / (4 * ohms), 2);
  });

  it('the lowest DC voltage of the converter: U·(E − U)/R', () => {
    const { stretches } = row(largeConverter, winding, ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 690 V .. 850 V']);
    const held = stretches.find(({ limit }) => limit.name === 'dc_voltage')!;
    const point = held.points.find(({ soc }) => Math.abs(soc - 0.1) < 1e-9)!;
    expect(point.value).toBeCloseTo((690 * (emf(0.1) - 690)) / ohms, 3);
  });

  it('the current of the converter: the power at which its loading is one', () => {
    const { stretches, value } = row();
    const held = stretches.find(({ limit }) => limit.name === 'converter_current')!;
    // The duty scaled until the converter carries just its rating: what its DC side then gives is all that passes.
    const at = { duty: 'start_peak', voltage: 'low', direction: 'delivering' } as const;
    let watts = 400e3;
    for (let round = 0; round < 4; round++)
      watts /= valueAt(sound(['discharge = 400 kW', `discharge = ${watts} W`]), 'K1.loading', at);
    const scaled = sound(['discharge = 400 kW', `discharge = ${watts} W`]);
    expect(valueAt(scaled, 'K1.loading', at)).toBeCloseTo(1, 6);
    expect(held.points[1]!.value / valueAt(scaled, 'K1.dc_power', at)).toBeCloseTo(1, 6);
    expect(value).toBeCloseTo(held.points[1]!.value, 6);
  });

  it('the voltage that the converter needs: in step with full_power_soc, which says the same the other way round', () => {
    const high = ['secondary_voltage = 360 V', 'secondary_voltage = 420 V'] as const;
    const plant = sound(high);
    const at = { duty: 'start_peak', voltage: 'high', direction: 'delivering' } as const;
    const soc = valueAt(plant, 'B1.full_power_soc', at);
    expect(
      plant.analysis.values
        .all('B1.full_power_soc')
        .find(({ point }) => point.duty === 'start_peak' && point.voltage === 'high')?.limit?.name,
    ).toBe('dc_voltage');
    const { stretches } = plant.analysis.values
      .all('B1.power_by_soc')
      .find(
        ({ point }) => point.duty === 'start_peak' && point.voltage === 'high' && point.direction === 'delivering',
      )!;
    const held = stretches.find(({ limit, from, to }) => limit.name === 'dc_voltage' && from <= soc && soc <= to)!;
    const after = held.points.findIndex(point => point.soc >= soc);
    const [a, b] = [held.points[after - 1]!, held.points[after]!];
    const power = a.value + ((b.value - a.value) * (soc - a.soc)) / (b.soc - a.soc);
    expect(power / valueAt(plant, 'K1.dc_power', at)).toBeCloseTo(1, 2);
  });
});

describe('the stretches', () => {
  it('cover the state of charge from end to end, each with its limit, and are named in order', () => {
    const { stretches } = row();
    expect(limits(row())).toEqual(['least_voltage', 'converter_current']);
    expect(stretches[0]!.from).toBe(0);
    expect(stretches.at(-1)!.to).toBe(1);
    for (const [index, stretch] of stretches.entries())
      if (index > 0) expect(stretch.from - stretches[index - 1]!.to).toBeLessThan(1e-9);
    expect(stretches[1]!.display).toMatch(/^\S+ % \.\. 100 %: 471\.\d kW, bound by the current of the converter$/);
  });

  it('of a charge name the charge current and the greatest voltage', () => {
    const plant = sound(['2.80 V .. 3.60 V', '2.80 V .. 3.36 V']);
    const charging = plant.analysis.values.all('B1.power_by_soc').find(({ point }) => point.duty === 'braking')!;
    expect(charging.stretches.map(({ limit }) => limit.name)).toContain('greatest_voltage');
    // At 90 % the battery rests at 3.34 V a cell: 0.02 V over the resistance is all that goes in.
    const held = charging.stretches.find(({ limit }) => limit.name === 'greatest_voltage')!;
    const point = held.points.find(({ soc }) => Math.abs(soc - 0.9) < 1e-9)!;
    expect(point.value).toBeCloseTo((224 * 3.36 * 224 * 0.02) / ohms, 3);
  });

  it('follow one string lost', () => {
    const whole = row(largeConverter, winding, lowDc);
    const lame = row(largeConverter, winding, lowDc, ['for 45 min', 'for 45 min, lost = string']);
    expect(lame.value! / whole.value!).toBeCloseTo(0.75, 9);
  });
});

it('behind a chopper ends at the same power as the converter in front of it, its loss on top', () => {
  const of = (plant: ReturnType<typeof withChopper>) =>
    plant.analysis.values
      .all('B1.power_by_soc')
      .find(({ point }) => point.duty === 'start_peak' && point.voltage === 'low' && point.direction === 'delivering')!;
  const held = of(withChopper()).stretches.find(({ limit }) => limit.name === 'converter_current')!;
  expect(held.points[1]!.value / row().value!).toBeCloseTo(1 / 0.98, 6);
  const low = withChopper(
    ['link_voltage = 750 V ± 1 %', 'link_voltage = 500 V ± 1 %'],
    ['high_side_voltage = 600', 'high_side_voltage = 450'],
  );
  expect(of(low).stretches.map(({ limit }) => limit.name)).toContain('dc_voltage');
});

it('the end of a discharge names what ends it', () => {
  const ends = (...edits: readonly Edit[]) =>
    sound(...edits).analysis.values.worst('B1.discharge_end_soc')?.limit?.name;
  expect(ends()).toBe('soc');
  expect(ends(['2.80 V .. 3.60 V', '3.15 V .. 3.60 V'])).toBe('least_voltage');
  expect(
    ends([
      'discharge_current = 280 A',
      'discharge_current = curve soc { 0 % 10 A, 40 % 140 A, 50 % 280 A, 100 % 280 A }',
    ]),
  ).toBe('discharge_current');
  expect(worst(sound(), 'B1.discharge_end_soc').value).toBeCloseTo(0.1, 9);
});
