// What the plant keeps for itself, and what comes back of what was stored.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { type Edit, valueAt, worst } from '../../kit/plants.ts';

const aux = ['temperature = 20 °C', 'temperature = 20 °C\n  auxiliary_power = 3 kW'] as const;
const losing = (facts: string): Edit => ['ac_current = 850 A', `ac_current = 850 A\n  ${facts}`];
const daily = ['for 45 min', 'for 45 min every 24 h'] as const;

describe('auxiliaries', () => {
  it('count in the net power, both ways', () => {
    const plant = sound(aux);
    expect(worst(plant, 'MountainStation.auxiliary_power').value).toBe(3000);
    const at = { direction: 'delivering', voltage: 'nominal' } as const;
    expect(valueAt(plant, 'start_peak.net_power', at)).toBeCloseTo(397e3, 3);
    expect(valueAt(plant, 'braking.net_power', at)).toBeCloseTo(-253e3, 3);
  });

  it('and in the standby loss, on top of the transformer’s no-load loss and what the converter loses without power', () => {
    const standby = (...edits: readonly Edit[]) => worst(sound(...edits), 'MountainStation.standby_loss').value;
    const bare = standby(losing('fixed_loss = 0 W'));
    // 800 W in the core at nominal voltage; the damping resistor (60 mΩ at about 19.6 A) takes some 70 W more.
    const capacitor = (360 / Math.sqrt(3)) * 2 * Math.PI * 50 * 300e-6;
    expect(bare).toBeGreaterThan(800 + 3 * 0.06 * capacitor ** 2);
    expect(bare).toBeLessThan(1.03 * (800 + 3 * 0.06 * capacitor ** 2));
    expect(standby(aux, losing('fixed_loss = 900 W'))).toBeCloseTo(bare + 3900, 6);
    // The core takes 1 % of 500 kVA at 360 V, 8.02 A, of which 800 W are 1.28 A in phase: 7.92 A that the capacitor
    // gives. The converter carries the rest of its 19.59 A, and those 1.28 A with the 0.11 A of the damping resistor.
    const carried = Math.hypot(19.59 - 7.92, 1.28 + 0.11);
    const perAmpere = standby(losing('linear_loss = 100 V')) - bare;
    expect(perAmpere / 100).toBeGreaterThan(0.97 * carried);
    expect(perAmpere / 100).toBeLessThan(1.03 * carried);
    expect(standby(losing('quadratic_loss = 1 Ω')) - bare).toBeCloseTo((perAmpere / 100) ** 2, 6);
  });

  it('leave the standby loss unknown where an efficiency is all that is known of the converter', () => {
    for (const plant of [sound(daily), sound(daily, losing('efficiency = 98.5 %'))]) {
      for (const name of ['K1.idle_loss', 'MountainStation.standby_loss', 'start_peak.net_round_trip'])
        expect(plant.analysis.values.worst(name)?.value, name).toBeUndefined();
      expect(worst(plant, 'B1.round_trip_efficiency').value).toBeGreaterThan(0.8);
      expect(plant.analysis.notChecked).toContain(
        'what K1 loses while no power passes, and with it the standby loss and the net round trip: an efficiency does not tell it, `no_load_loss` or parts of the loss would',
      );
    }
    expect(sound(losing('fixed_loss = 900 W')).analysis.notChecked.join()).not.toMatch(/while no power passes/);
    expect(sound(losing('no_load_loss = 900 W')).analysis.notChecked.join()).not.toMatch(/while no power passes/);
    const inCase: Edit = ['require T1.loading <= 95 %', 'case known { K1.fixed_loss = 900 W }'];
    expect(sound(inCase).analysis.notChecked.join()).toMatch(/what K1 loses while no power passes/);
  });
});

describe('the loss without power of a converter that states an efficiency', () => {
  const idle = (facts: string) => worst(sound(losing(facts)), 'K1.idle_loss').value;

  it('is what its maker states beside it, on top of what the way to it loses', () => {
    expect(idle('efficiency = 98.5 %, no_load_loss = 900 W')).toBeCloseTo(idle('fixed_loss = 900 W'), 9);
    expect(worst(sound(losing('no_load_loss = 900 W')), 'MountainStation.standby_loss').value).toBeCloseTo(
      idle('fixed_loss = 900 W'),
      9,
    );
  });

  it('leaves what it loses under load as it was', () => {
    const loss = (facts: string) => worst(sound(losing(facts)), 'K1.loss').value;
    expect(loss('no_load_loss = 900 W')).toBe(loss('efficiency = 98 %'));
  });
});

describe('the round trip', () => {
  it('is the product of what each way leaves: the path’s efficiency and the battery’s', () => {
    const plant = sound();
    const value = worst(plant, 'B1.round_trip_efficiency').value;
    // Between the products of the worst and of the best ends of both ways, which vary with the charge by a little.
    const ends = (duty: string) =>
      [0.1, 0.9].map(soc => valueAt(plant, `${duty}.efficiency`, { direction: 'delivering', voltage: 'nominal', soc }));
    const [out, back] = [ends('start_peak'), ends('braking')];
    expect(value).toBeGreaterThan(Math.min(...out) * Math.min(...back));
    expect(value).toBeLessThan(Math.max(...out) * Math.max(...back));
  });

  it('loses what resistance, converter and auxiliaries cost, the net one over the whole period', () => {
    const losses = losing('fixed_loss = 1.2 kW, linear_loss = 8 V');
    const gross = worst(sound(daily, losses), 'B1.round_trip_efficiency').value;
    const net = worst(sound(daily, aux, losses), 'start_peak.net_round_trip').value;
    const refill = worst(sound(daily, losses), 'B1.refill_time').value;
    const standby = worst(sound(losses), 'MountainStation.standby_loss').value;
    const delivered = 400e3 * 2700;
    const taken = delivered / gross + 3000 * 86_400 + standby * (86_400 - 2700 - refill);
    expect(net).toBeCloseTo(delivered / taken, 9);
    const usual = worst(sound(daily), 'B1.round_trip_efficiency').value;
    const better = sound(daily, ['ac_current = 850 A', 'ac_current = 850 A\n  efficiency = 99 %']);
    expect(worst(better, 'B1.round_trip_efficiency').value).toBeGreaterThan(usual + 0.015);
  });

  it('needs no idle loss where the plant never idles', () => {
    const plant = sound(['for 45 min', 'for 45 min every 1 h'], aux);
    const gross = worst(plant, 'B1.round_trip_efficiency').value;
    expect(worst(plant, 'B1.refill_time').value).toBeGreaterThan(900);
    const delivered = 400e3 * 2700;
    expect(worst(plant, 'start_peak.net_round_trip').value).toBeCloseTo(
      delivered / (delivered / gross + 3000 * 3600),
      9,
    );
  });

  it('is unknown without a charge', () => {
    const plant = sound(['duty braking { charge = 250 kW for 90 s every 15 min }', '']);
    expect(plant.analysis.values.worst('B1.round_trip_efficiency')?.value).toBeUndefined();
  });
});
