// What the plant keeps for itself, and what comes back of what was stored.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { valueAt, worst } from '../../kit/plants.ts';

const aux = ['temperature = 20 °C', 'temperature = 20 °C\n  auxiliary_power = 3 kW'] as const;
const daily = ['for 45 min', 'for 45 min every 24 h'] as const;

describe('auxiliaries', () => {
  it('count in the net power, both ways', () => {
    const plant = sound(aux);
    expect(worst(plant, 'MountainStation.auxiliary_power').value).toBe(3000);
    const at = { direction: 'delivering', voltage: 'nominal' } as const;
    expect(valueAt(plant, 'start_peak.net_power', at)).toBeCloseTo(397e3, 3);
    expect(valueAt(plant, 'braking.net_power', at)).toBeCloseTo(-253e3, 3);
  });

  it('and in the standby loss, on top of the transformer’s no-load loss and the converter’s fixed loss', () => {
    const lossy = ['ac_current = 850 A', 'ac_current = 850 A\n  fixed_loss = 900 W, quadratic_loss = 5 mΩ'] as const;
    const bare = worst(sound(), 'MountainStation.standby_loss').value;
    // 800 W in the core at nominal voltage; the damping resistor (60 mΩ at about 19.6 A) takes some 70 W more.
    const capacitor = (360 / Math.sqrt(3)) * 2 * Math.PI * 50 * 300e-6;
    expect(bare).toBeGreaterThan(800 + 3 * 0.06 * capacitor ** 2);
    expect(bare).toBeLessThan(1.03 * (800 + 3 * 0.06 * capacitor ** 2));
    expect(worst(sound(aux, lossy), 'MountainStation.standby_loss').value).toBeCloseTo(bare + 3900, 6);
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
    const gross = worst(sound(daily), 'B1.round_trip_efficiency').value;
    const net = worst(sound(daily, aux), 'start_peak.net_round_trip').value;
    const refill = worst(sound(daily), 'B1.refill_time').value;
    const standby = worst(sound(), 'MountainStation.standby_loss').value;
    const delivered = 400e3 * 2700;
    const taken = delivered / gross + 3000 * 86_400 + standby * (86_400 - 2700 - refill);
    expect(net).toBeCloseTo(delivered / taken, 9);
    const better = sound(daily, ['ac_current = 850 A', 'ac_current = 850 A\n  efficiency = 99 %']);
    expect(worst(better, 'B1.round_trip_efficiency').value).toBeGreaterThan(gross + 0.015);
  });

  it('is unknown without a charge', () => {
    const plant = sound(['duty braking { charge = 250 kW for 90 s every 15 min }', '']);
    expect(plant.analysis.values.worst('B1.round_trip_efficiency')?.value).toBeUndefined();
  });
});
