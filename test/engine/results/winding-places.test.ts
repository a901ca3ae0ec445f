// The window of the winding voltage where a duty's power is measured elsewhere than at the network, and where more stands
// on the way than one transformer: each end, put into the text, leaves nothing of the margin that it stands for.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { type Analysed, type Edit, valueAt, worst } from '../../kit/plants.ts';

type Make = (...edits: readonly Edit[]) => Analysed;

const duty = 'start_peak { discharge = 400 kW for 45 min, power_factor = 0.95 }';
const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
const measuredAt = (place: string): Edit => [duty, `start_peak { discharge = 390 kW for 45 min, at = ${place} }`];

const through = (way: string, ...made: readonly string[]): Edit => [chain, [...made, `connect ${way}`].join('\n')];

/** Its voltage is a twentieth higher behind than before. */
const before =
  'transformer T0 { rated_power = 630 kVA, primary_voltage = 400 V, secondary_voltage = 420 V, impedance = 4 %, load_loss = 6 kW, no_load_loss = 900 W }\nbus N0 { voltage = 420 V }';
const twoTransformers = through('MAIN -> T0 -> N0 -> T1 -> F1 -> K1 -> B1', before);

const second = `bus N1 { voltage = 360 V }
filter F2 { converter_inductance = 100 µH, capacitance = 300 µF, damping_resistance = 60 mΩ }
converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
battery B2 { cells_in_series = 224, strings = 4, capacity = 280 Ah, open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 100 % 3.40 V }, resistance = 0.14 Ω, soc = 10 % .. 90 % }`;
const shared = through('MAIN -> T1 -> N1 -> F1 -> K1 -> B1\nconnect N1 -> F2 -> K2 -> B2', second);
const wide: Edit = ['rated_power = 500 kVA', 'rated_power = 1000 kVA'];

describe.each<readonly [string, Make]>([
  ['at the transformer', (...edits) => sound(measuredAt('T1'), ...edits)],
  ['at the converter', (...edits) => sound(measuredAt('K1'), ...edits)],
  ['at the battery', (...edits) => sound(measuredAt('B1'), ...edits)],
  ['at the network, behind two transformers', (...edits) => sound(twoTransformers, ...edits)],
  ['at the converter, behind two transformers', (...edits) => sound(twoTransformers, measuredAt('K1'), ...edits)],
  ['at the converter, on a winding that two share', (...edits) => sound(shared, wide, measuredAt('K1'), ...edits)],
  ['at the network, on a winding that two share', (...edits) => sound(shared, wide, measuredAt('MAIN'), ...edits)],
])('measured %s', (_, make) => {
  const stated = 'secondary_voltage = 360 V';
  const at = (name: string) => make([stated, `secondary_voltage = ${worst(make(), `T1.${name}`).value} V`]);

  it('winding_max_load leaves just the reserve under the worst duty', () => {
    expect(worst(at('winding_max_load'), 'K1.voltage_reserve').value).toBeCloseTo(0.03, 7);
  });

  it('winding_min_current loads the converter fully', () => {
    expect(worst(at('winding_min_current'), 'K1.loading').value).toBeCloseTo(1, 7);
  });

  it('winding_max_control leaves just the control margin, at nominal or at highest network voltage', () => {
    const plant = at('winding_max_control');
    const nominal = valueAt(plant, 'K1.control_margin', { voltage: 'nominal', case: undefined });
    const high = valueAt(plant, 'K1.control_margin', { voltage: 'high', case: undefined });
    expect(Math.min(nominal - 0.1, high - 0.03)).toBeCloseTo(0, 7);
  });

  it('winding_max_diode leaves no diode margin', () => {
    expect(worst(at('winding_max_diode'), 'K1.diode_margin').value).toBeCloseTo(0, 7);
  });
});

describe('a winding with a long cable behind it', () => {
  // R and X of 1.5 km are both above 0.1 Ω: at 360 V less than U²/(2·(|Z| + R)) = 270 kW, whatever the network can do.
  const cable = 'cable W1 { length = 1.5 km, cross_section = 240 mm², conductor = copper, reactance = 0.08 Ω/km }';
  const far = through('MAIN -> T1 -> W1 -> F1 -> K1 -> B1', cable);
  const peak: Edit = [duty, 'start_peak { charge = 500 kW for 45 min, at = K1 }'];
  const make = (winding: number) =>
    sound(far, peak, wide, ['secondary_voltage = 360 V', `secondary_voltage = ${winding} V`]);
  const currents = (winding: number) => {
    const rows = make(winding).analysis.values.all('K1.current');
    return rows.filter(({ point }) => point.duty === 'start_peak').flatMap(({ value }) => value ?? []);
  };

  it('that cannot carry the power at all has its lower end where it just can', () => {
    expect(currents(360)).toEqual([]);
    const { value } = worst(make(360), 'T1.winding_min_current');
    // Of all network voltages the lowest one decides.
    expect(currents(1.0001 * value!).length).toBeGreaterThan(currents(0.9999 * value!).length);
    expect(worst(make(1.0001 * value!), 'K1.loading').value).toBeLessThan(1);
  });
});

describe('nothing is known of a window', () => {
  it('of a transformer that is passed from its secondary', () => {
    const plant = sound(through('K1 -> F1 -> T1 -> MAIN\nconnect K1 -> B1'));
    expect(worst(plant, 'K1.loading').value).toBeGreaterThan(0);
    for (const end of ['max_diode', 'max_control', 'max_load', 'min_current'])
      expect([end, plant.analysis.values.worst(`T1.winding_${end}`)?.value]).toEqual([end, undefined]);
  });
});
