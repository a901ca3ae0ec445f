// What findings about a converter's voltage point at: the winding or the network, and what makes its DC voltage.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { sound } from '../../kit/checks.ts';
import { withChopper, within, withTwoChoppers } from '../../kit/choppers.ts';
import { type Analysed, type Edit, edited, lineAt, theFinding } from '../../kit/plants.ts';

/** House rules that no plant meets: how far the modulation could still go. */
const strict: Edit = ['transformer_spare = 5 %', 'transformer_spare = 5 %\n  control_margin = 60 %'];
/** A converter that bears less than any of these DC sides has. */
const narrow: Edit = ['dc_voltage = 550 V .. 850 V', 'dc_voltage = 500 V .. 700 V'];

/** The declarations in which the related places of a finding stand. */
function owners(plant: Analysed, code: string): readonly (string | undefined)[] {
  const text = plant.files.get('plant.plant')!;
  return theFinding(plant, code).related.map(({ place }) => {
    return [...text.slice(0, place.start).matchAll(/^\w+ (\w+) \{/gm)].at(-1)?.[1];
  });
}

describe('the voltage that a designer would change', () => {
  const lineOf = (plant: Analysed): string => lineAt(plant, theFinding(plant, 'control_margin').place);

  it('is that of the winding towards the converter', () => {
    expect(lineOf(sound(strict))).toBe('secondary_voltage = 360 V');
    const turned = sound(
      strict,
      ['primary_voltage = 400 V', 'primary_voltage = 360 V'],
      ['secondary_voltage = 360 V', 'secondary_voltage = 400 V'],
      ['connect MAIN -> T1 -> F1 -> K1 -> B1', 'connect B1 -> K1 -> F1 -> T1 -> MAIN'],
    );
    expect(lineOf(turned)).toBe('primary_voltage = 360 V');
  });

  it('of two transformers is that of the nearer', () => {
    const second =
      'transformer T0 {\n  rated_power = 800 kVA\n  primary_voltage = 10 kV\n  secondary_voltage = 400 V\n';
    const plant = sound(
      strict,
      ['voltage = 400 V ± 10 %', 'voltage = 10 kV ± 5 %'],
      [
        'transformer T1 {',
        `${second}  impedance = 6 % ± 10 %\n  load_loss = 8 kW\n  no_load_loss = 1 kW\n}\n\ntransformer T1 {`,
      ],
      ['connect MAIN -> T1', 'connect MAIN -> T0 -> T1'],
    );
    expect(lineOf(plant)).toBe('secondary_voltage = 360 V');
  });

  it('is that of the network where no transformer stands between', () => {
    const plant = sound(
      strict,
      ['connect MAIN -> T1 -> F1', 'connect MAIN -> F1'],
      ['require T1.loading <= 95 %\n', ''],
    );
    expect(lineOf(plant)).toBe('voltage = 400 V ± 10 %');
  });
});

describe('what makes the DC voltage', () => {
  const message = (plant: Analysed, code: string): string => theFinding(plant, code).message;

  it('is the battery', () => {
    expect(message(sound(strict), 'control_margin')).toContain('the battery at rest at the bottom of its span');
    expect(message(sound(narrow), 'dc_window')).toMatch(/^The battery takes K1’s DC side/);
    expect(owners(sound(strict), 'control_margin')).toEqual(['B1']);
  });

  it('is the chopper before it', () => {
    expect(message(withChopper(strict), 'control_margin')).toContain('the link at the lowest voltage that Q1 holds');
    expect(message(withChopper(narrow), 'dc_window')).toMatch(/^Q1 takes K1’s DC side/);
    expect(owners(withChopper(strict), 'control_margin')).toEqual(['Q1']);
    const [related] = theFinding(withChopper(strict), 'control_margin').related;
    expect(lineAt(withChopper(strict), related!.place)).toBe('link_voltage = 750 V ± 1 %');
  });

  it('is the DC link of several choppers', () => {
    expect(message(withTwoChoppers(strict), 'control_margin')).toMatch(
      /the link at the lowest voltage that Q1 and Q2 hold\b/,
    );
    expect(message(withTwoChoppers(narrow), 'dc_window')).toMatch(/^The DC link of Q1 and Q2 takes K1’s DC side/);
    expect(owners(withTwoChoppers(strict), 'control_margin')).toEqual(['Q1', 'Q2']);
  });

  it('of a chopper that states no voltage is what its side towards the converter bears', () => {
    const plant = withChopper(strict, ['  link_voltage = 750 V ± 1 %\n', '']);
    const [related] = theFinding(plant, 'control_margin').related;
    expect(lineAt(plant, related!.place)).toBe('high_side_voltage = 600 V .. 850 V');
  });

  it('of several batteries side by side is the one that stands lowest', () => {
    const battery = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
    const pair = (...lower: readonly Edit[]) =>
      sound(strict, [
        'connect MAIN -> T1 -> F1 -> K1 -> B1',
        `${edited(battery.replace('B1', 'B2'), ...lower)}\nbus D1 {}\n\nconnect MAIN -> T1 -> F1 -> K1 -> D1 -> B1\nconnect D1 -> B2`,
      ]);
    expect(owners(pair(['cells_in_series = 224', 'cells_in_series = 222']), 'control_margin')).toEqual(['B2']);
    expect(owners(pair(['cells_in_series = 224', 'cells_in_series = 226']), 'control_margin')).toEqual(['B1']);
  });
});

describe('the battery of a chopper', () => {
  it('is the one behind it, and none behind another', () => {
    const below = (tag: string) => within(`chopper ${tag}`, '250 V .. 420 V', '250 V .. 370 V');
    for (const [chopper, battery, other] of [
      ['Q1', 'B1', 'B2'],
      ['Q2', 'B2', 'B1'],
    ] as const) {
      const named = owners(withTwoChoppers(below(chopper)), 'chopper_window');
      expect(named).toContain(battery);
      expect(named).not.toContain(other);
    }
  });
});
