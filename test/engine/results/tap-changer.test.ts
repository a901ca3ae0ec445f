// What a tap changer makes of the corners: fixed tappings follow the network, a regulator takes most of it out.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { type Edit, worst } from '../../kit/plants.ts';

const facts = (...lines: readonly string[]) =>
  ['no_load_loss = 800 W', ['no_load_loss = 0 W', 'no_load_current = 0 %', ...lines].join('\n  ')] as const;
const bare = [
  ['capacitance = 300 µF', 'capacitance = 0.001 µF'],
  ['impedance = 6 % ± 10 %', 'impedance = 4 %'],
  ['load_loss = 5.8 kW', 'load_loss = 0 W'],
] as const;
const network = (band: string) => ['400 V ± 10 %', `400 V ± ${band}`] as const;
const idle = (plant: ReturnType<typeof sound>) =>
  plant.analysis.values.all('K1.idle_voltage').map(row => row.value ?? Number.NaN);

/** Idle voltages at the lowest, nominal and highest network voltage, by hand: no filter capacitor worth the name. */
function expectIdle(plant: ReturnType<typeof sound>, volts: readonly [number, number, number]) {
  for (const [index, value] of idle(plant).entries()) expect(value).toBeCloseTo(volts[index]!, 1);
}

describe('an off-circuit tapping', () => {
  it('stays, so that the corners follow the network', () => {
    expectIdle(sound(facts('tap_changer = off_circuit'), ...bare), [324, 360, 396]);
    expectIdle(sound(facts('tap_changer = off_circuit', 'tap = +5 %'), ...bare), [324 / 1.05, 360 / 1.05, 396 / 1.05]);
  });

  it('on the winding towards the converter raises the voltage there', () => {
    const turned = sound(
      facts('tap = +5 %'),
      ...bare,
      ['primary_voltage = 400 V', 'primary_voltage = 360 V'],
      ['secondary_voltage = 360 V', 'secondary_voltage = 400 V'],
      ['connect MAIN -> T1 -> F1 -> K1 -> B1', 'connect B1 -> K1 -> F1 -> T1 -> MAIN'],
    );
    expectIdle(turned, [324 * 1.05, 360 * 1.05, 396 * 1.05]);
  });
});

describe('an on-load tap changer', () => {
  // Steps of 1.25 % up to ± 10 %: half of a dead band of 1.2 steps, the step at the lowest turns being 1.25/0.9 %.
  const half = (0.5 * 1.2 * 0.0125) / 0.9;

  it('leaves half a dead band each way where its tappings reach', () => {
    expectIdle(sound(facts('tap_changer = on_load'), ...bare), [360 * (1 - half), 360, 360 * (1 + half)]);
  });

  it('leaves the rest where its tappings end', () => {
    const short = facts('tap_changer = on_load', 'tap_range = 5 %', 'tap_step = 2.5 %');
    expectIdle(sound(short, ...bare), [324 / 0.95, 360, 396 / 1.05]);
  });

  it('holds the winding at its voltage on a network that is off its nominal', () => {
    const off = sound(facts('tap_changer = on_load'), ...bare, ['400 V ± 10 %', '410 V ± 5 %']);
    expectIdle(off, [360 * (1 - half), 360, 360 * (1 + half)]);
  });

  it('takes load off the converter at the lowest network voltage', () => {
    const current = (...edits: readonly Edit[]) => worst(sound(...edits), 'K1.current').value;
    expect(current(facts('tap_changer = on_load'))).toBeLessThan(0.93 * current());
  });

  it('is taken where the lowest network voltage leaves it for what the blocked converter sees', () => {
    // Hazard, all at its worst: the network jumps from the lowest to the highest, the changer is slow, or stays.
    const blocked = (...lines: readonly string[]) =>
      worst(sound(facts(...lines, 'ratio_tolerance = 0 %'), ...bare, network('5 %')), 'K1.blocked_voltage').value;
    expect(blocked('tap_changer = off_circuit')).toBeCloseTo(378, 1);
    expect(blocked('tap_changer = on_load')).toBeCloseTo((378 / 0.95) * (1 + half), 1);
    expect(blocked('tap_changer = on_load', 'tap_range = 2.5 %')).toBeCloseTo(378 / 0.975, 1);
  });

  it('meets a ratio that may be off by 0.5 %, or by a tenth of a lower impedance, where nothing else is stated', () => {
    const blocked = (impedance: string, ...lines: readonly string[]) => {
      const stated = ['impedance = 4 %', `impedance = ${impedance}`] as const;
      return worst(sound(facts(...lines), ...bare, stated, network('5 %')), 'K1.blocked_voltage').value / 378;
    };
    expect(blocked('6 %')).toBeCloseTo(1 / 0.995, 4);
    expect(blocked('4 %')).toBeCloseTo(1 / 0.996, 4);
    expect(blocked('4 %', 'ratio_tolerance = 0.3 %')).toBeCloseTo(1 / 0.997, 4);
  });
});
