// The window of the winding voltage: each end, put into the text, leaves nothing of the margin that it stands for.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { type Analysed, analysed, type Edit, edited, valueAt, worst } from '../../kit/plants.ts';
import { starter } from '../../kit/starter.ts';

type Make = (...edits: readonly Edit[]) => Analysed;

function valleyStation(...edits: readonly Edit[]): Analysed {
  const files = new Map(starter('valley-station.plant'));
  files.set('valley-station.plant', edited(files.get('valley-station.plant')!, ...edits));
  return analysed(files, '2026-11-25');
}

const strongFilter: Make = (...edits) => sound(['capacitance = 300 µF', 'capacitance = 2500 µF'], ...edits);
const sine: Make = (...edits) => sound(['ac_current = 850 A', 'ac_current = 850 A\n  modulation = sine'], ...edits);
const narrow: Make = (...edits) => sound(['braking { charge = 250 kW', 'braking { charge = 10 kW'], ...edits);

describe.each<readonly [string, Make]>([
  ['the valley station', valleyStation],
  ['the sound example', sound],
  ['a large filter', strongFilter],
  ['a sine modulation', sine],
  ['a small charge', narrow],
])('%s', (_, make) => {
  const at = (name: string) =>
    make(['secondary_voltage = 360 V', `secondary_voltage = ${worst(make(), `T1.${name}`).value} V`]);

  it('winding_max_diode leaves no diode margin', () => {
    expect(worst(at('winding_max_diode'), 'K1.diode_margin').value).toBeCloseTo(0, 7);
  });

  it('winding_max_control leaves just the control margin, at nominal or at highest network voltage', () => {
    const plant = at('winding_max_control');
    const left = [
      valueAt(plant, 'K1.control_margin', { voltage: 'nominal', case: undefined }) - 0.1,
      valueAt(plant, 'K1.control_margin', { voltage: 'high', case: undefined }) - 0.03,
    ];
    expect(Math.min(...left)).toBeCloseTo(0, 7);
  });

  it('winding_max_load leaves just the reserve under the worst duty', () => {
    expect(worst(at('winding_max_load'), 'K1.voltage_reserve').value).toBeCloseTo(0.03, 7);
  });

  it('winding_min_current loads the converter fully', () => {
    expect(worst(at('winding_min_current'), 'K1.loading').value).toBeCloseTo(1, 7);
  });

  it('ends at the least of the upper bounds', () => {
    const plant = make();
    const bounds = ['diode', 'control', 'load'].map(name => worst(plant, `T1.winding_max_${name}`).value);
    expect(worst(plant, 'T1.winding_max').value).toBe(Math.min(...bounds));
  });
});

describe('the lower end', () => {
  it('is the converter’s own voltage where that stands higher', () => {
    // 340 V at the terminals although the network is a tenth low: 377.8 V nominal.
    const plant = sound(['ac_current = 850 A', 'ac_current = 850 A\n  ac_voltage = 340 V .. 480 V']);
    expect(worst(plant, 'T1.winding_min').value).toBeCloseTo(340 / 0.9, 9);
    expect(worst(plant, 'T1.winding_min').value).toBeGreaterThan(worst(plant, 'T1.winding_min_current').value);
  });

  it('follows the house rule on loading', () => {
    const rule = ['transformer_spare = 5 %', 'transformer_spare = 5 %, converter_loading = 90 %'] as const;
    const end = worst(sound(rule), 'T1.winding_min_current').value;
    const plant = sound(rule, ['secondary_voltage = 360 V', `secondary_voltage = ${end} V`]);
    expect(worst(plant, 'K1.loading').value).toBeCloseTo(0.9, 7);
  });
});

describe('the lower end under a passing overload', () => {
  const passing = ['400 kW for 45 min', '400 kW for 30 s every 30 min'] as const;

  it.each([
    ['overload = 120 % for 60 s every 600 s', 1.2],
    // Class II of IEC 60146-1-1 (from memory): 150 % for a minute on top of lasting rated current.
    ['overload_class = II', 1.5],
  ])('is where `%s` is used up', (fact, ratio) => {
    const overload = ['ac_current = 850 A', `ac_current = 600 A\n  ${fact}`] as const;
    const end = worst(sound(passing, overload), 'T1.winding_min_current').value;
    const plant = sound(passing, overload, ['secondary_voltage = 360 V', `secondary_voltage = ${end} V`]);
    expect(worst(plant, 'K1.loading').value).toBeCloseTo(ratio, 7);
  });

  it('knows nothing of an overload that ends before the duty does', () => {
    const overload = (fact: string) => ['ac_current = 850 A', `ac_current = 850 A${fact}`] as const;
    const end = (fact: string) => worst(sound(overload(fact)), 'T1.winding_min_current').value;
    expect(end('\n  overload = 120 % for 60 s every 600 s')).toBe(end(''));
  });
});

describe('the window', () => {
  it('is empty where the converter is too small, and then says so by its ends', () => {
    const plant = sound(['ac_current = 850 A', 'ac_current = 700 A']);
    expect(worst(plant, 'T1.winding_min').value).toBeGreaterThan(worst(plant, 'T1.winding_max').value);
  });

  it('does not depend on the winding that is stated, but for what stays in ohms', () => {
    const from = (volts: number) =>
      worst(sound(['secondary_voltage = 360 V', `secondary_voltage = ${volts} V`]), 'T1.winding_max').value;
    expect(from(420) / from(360)).toBeCloseTo(1, 8);
    expect(from(200) / from(360)).toBeCloseTo(1, 8);
  });
});
