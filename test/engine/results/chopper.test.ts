// Results around a chopper: energy closes in both directions, and each side carries what its voltage asks.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { chopperExample, withChopper } from '../../kit/choppers.ts';
import { type Analysed, analysed, edited, worst } from '../../kit/plants.ts';

describe('a chopper between battery and converter', () => {
  const plant = withChopper();

  it('takes its loss from the battery while discharging', () => {
    // All at the worst point, which is the same for all: lowest network voltage, bottom of the span.
    const power = worst(plant, 'K1.dc_power').value;
    expect(worst(plant, 'Q1.loss').value).toBeCloseTo(power * (1 / 0.98 - 1), 3);
  });

  it('leaves the converter as it is with the link for its battery', () => {
    // A battery of 742.5 V without resistance is what the chopper makes of any battery.
    const stiff = analysed(
      edited(
        soundExample,
        [
          '  open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V }',
          '  voltage = 742.499999 V .. 742.5 V',
        ],
        [
          'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }',
          'resistance = 1e-9 Ω',
        ],
      ),
    );
    for (const name of ['K1.voltage_reserve', 'K1.control_margin', 'K1.dc_current', 'K1.diode_margin', 'K1.loading'])
      expect(worst(plant, name).value, name).toBeCloseTo(worst(stiff, name).value, 5);
  });

  it('stands at the duty ratio of its two voltages', () => {
    const low = worst(plant, 'Q1.store_voltage_max').value;
    expect(worst(plant, 'Q1.duty_ratio_max').value).toBeCloseTo(low / 742.5, 9);
    expect(worst(plant, 'Q1.duty_ratio_min').value).toBeCloseTo(worst(plant, 'Q1.store_voltage_min').value / 757.5, 9);
  });

  it('shortens the discharge by its loss', () => {
    const lossless = withChopper(['efficiency = 98 %', 'efficiency = 100 %']);
    const ratio = worst(plant, 'B1.discharge_time').value / worst(lossless, 'B1.discharge_time').value;
    expect(ratio).toBeGreaterThan(0.975);
    expect(ratio).toBeLessThan(0.98);
  });

  it('counts in the heat and in the round trip', () => {
    const lossless = withChopper(['efficiency = 98 %', 'efficiency = 100 %']);
    const heat = (of: Analysed) => worst(of, 'MountainStation.heat_to_room').value;
    expect(heat(plant) - heat(lossless)).toBeCloseTo(worst(plant, 'Q1.loss').value, 3);
    expect(worst(plant, 'start_peak.efficiency').value / worst(lossless, 'start_peak.efficiency').value).toBeLessThan(
      0.9801,
    );
  });

  it('takes both ends of its span where it does not say what it holds', () => {
    const open = withChopper(['  link_voltage = 750 V ± 1 %\n', '']);
    expect(worst(open, 'K1.dc_voltage_min').value).toBeCloseTo(600, 9);
    expect(worst(open, 'K1.dc_voltage_max').value).toBeCloseTo(850, 9);
  });

  it('has the cables on either side carry what that side carries', () => {
    const cable = (tag: string) =>
      `cable ${tag} { length = 10 m, cross_section = 240 mm², parallel = 3, conductor = copper }\n`;
    const wired = analysed(
      edited(
        chopperExample,
        ['K1 -> Q1 -> B1', 'K1 -> W1 -> Q1 -> W2 -> B1'],
        ['chopper Q1', `${cable('W1')}${cable('W2')}chopper Q1`],
      ),
    );
    expect(worst(wired, 'W1.current').value).toBeCloseTo(worst(wired, 'K1.dc_current').value, 6);
    expect(worst(wired, 'W2.current').value).toBeCloseTo(worst(wired, 'B1.current').value, 6);
    expect(worst(wired, 'Q1.current').value).toBeCloseTo(worst(wired, 'B1.current').value, 6);
    expect(worst(wired, 'W2.drop').value / worst(wired, 'W1.drop').value).toBeGreaterThan(3);
  });

  it('serves a duty that is asked of the battery', () => {
    const at = withChopper(['power_factor = 0.95 }', 'at = B1 }']);
    expect(worst(at, 'K1.dc_power').value).toBeCloseTo(0.98 * 400e3, 3);
  });
});
