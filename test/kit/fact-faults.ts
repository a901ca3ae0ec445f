// Mistakes about surroundings, facts, demands and the text itself.
import { adding, amperes, both, type Fault, judgesCold, percent, rated, rule, state, where } from './fault.ts';
import { number } from './sound-plants.ts';

const surroundingFaults: readonly Fault[] = [
  { name: 'a site far up', code: 'altitude', on: 'converter', put: state('site', 'altitude', () => '2600 m') },
  {
    name: 'a hot room',
    code: 'ambient_range',
    on: 'converter',
    put: both(
      state('site', 'ambient', () => '5 °C .. 50 °C'),
      state('converter', 'ambient_derating', () => ''),
    ),
  },
  {
    name: 'an unheated room',
    code: 'ambient_range',
    on: 'battery',
    put: where(
      plant => !judgesCold(plant),
      state('site', 'ambient', () => '-20 °C .. 40 °C'),
    ),
  },
  {
    name: 'a fan too small',
    code: 'heat_to_room',
    on: 'site',
    put: state('site', 'heat_removal', ({ hand }) => `${number(0.01 * hand.power)} W`),
  },
];

const statedFaults: readonly Fault[] = [
  {
    name: 'watts beside a rating that is picked',
    code: 'picked_losses',
    on: 'transformer',
    put: where(
      rated,
      both(
        state('transformer', 'rated_power', () => 'pick'),
        state('transformer', 'load_loss', ({ hand }) => `${hand.rating * 0.011} W`),
      ),
    ),
  },
  {
    name: 'a tapping between two positions',
    code: 'tap_changer',
    on: 'transformer',
    put: both(
      both(
        state('transformer', 'tap', () => '+1 %'),
        state('transformer', 'tap_step', () => '2.5 %'),
      ),
      state('transformer', 'tap_changer', () => 'off_circuit'),
    ),
  },
  {
    name: 'a connection that can’t be',
    code: 'vector_group',
    on: 'transformer',
    put: state('transformer', 'vector_group', () => '"Yd0"'),
  },
  {
    name: 'space-vector modulation against an earthed star point',
    code: 'modulation_limit',
    on: 'converter',
    put: both(
      state('transformer', 'neutral', () => 'earthed'),
      state('converter', 'modulation', () => 'space_vector'),
    ),
  },
  {
    name: 'more loss than impedance',
    code: 'impossible_value',
    on: 'transformer',
    put: where(
      rated,
      state('transformer', 'load_loss', ({ hand }) => percent(1.2 * hand.impedance)),
    ),
  },
  {
    name: 'more idle loss than idle current',
    code: 'impossible_value',
    on: 'transformer',
    put: where(
      rated,
      both(
        state('transformer', 'no_load_loss', () => '1.1 %'),
        state('transformer', 'no_load_current', () => '1 %'),
      ),
    ),
  },
  {
    name: 'contactors that open during operation',
    code: 'impossible_value',
    on: 'battery',
    put: state('battery', 'lowest_connected', ({ hand }) => percent(hand.span[0] + 0.05)),
  },
  {
    name: 'a duty both ways',
    code: 'impossible_value',
    on: 'discharging',
    put: state('discharging', 'charge', () => '10 kW'),
  },
  {
    name: 'the network’s tolerance forgotten',
    code: 'missing_fact',
    on: 'grid',
    put: state('grid', 'voltage', ({ hand }) => `${hand.network} V`),
  },
  ...(
    [
      ['grid', 'voltage'],
      ['grid', 'frequency'],
      ['networkCable', 'length'],
      ['batteryCable', 'cross_section'],
      ['transformer', 'rated_power'],
      ['transformer', 'impedance'],
      ['transformer', 'secondary_voltage'],
      ['filter', 'converter_inductance'],
      ['filter', 'capacitance'],
      ['converter', 'ac_current'],
      ['converter', 'dc_voltage'],
      ['converter', 'switching_frequency'],
      ['battery', 'cells_in_series'],
      ['battery', 'capacity'],
      ['battery', 'resistance'],
      ['battery', 'soc'],
      ['discharging', 'discharge'],
      ['charging', 'charge'],
    ] as const
  ).map(([section, property]): Fault => {
    return {
      name: `no ${property} of the ${section}`,
      code: 'missing_fact',
      on: section,
      put: state(section, property, () => ''),
    };
  }),
  {
    name: 'no voltage at rest, nor a chemistry to take it from',
    code: 'missing_fact',
    on: 'battery',
    put: both(
      state('battery', 'open_circuit_voltage', () => ''),
      state('battery', 'chemistry', () => ''),
    ),
  },
  {
    name: 'a voltage at rest left to the chemistry',
    code: 'assumed_by_tool',
    on: 'battery',
    put: state('battery', 'open_circuit_voltage', () => ''),
  },
  { name: 'a house that wants sources', code: 'unsourced', on: 'grid', put: rule('require_source', () => 'yes') },
  {
    name: 'a temperature that changes nothing',
    code: 'temperature_ignored',
    on: 'battery',
    put: both(
      state('battery', 'temperature', () => '20 °C'),
      both(
        state('battery', 'chemistry', () => ''),
        state('battery', 'resistance', ({ hand }) => `${number(hand.resistance)} Ω`),
      ),
    ),
  },
  {
    name: 'a growth of resistance left to the chemistry',
    code: 'assumed_by_tool',
    on: 'battery',
    put: both(
      state('battery', 'temperature', () => '20 °C'),
      state('battery', 'resistance', ({ hand }) => `${number(hand.resistance)} Ω`),
    ),
  },
  {
    name: 'cells hotter than their data',
    code: 'outside_curve',
    on: 'battery',
    put: state('battery', 'temperature', () => '60 °C'),
  },
  {
    name: 'a rest voltage known for the upper half only',
    code: 'outside_curve',
    on: 'battery',
    put: state(
      'battery',
      'open_circuit_voltage',
      ({ hand }) => `curve soc { 50 % ${number(hand.bottom)} V, 100 % ${number(1.01 * hand.top)} V }`,
    ),
  },
  {
    name: 'a site above the converter’s data',
    code: 'outside_curve',
    on: 'converter',
    put: both(
      state('site', 'altitude', () => '900 m'),
      state('converter', 'altitude_derating', () => 'curve altitude { 0 m 100 %, 500 m 100 % }'),
    ),
  },
  {
    name: 'a requirement tightened',
    code: 'requirement',
    on: ['B1'],
    put: adding(({ hand }) => `require B1.discharge_time >= ${number(hand.duration * 100)} s`),
  },
  {
    name: 'a requirement on the converter',
    code: 'requirement',
    on: ['K1'],
    put: adding(({ hand }) => `require K1.current <= ${amperes(0.94 * hand.lineCurrent)} during discharging`),
  },
  {
    name: 'a cable that leads nowhere',
    code: 'unconnected',
    on: ['X9'],
    put: adding('cable X9 { length = 5 m, cross_section = 95 mm² }'),
  },
  {
    name: 'an agreement on nothing',
    code: 'acceptance_unused',
    on: ['F1'],
    put: adding('accept ripple_current on F1 until 2099-12-31 because "quiet enough"'),
  },
  {
    name: 'an agreement that ran out',
    code: 'acceptance_expired',
    on: ['F1'],
    put: adding('accept ripple_current on F1 until 2020-02-29 because "quiet enough"'),
  },
  {
    name: 'a fact that nothing reads',
    code: 'not_evaluated',
    on: undefined,
    put: state('transformer', 'screen', () => 'yes'),
  },
  {
    name: 'an insulation left to the tool',
    code: 'assumed_by_tool',
    on: 'networkCable',
    put: state('networkCable', 'insulation', () => ''),
  },
];

const textFaults: readonly Fault[] = (
  [
    ['a misspelt property', 'unknown_property', 'grid', 'freqency', '50 Hz'],
    ['a misspelt unit', 'unknown_unit', 'battery', 'capacity', '280 Ahh'],
    ['a unit of something else', 'wrong_dimension', 'battery', 'capacity', '280 V'],
    ['a word that is no choice', 'wrong_value', 'converter', 'modulation', 'square'],
    ['a span that runs backwards', 'reversed_range', 'battery', 'soc', '90 % .. 10 %'],
    ['a decimal comma', 'decimal_comma', 'site', 'altitude', '1,5 km'],
    ['a name that nobody gave', 'unknown_name', 'converter', 'ac_current', 'rated'],
    ['a value that is missing', 'syntax', 'converter', 'ac_current', '= 3 A'],
    ['a value that reads itself', 'cycle', 'grid', 'x_over_r', 'MAIN.x_over_r'],
  ] as const
).map(([name, code, section, property, words]) => ({
  name,
  code,
  on: undefined,
  put: state(section, property, () => words),
}));

export const factFaults: readonly Fault[] = [
  ...surroundingFaults,
  ...statedFaults,
  ...textFaults,
  { name: 'a tag given twice', code: 'duplicate', on: undefined, put: adding('grid MAIN { voltage = 400 V ± 10 % }') },
];
