// A case that states a limit of its own is judged by it, though all values are the same as in the base case.
import { expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { chopperText } from '../../kit/choppers.ts';
import { complaints, type Edit, findingsOf, lineAt, theFinding } from '../../kit/plants.ts';

const facts = (after: string, ...lines: readonly string[]): Edit => [after, [after, ...lines].join('\n  ')];
const rating = 'ac_current = 850 A';
const cable: Edit = [
  'connect MAIN -> T1',
  'cable W1 { length = 10 m, cross_section = 240 mm², parallel = 4 }\nconnect MAIN -> W1 -> T1',
];
const chopper: readonly Edit[] = [
  ['cells_in_series = 224', 'cells_in_series = 112'],
  ['strings = 4', 'strings = 8'],
  ['connect MAIN -> T1 -> F1 -> K1 -> B1', `${chopperText}\n\nconnect MAIN -> T1 -> F1 -> K1 -> Q1 -> B1`],
];

const island = (what: string): Edit => [
  'power_factor = 0.95 }',
  `power_factor = 0.95, mode = forming, running_load = 0 kW, ${what} }`,
];

type Row = readonly [code: string, inCase: string, says: RegExp, edits?: readonly Edit[]];

const limits: readonly Row[] = [
  ['dc_window', 'K1.dc_voltage = 550 V .. 740 V', /above its span up to 740 V in case other:/],
  ['dc_window', 'K1.dc_voltage = 730 V .. 850 V', /below its least operating voltage 730 V in case other:/],
  ['dc_window', 'K1.dc_trip = 740 V', /above its trip at 740 V in case other:/, [facts(rating, 'dc_trip = 900 V')]],
  [
    'dc_trip_margin',
    'K1.dc_trip = 770 V',
    /below its trip at 770 V, .* in case other:/,
    [facts(rating, 'dc_trip = 900 V')],
  ],
  [
    'dc_trip_margin',
    'HouseRules.dc_trip_margin = 20 %',
    /less than the 20 % wanted in case other/,
    [facts(rating, 'dc_trip = 900 V')],
  ],
  ['short_circuit_ratio', 'HouseRules.short_circuit_ratio = 20', /less than the customary 20 in case other/],
  [
    'dc_current',
    'K1.dc_current = 500 A',
    /where 500 A is its rating .* in case other/,
    [facts(rating, 'dc_current = 900 A')],
  ],
  [
    'filter_current',
    'F1.rated_current = 700 A',
    /where 700 A is their rating .* in case other/,
    [facts('capacitance = 300 µF', 'rated_current = 900 A')],
  ],
  [
    'ac_voltage_range',
    'K1.ac_voltage = 300 V .. 405 V',
    /above the 405 V .* in case other/,
    [facts(rating, 'ac_voltage = 300 V .. 600 V')],
  ],
  [
    'ac_voltage_range',
    'K1.ac_voltage = 330 V .. 600 V',
    /below the 330 V .* in case other/,
    [facts(rating, 'ac_voltage = 300 V .. 600 V')],
  ],
  ['chopper_current', 'Q1.current = 900 A', / in case other/, chopper],
  ['transformer_spare', 'HouseRules.transformer_spare = 20 %', /less than the 20 % .* in case other/],
  ['transformer_loading', 'HouseRules.transformer_loading = 80 %', /above the 80 % .* in case other/],
  ['converter_loading', 'HouseRules.converter_loading = 80 %', /above the 80 % .* in case other/],
  ['control_margin', 'HouseRules.control_margin = 45 %', /less than the 45 % wanted.* in case other/],
  ['voltage_reserve', 'HouseRules.control_margin_worst = 20 %', /less than the 20 % wanted/],
  ['capacitor_share', 'HouseRules.capacitor_share = 2 %', /more than the customary 2 %/],
  ['voltage_change', 'MAIN.voltage_change_limit = 1 %', / 1 % .* in case other/],
  ['no_load_reactive', 'HouseRules.no_load_reactive = 1 %', /more than the customary 1 % .* in case other/],
  ['uncontrolled_charging', 'HouseRules.diode_margin = 60 %', /less than the customary 60 %.* in case other/, chopper],
  [
    'heat_to_room',
    'MountainStation.heat_removal = 10 kW',
    /more than the 10 kW that .* in case other/,
    [facts('altitude = 900 m', 'heat_removal = 100 kW')],
  ],
  ['cable_drop', 'HouseRules.cable_drop_ac = 0.05 %', /0\.05 %/, [cable]],
  ['resonance_band', 'K1.switching_frequency = 2.5 kHz', /above 1\.25 kHz/],
  [
    'load_step',
    'HouseRules.voltage_dip = 1 %',
    /more than the 1 % allowed .* in case other/,
    [island('load_step = 60 kW')],
  ],
  [
    'motor_start',
    'HouseRules.voltage_dip = 1 %',
    /more than the 1 % allowed .* in case other/,
    [island('motor_start = 15 kW')],
  ],
  [
    'black_start',
    'K1.overload = 100 % for 2 s every 600 s',
    /more than the 1202 A .* in case other/,
    [island('black_start = yes'), facts('ac_current = 850 A', 'overload = 600 % for 2 s every 600 s')],
  ],
  ['resonance_band', 'MAIN.frequency = 400 Hz', /below 4 kHz/],
];

for (const [code, inCase, says, edits = []] of limits) {
  it(`${code}: ${inCase}`, () => {
    expect(findingsOf(sound(...edits), code)).toEqual([]);
    const plant = sound(...edits, ['require T1.loading <= 95 %', `case other { ${inCase} }`]);
    expect(theFinding(plant, code).message).toMatch(says);
    expect(theFinding(plant, code).point?.case).toBe('other');
  });
}

it.each([
  ['altitude', 'MountainStation.altitude = 2300 m', /^At 2300 m in case other, above 2000 m, /],
  [
    'altitude',
    'MountainStation.altitude = 1500 m',
    /^At 1500 m in case other K1 is taken at 95 % of its rated current/,
  ],
  [
    'ambient_range',
    'MountainStation.ambient = 5 °C .. 50 °C',
    /^The surroundings reach 50 °C in case other, above the 40 °C/,
  ],
  [
    'ambient_range',
    'MountainStation.ambient = -9 °C .. 40 °C',
    /^The surroundings go down to -9 °C in case other, but B1’s/,
  ],
  ['winding_mismatch', 'T1.primary_voltage = 430 V', /made for 430 V, 7\.5 % above the network’s 400 V in case other:/],
  ['winding_mismatch', 'MAIN.voltage = 450 V', /made for 400 V, 11\.11 % below the network’s 450 V in case other:/],
])('what has no limit of its own is looked at in every case as well: %s, %s', (code, inCase, says) => {
  const plant = sound([
    'require T1.loading <= 95 %',
    `case other { ${inCase} }\ncase usual { B1.state_of_health = 90 % }`,
  ]);
  expect(theFinding(plant, code).message).toMatch(says);
  // Where the case says it; a network's voltage is not the transformer's place.
  const place = inCase.startsWith('MAIN') ? 'primary_voltage = 400 V' : 'case other';
  expect(lineAt(plant, theFinding(plant, code).place)).toContain(place);
});

it('of several cases the one that passes its own limit furthest is told', () => {
  const cases = 'case narrow { K1.dc_voltage = 550 V .. 750 V }\ncase narrower { K1.dc_voltage = 550 V .. 740 V }';
  const plant = sound(['require T1.loading <= 95 %', `${cases}\ncase wide { K1.dc_voltage = 550 V .. 900 V }`]);
  expect(complaints(plant).map(({ code, point }) => `${code} ${point?.case}`)).toEqual(['dc_window narrower']);
});

it('what is missing in one case is worse than what is narrow in another', () => {
  const plant = sound(
    ['lowest_connected = 0 %', 'lowest_connected = 10 %'],
    [
      'require T1.loading <= 95 %',
      'case strict { HouseRules.control_margin_worst = 30 % }\ncase high { T1.secondary_voltage = 432 V }',
    ],
  );
  expect(theFinding(plant, 'voltage_reserve')).toMatchObject({ severity: 'error', point: { case: 'high' } });
});
