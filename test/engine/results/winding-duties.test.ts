// The window of the winding voltage over several duties: what each leaves alone, and what is left of that together.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { type Analysed, analysed, edited, worst } from '../../kit/plants.ts';

const duties = [
  'discharge = 400 kW for 45 min, power_factor = 0.95',
  'discharge = 400 kW for 45 min, power_factor = 0.8 absorbing',
  'discharge = 250 kW for 45 min, power_factor = 0.7',
  'discharge = 430 kW for 20 min, soc = 40 % .. 90 %',
  'charge = 250 kW for 90 s every 15 min',
  'discharge = 300 kW for 10 min, reactive = 200 kvar, at = T1',
  'charge = 120 kW, power_factor = 0.9 delivering',
];

const [head = ''] = soundExample.split('duty start_peak');

function plantWith(asked: readonly string[], winding: number): Analysed {
  const text = edited(head, ['secondary_voltage = 360 V', `secondary_voltage = ${winding} V`]);
  return analysed(`${text}${asked.map((words, index) => `duty d${index} { ${words} }`).join('\n')}\n`);
}

/** The second takes less power and leaves less: by its power factor alone. */
const close = [
  'discharge = 400 kW for 45 min, power_factor = 0.95 delivering',
  'discharge = 395 kW for 45 min, power_factor = 0.92 delivering',
];

// Below, inside and above the windows, and between the bounds of two duties: bounds are sought in both ways.
describe.each([300, 324, 360, 408, 420])('a stated winding of %i V', winding => {
  it.each([
    ['winding_max_load', Math.min, duties],
    ['winding_min_current', Math.max, duties],
    ['winding_max_load', Math.min, close],
    ['winding_min_current', Math.max, close],
  ] as const)('%s is that of the duty that leaves least', (name, most, asked) => {
    const alone = asked.map(words => worst(plantWith([words], winding), `T1.${name}`).value);
    expect(new Set(alone.map(Math.round)).size).toBe(asked.length);
    for (const order of [asked, asked.toReversed()])
      expect(worst(plantWith(order, winding), `T1.${name}`).value / most(...alone)).toBeCloseTo(1, 9);
  });
});

it('knows no lower end by current where no duty asks for power', () => {
  expect(plantWith([], 360).analysis.values.worst('T1.winding_min_current')?.value).toBeUndefined();
});
