// The kind `converter`: a two-level, three-phase AC/DC converter on a network.
import { derating, losses } from './converter-losses.ts';
import type { Kind, Property } from './kind.ts';
import { rideThroughCurves } from './ride-through.ts';
import { commonPractice, notNegative, positive, rankedOrderFacts, share } from './shared.ts';

const carrier: Property = {
  name: 'carriers',
  meaning: 'Whether its carrier runs in step with those of the converters beside it, or on its own.',
  type: { is: 'choice', choices: ['own', 'synchronised'] },
  need: 'optional',
  fallback: { text: 'own', reason: 'converters run in step only where somebody sees to it' },
  example: 'synchronised',
};

const acSide: readonly Property[] = [
  {
    name: 'ac_current',
    meaning: 'Rated AC current, rms, continuous, for each phase, before any derating.',
    type: { is: 'quantity', dimension: 'current', forms: ['number'], ...positive },
    need: 'required',
    example: '850 A',
  },
  {
    name: 'ac_voltage',
    meaning: 'Span of AC voltage at its terminals within which it operates, line to line rms.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['range'], ...positive },
    need: 'optional',
    otherwise: 'Only the DC voltage limits the AC voltage.',
    example: '300 V .. 480 V',
  },
  {
    name: 'switching_frequency',
    meaning: 'Frequency of the carrier of its pulse-width modulation.',
    type: {
      is: 'quantity',
      dimension: 'frequency',
      forms: ['number'],
      ...positive,
      greatest: { value: 1e6, exclusive: false },
    },
    need: 'required',
    example: '4 kHz',
  },
  {
    name: 'modulation',
    meaning: 'Kind of modulation, which decides how much AC voltage a DC voltage yields.',
    type: { is: 'choice', choices: ['sine', 'third_harmonic', 'space_vector'] },
    need: 'expected',
    fallback: { text: 'space_vector', reason: commonPractice },
    otherwise:
      'It is sine where the star point on the converter side is earthed or loaded: by the transformer, or by a TN or TT network without one.',
    example: 'space_vector',
  },
  carrier,
];

const dcSide: readonly Property[] = [
  {
    name: 'dc_voltage',
    meaning: 'Span of DC voltage within which it operates, pole to pole.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['range'], ...positive },
    need: 'required',
    example: '550 V .. 850 V',
  },
  {
    name: 'dc_trip',
    meaning: 'DC voltage at which it blocks and trips, pole to pole.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'The upper end of `dc_voltage` is taken.',
    example: '880 V',
  },
  {
    name: 'dc_current',
    meaning: 'Rated DC current, continuous.',
    type: { is: 'quantity', dimension: 'current', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'Only the AC current limits the converter.',
    example: '900 A',
  },
  {
    name: 'dc_capacitance',
    meaning: 'Capacitance of its DC link.',
    type: { is: 'quantity', dimension: 'capacitance', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'How far the voltage of the link swings with the switching is not known.',
    example: '12 mF',
  },
];

const overload: readonly Property[] = [
  {
    name: 'overload',
    meaning: 'AC current as a ratio of the rated one that it carries for a time, coming again after a time.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['number'],
      clauses: { for: 'time', every: 'time' },
      least: { value: 1, exclusive: false },
      greatest: { value: 10, exclusive: false },
    },
    need: 'optional',
    otherwise: 'No overload is counted on.',
    example: '150 % for 60 s every 600 s',
  },
  {
    name: 'overload_class',
    meaning: 'Duty class after IEC 60146-1-1, which stands for a set of overloads and times.',
    type: { is: 'choice', choices: ['I', 'II', 'III', 'IV', 'V', 'VI'] },
    need: 'optional',
    otherwise: 'No overload is counted on.',
    example: 'II',
  },
  {
    name: 'cooling',
    meaning: 'What carries its heat away.',
    type: { is: 'choice', choices: ['air', 'liquid'] },
    need: 'optional',
    otherwise: 'Air: all of its loss warms the room.',
    example: 'air',
  },
  {
    name: 'room_heat',
    meaning: 'Share of its loss that warms the room; the rest leaves with the coolant.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...share },
    need: 'optional',
    otherwise: 'All of it with air, 10 % with liquid cooling: common practice, no source.',
    matters: { property: 'cooling', word: 'liquid' },
    example: '8 %',
  },
  {
    name: 'time_constant',
    meaning: 'Thermal time constant of its heat sink.',
    type: { is: 'quantity', dimension: 'time', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'All from 1 min to 10 min count (from memory), the worse for each duty.',
    example: '3 min',
  },
];

const opening = ['ac', 'dc', 'both', 'none'] as const;

/** Which devices part the converter from network and battery while its gates are blocked, and how soon. */
const openings: readonly Property[] = [
  {
    name: 'opens_on_blocking',
    meaning:
      'Switching device that opens whenever the gates are blocked: on the AC side, on the DC side, both or none.',
    type: { is: 'choice', choices: opening },
    need: 'optional',
    otherwise:
      'No device is taken to open while the gates are blocked, on a trip or in standby, but those whose opening time is stated.',
    example: 'none',
  },
  {
    name: 'opens_on_trip',
    meaning: 'Switching device that opens when a fault blocks the gates and trips the converter.',
    type: { is: 'choice', choices: opening },
    need: 'optional',
    otherwise: 'What opens on blocking opens on a trip.',
    example: 'both',
  },
  {
    name: 'opens_in_standby',
    meaning: 'Switching device that is open while the converter stands by, gates blocked and ready to start.',
    type: { is: 'choice', choices: opening },
    need: 'optional',
    otherwise: 'What opens on blocking is open in standby.',
    example: 'ac',
  },
  {
    name: 'opening_time',
    meaning: 'Time from the blocking of the gates until its AC switching device has opened.',
    type: { is: 'quantity', dimension: 'time', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'It is not known how soon the AC device opens; if none is said to open, the AC side stays connected.',
    example: '80 ms',
  },
  {
    name: 'dc_opening_time',
    meaning: 'Time from the blocking of the gates until the contactor between converter and battery has opened.',
    type: { is: 'quantity', dimension: 'time', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'It is not known how soon the DC contactor opens; if none is said to open, the battery stays connected.',
    example: '30 ms',
  },
];

const faultsAndSwitching: readonly Property[] = [
  {
    name: 'fault_current',
    meaning: 'AC current that it feeds into a short circuit at its terminals, rms, for each phase.',
    type: { is: 'quantity', dimension: 'current', forms: ['number'], ...notNegative },
    need: 'optional',
    example: '1000 A',
    notEvaluated: true,
  },
  {
    name: 'harmonics',
    meaning: 'Harmonic currents that the maker states, as ratios of the rated current over the order.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['curve'],
      axes: [{ name: 'order', dimension: 'count' }],
      ...notNegative,
    },
    need: 'optional',
    otherwise: 'Low orders are not checked.',
    example: 'curve order { 5 1.5 %, 7 1 %, 11 0.5 % }',
  },
  {
    name: 'least_short_circuit_ratio',
    meaning:
      'Least short-circuit power of the network, over the power of all converters on it, at which it runs stably.',
    type: { is: 'quantity', dimension: 'count', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'The ratio is judged by the `short_circuit_ratio` of the practice.',
    example: '3',
  },
  ...openings,
  ...rideThroughCurves(
    'that it stays on through',
    'Whether the converter itself stays on is not checked against the curve of the network.',
  ),
  {
    name: 'precharge',
    meaning: 'Whether a circuit that charges its DC link gently is built in.',
    type: { is: 'choice', choices: ['built_in', 'none'] },
    need: 'optional',
    example: 'built_in',
    notEvaluated: true,
  },
  {
    name: 'insulation_monitoring',
    meaning: 'Whether a device that watches the insulation of an unearthed circuit is built in.',
    type: { is: 'choice', choices: ['built_in', 'none'] },
    need: 'optional',
    example: 'built_in',
    notEvaluated: true,
  },
];

const control: readonly Property[] = [
  {
    name: 'control',
    meaning: 'What its control makes: a current that follows the network, or a voltage of its own.',
    type: { is: 'choice', choices: ['current', 'voltage'] },
    need: 'optional',
    otherwise: 'It is `voltage` where `mode` of a duty is forming, and `current` where it is not.',
    example: 'current',
  },
  {
    name: 'measuring_point',
    meaning: 'Component at whose network side its control measures voltage and current.',
    type: { is: 'reference', kinds: ['grid', 'bus', 'cable', 'transformer', 'filter', 'converter'] },
    need: 'optional',
    otherwise: 'Where it measures is not checked.',
    example: 'MAIN',
  },
  {
    name: 'voltage_error',
    meaning: 'Greatest error of its voltage measurement, each way, as a ratio of the nominal voltage.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...share },
    need: 'optional',
    otherwise: 'What it makes of the reactive power is not known.',
    example: '0.5 %',
  },
  {
    name: 'current_error',
    meaning: 'Greatest error of its current measurement, in size or angle alike, as a ratio of the rated current.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...share },
    need: 'optional',
    otherwise: 'What it makes of the reactive power is not known; a voltage control does without it.',
    example: '1 %',
  },
];

export const converter: Kind = {
  name: 'converter',
  meaning: 'A two-level, three-phase converter between an AC network and a DC circuit, for both directions of power.',
  role: 'converter',
  properties: [
    ...acSide,
    ...dcSide,
    ...losses,
    ...derating,
    ...overload,
    ...control,
    ...faultsAndSwitching,
    ...rankedOrderFacts,
  ],
  snippet: `converter \${1:K1} {
  ac_current = \${2:850 A}
  dc_voltage = \${3:550 V} .. \${4:850 V}
  switching_frequency = \${5:4 kHz}
  modulation = \${6|space_vector,third_harmonic,sine|}
  efficiency = \${7:98 %}
}
`,
};
