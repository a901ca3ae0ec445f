// The current of the DC link's capacitors, as a plant has it.
import { describe, expect, test } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { analysed, type Edit, edited, valueAt, worst } from '../../kit/plants.ts';

test('follows the current, the index and the angle at the terminals, at every point', () => {
  const plant = analysed(soundExample);
  const rows = plant.analysis.values.all('K1.link_ripple_current').filter(({ value }) => value !== undefined);
  expect(rows.length).toBeGreaterThan(12);
  for (const { value, point } of rows) {
    // What the AC side alone decides has no state of charge.
    const { soc: _, ...onNetwork } = point;
    const at = (name: string): number => valueAt(plant, name, onNetwork);
    const index = valueAt(plant, 'K1.modulation_index', point);
    const current = at('K1.current');
    const cosPhi = at('K1.terminal_power') / (Math.sqrt(3) * at('K1.terminal_voltage') * current);
    const square = 2 * index * (Math.sqrt(3) / (4 * Math.PI) + cosPhi ** 2 * (Math.sqrt(3) / Math.PI - 0.5625 * index));
    expect(value).toBeCloseTo(current * Math.sqrt(square), 6);
  }
});

test('is about half to two thirds of the line current, and grows with it', () => {
  const ratio = (plant = analysed(soundExample)): number =>
    worst(plant, 'K1.link_ripple_current').value / worst(plant, 'K1.current').value;
  expect(ratio()).toBeGreaterThan(0.45);
  expect(ratio()).toBeLessThan(0.65);
  const weaker = analysed(edited(soundExample, ['discharge = 400 kW', 'discharge = 200 kW']));
  expect(worst(weaker, 'K1.link_ripple_current').value).toBeLessThan(
    worst(analysed(soundExample), 'K1.link_ripple_current').value,
  );
});

test('is unknown where no modulation makes the voltage that the duty needs', () => {
  const high = analysed(edited(soundExample, ['secondary_voltage = 360 V', 'secondary_voltage = 700 V']));
  const at = { duty: 'start_peak', voltage: 'high', direction: 'delivering', soc: 0.1 } as const;
  expect(valueAt(high, 'K1.modulation_index', at)).toBeGreaterThan(1.16);
  expect(() => valueAt(high, 'K1.link_ripple_current', at)).toThrow('is not known');
});

describe('the swing of the link’s voltage', () => {
  const capacitor = (farads: string): Edit => [
    'ac_current = 850 A',
    `ac_current = 850 A\n  dc_capacitance = ${farads}`,
  ];
  const swing = (...edits: readonly Edit[]): number =>
    worst(analysed(edited(soundExample, ...edits)), 'K1.link_voltage_ripple').value;

  test('halves with twice the capacitance, and grows with the current', () => {
    expect(swing(capacitor('24 mF'))).toBeCloseTo(swing(capacitor('12 mF')) / 2, 9);
    expect(swing(capacitor('12 mF'), ['discharge = 400 kW', 'discharge = 200 kW'])).toBeLessThan(
      swing(capacitor('12 mF')),
    );
  });

  // The mean current during the zero states, which last the shorter the higher the index, is most of it.
  test('is within what half a period of the mean current makes, and a fifth of it', () => {
    const plant = analysed(edited(soundExample, capacitor('12 mF')));
    const rows = plant.analysis.values.all('K1.link_voltage_ripple').filter(({ value }) => value !== undefined);
    expect(rows.length).toBeGreaterThan(12);
    for (const { value, point } of rows) {
      const { soc: _, ...onNetwork } = point;
      const mean =
        Math.abs(valueAt(plant, 'K1.terminal_power', onNetwork)) /
        ((Math.sqrt(8 / 3) * valueAt(plant, 'K1.terminal_voltage', onNetwork)) /
          valueAt(plant, 'K1.modulation_index', point));
      expect(value).toBeLessThan((1.1 * mean) / (2 * 4e3 * 12e-3));
      expect(value).toBeGreaterThan((0.2 * mean) / (2 * 4e3 * 12e-3));
    }
  });

  test('takes the modulation in effect: the sine where the star point is earthed', () => {
    const earthed: Edit = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  neutral = earthed'];
    const higher: Edit = ['cells_in_series = 224', 'cells_in_series = 245'];
    const wide: Edit = ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 950 V'];
    expect(swing(capacitor('12 mF'), higher, wide, earthed)).toBeGreaterThan(
      1.02 * swing(capacitor('12 mF'), higher, wide),
    );
  });

  test('is not known without a capacitance, and no longer said to be of no use with one', () => {
    expect(analysed(soundExample).analysis.values.worst('K1.link_voltage_ripple')?.value).toBeUndefined();
    expect(analysed(edited(soundExample, capacitor('12 mF'))).analysis.findings.map(({ code }) => code)).not.toContain(
      'not_evaluated',
    );
  });
});

test.each([
  ['K1.link_ripple_current', []],
  ['K1.link_voltage_ripple', ['K1.modulation_factor']],
])('%s is derived from the values that its formula names', (name, further) => {
  const withCapacitance: Edit = ['ac_current = 850 A', 'ac_current = 850 A\n  dc_capacitance = 12 mF'];
  const { values } = analysed(edited(soundExample, withCapacitance)).analysis;
  const { point } = values.worst(name)!;
  const inputs = values.explain({ name, point })!.inputs.filter(({ kind }) => kind === 'value');
  const named = ['K1.current', 'K1.terminal_voltage', 'K1.terminal_power', 'K1.modulation_index'];
  expect(inputs.map(input => input.name)).toEqual([...named, ...further]);
});
