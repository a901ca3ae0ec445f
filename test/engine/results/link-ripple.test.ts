// The current of the DC link's capacitors, as a plant has it.
import { expect, test } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { analysed, edited, valueAt, worst } from '../../kit/plants.ts';

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
