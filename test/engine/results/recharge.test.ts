// Filling the battery: taper, what stops it short of the top, and charge duties.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { findingsOf, theFinding, worst } from '../../kit/plants.ts';

const start = 'discharge = 400 kW for 45 min';
const greatest = (volts: number) => ['2.80 V .. 3.60 V', `2.80 V .. ${volts} V`] as const;
const row = (plant: ReturnType<typeof sound>, name: string) => plant.analysis.values.worst(`B1.${name}`)!;

describe('the taper', () => {
  it('begins where rest voltage and drop meet the greatest voltage', () => {
    // 116.67 A a string over 0.165 Ω drop 19.25 V, 0.08594 V a cell: the battery then rests at 3.30406 V a cell,
    // between 3.29 V at 50 % and 3.34 V at 90 %.
    const plant = sound(greatest(3.39));
    const cell = 3.39 - ((70 + 70 / 1.5) * 0.165) / 224;
    expect(worst(plant, 'B1.taper_soc').value).toBeCloseTo(0.5 + (0.4 * (cell - 3.29)) / 0.05, 6);
    expect(row(sound(), 'taper_soc').value).toBeUndefined();
  });

  it('makes filling longer, and is named where it takes most of the time', () => {
    expect(row(sound(), 'recharge_time').limit?.name).toBe('charge_current');
    expect(worst(sound(greatest(3.39)), 'B1.recharge_time').value).toBeGreaterThan(
      worst(sound(), 'B1.recharge_time').value,
    );
    expect(row(sound(greatest(3.345)), 'recharge_time').limit?.name).toBe('greatest_voltage');
  });

  it('that ends below the top is an error for a duty that comes again', () => {
    const plant = sound(greatest(3.335), [start, `${start} every 12 h`]);
    const { message } = theFinding(plant, 'recharge_time');
    expect(message).toMatch(
      /comes back to 8\d\.\d+ % .* never to the 90 % .* bound by the greatest voltage of the battery/,
    );
    expect(findingsOf(sound(greatest(3.335)), 'recharge_time')).toEqual([]);
  });
});

describe('cold cells that take no charge', () => {
  it('never get full again', () => {
    const plant = sound(['temperature = 20 °C', 'temperature = 0 °C'], [start, `${start} every 12 h`]);
    expect(theFinding(plant, 'recharge_time').message).toMatch(/never to the 90 % .* bound by the charge current/);
  });
});

describe('a charge duty', () => {
  const charge = (words: string) => ['charge = 250 kW for 90 s every 15 min', words] as const;

  it('takes charge over power as long as the battery takes it', () => {
    const plant = sound(charge('charge = 100 kW'));
    expect(row(plant, 'charge_time').limit?.name).toBe('charging_power');
    expect(worst(plant, 'B1.full_power_end').value).toBeCloseTo(0.9, 9);
    // The energy at rest and the drop at about 33 A a string, over about 97 kW behind losses: within a tenth.
    const rest = worst(plant, 'B1.span_energy').value;
    expect(worst(plant, 'B1.charge_time').value / (rest / 97e3)).toBeCloseTo(1, 1);
  });

  it('says up to where its full power goes in, and what ends that', () => {
    const plant = sound(greatest(3.39));
    expect(row(plant, 'full_power_end').limit?.name).toBe('greatest_voltage');
    const { message } = theFinding(plant, 'power_shortfall');
    expect(message).toContain(
      `the charge tapers off before, at ${row(plant, 'full_power_end').display} state of charge`,
    );
  });
});

describe('the warranty', () => {
  const daily = ['for 45 min', 'for 45 min every 24 h'] as const;
  const stating = (words: string) => ['temperature = 20 °C', `temperature = 20 °C\n  ${words}`] as const;

  it('ends by whichever comes first', () => {
    const cycles = worst(sound(daily), 'B1.yearly_cycles').value;
    // 400 kW over 45 min, some 3 % lost on the way, out of 80 % of 4 · 280 Ah at about 736 V: almost half, each day.
    expect(cycles / 365).toBeCloseTo((300e3 * 1.03) / (0.8 * 1120 * 736), 2);
    const life = (words: string) => row(sound(daily, stating(words)), 'warranty_life');
    expect(life('warranty_cycles = 2000').value! / 31_536_000).toBeCloseTo(2000 / cycles, 6);
    expect(life('warranty_cycles = 2000').limit?.name).toBe('warranty_cycles');
    expect(life('warranty_cycles = 2000, warranty_time = 5 a').limit?.name).toBe('warranty_time');
    expect(life('throughput_warranty = 100 MWh, warranty_cycles = 2000').limit?.name).toBe('warranty_energy');
  });

  it('used up before its own years is a warning that says by what', () => {
    const said = (words: string) =>
      findingsOf(sound(daily, stating(words)), 'throughput').map(({ message }) => message);
    expect(said('warranty_cycles = 1000, warranty_time = 10 a')[0]).toMatch(
      /1000 full cycles.* less than its 10 years/,
    );
    expect(said('warranty_cycles = 1000, warranty_time = 5 a')).toEqual([]);
    expect(said('warranty_cycles = 1000')[0]).toContain('the customary 10 years');
  });
});
