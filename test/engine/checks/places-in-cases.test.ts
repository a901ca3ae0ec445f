// What holds in a case is told where that case says it: the place of the finding, and the facts that bring it about.
import { expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { type Edit, told } from '../../kit/plants.ts';

type Row = readonly [code: string, inCase: string, lines: readonly string[], edits?: readonly Edit[]];

const facts = (after: string, ...lines: readonly string[]): Edit => [after, [after, ...lines].join('\n  ')];
const rating = 'ac_current = 850 A';

const rows: readonly Row[] = [
  [
    'uncontrolled_charging',
    'T1.secondary_voltage = 400 V\n  MAIN.voltage = 400 V ± 9 %\n  B1.lowest_connected = 1 %',
    ['T1.secondary_voltage = 400 V', 'MAIN.voltage = 400 V ± 9 %', 'B1.lowest_connected = 1 %'],
  ],
  [
    'uncontrolled_charging',
    'T1.secondary_voltage = 400 V\n  K1.opens_on_blocking = ac\n  K1.opening_time = 100 ms',
    ['T1.secondary_voltage = 400 V', 'K1.opens_on_blocking = ac'],
  ],
  ['voltage_reserve', 'B1.soc = 1 % .. 90 %\n  T1.secondary_voltage = 390 V', ['B1.soc = 1 % .. 90 %']],
  ['control_margin', 'HouseRules.control_margin = 45 %\n  B1.soc = 11 % .. 90 %', ['B1.soc = 11 % .. 90 %']],
  ['dc_window', 'K1.dc_voltage = 550 V .. 700 V\n  B1.cells_in_series = 223', ['B1.cells_in_series = 223']],
  ['converter_loading', 'start_peak.discharge = 480 kW', ['start_peak.discharge = 480 kW']],
  ['transformer_loading', 'start_peak.discharge = 460 kW', ['start_peak.discharge = 460 kW']],
  [
    'battery_current',
    'start_peak.discharge = 390 kW\n  B1.discharge_current = 130 A',
    ['B1.discharge_current = 130 A', 'start_peak.discharge = 390 kW'],
  ],
  [
    'discharge_time',
    'B1.capacity = 90 Ah\n  B1.strings = 5\n  B1.soc = 11 % .. 90 %',
    ['B1.capacity = 90 Ah', 'B1.strings = 5', 'B1.soc = 11 % .. 90 %'],
  ],
  ['ac_voltage_range', 'K1.ac_voltage = 300 V .. 390 V', ['K1.ac_voltage = 300 V .. 390 V']],
  ['ripple_current', 'K1.switching_frequency = 2 kHz', ['K1.switching_frequency = 2 kHz']],
  ['resonance_band', 'F1.capacitance = 30 µF', ['F1.capacitance = 30 µF']],
  ['winding_mismatch', 'MAIN.voltage = 480 V ± 10 %', ['MAIN.voltage = 480 V ± 10 %']],
  [
    'short_circuit_ratio',
    'MAIN.fault_power = 5 MVA .. 14 MVA',
    ['MAIN.fault_power = 5 MVA .. 14 MVA'],
    [facts(rating, 'least_short_circuit_ratio = 15')],
  ],
  [
    'impossible_value',
    'T1.load_loss = 58 kW\n  T1.impedance = 6.1 % ± 10 %',
    ['T1.load_loss = 58 kW', 'T1.impedance = 6.1 % ± 10 %'],
  ],
  [
    'tap_changer',
    'T1.tap = 3 %\n  T1.tap_changer = none',
    ['T1.tap = 3 %', 'T1.tap_changer = none'],
    [facts('no_load_loss = 800 W', 'tap_changer = off_circuit', 'tap_step = 2.5 %', 'tap = 0 %')],
  ],
  ['modulation_limit', 'T1.neutral = earthed', ['T1.neutral = earthed'], [facts(rating, 'modulation = space_vector')]],
];

for (const [code, inCase, lines, edits = []] of rows) {
  it(`${code}: ${lines.join(', ')}`, () => {
    expect(sound(...edits).analysis.findings.filter(each => each.code === code)).toEqual([]);
    const found = told(sound(...edits, ['require T1.loading <= 95 %', `case other {\n  ${inCase}\n}`]), code);
    const places = [found.at, ...found.related.map(([at]) => at!)];
    for (const line of lines) expect(places).toContain(line);
    // Nothing that the case says anew is shown as the base says it.
    const renewed = inCase.split('\n').map(line => line.trim().replace(/^\w+\.(\w+) = .*$/, '$1 = '));
    expect(places.filter(at => renewed.some(name => at.startsWith(name)))).toEqual([]);
  });
}
