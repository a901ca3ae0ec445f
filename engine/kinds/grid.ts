// The kind `grid`: the AC network at the connection point.
import type { Kind } from './kind.ts';
import { rideThroughCurves } from './ride-through.ts';
import { notNegative, positive, positiveShare, share } from './shared.ts';

export const grid: Kind = {
  name: 'grid',
  meaning: 'The AC network at the connection point: a source behind its own impedance.',
  role: 'source',
  properties: [
    {
      name: 'voltage',
      meaning: 'Nominal voltage at the connection point, line to line rms, with the band in which it stays lastingly.',
      type: { is: 'quantity', dimension: 'voltage', forms: ['number', 'tolerance'], ...positive },
      need: 'required',
      toleranceFallback: { text: '10 %', reason: 'EN 50160, public low-voltage network' },
      example: '400 V ± 10 %',
    },
    {
      name: 'frequency',
      meaning: 'Nominal frequency of the network, with the band in which it stays lastingly.',
      type: {
        is: 'quantity',
        dimension: 'frequency',
        forms: ['number', 'tolerance'],
        ...positive,
        greatest: { value: 1000, exclusive: false },
      },
      need: 'required',
      toleranceFallback: { text: '1 %', reason: 'EN 50160, interconnected network (from memory)' },
      example: '50 Hz ± 1 %',
    },
    {
      name: 'fault_power',
      meaning: 'Three-phase initial short-circuit power at the connection point without this plant, least to greatest.',
      type: { is: 'quantity', dimension: 'apparent_power', forms: ['number', 'range'], ...positive },
      need: 'optional',
      otherwise:
        'What depends on the impedance of the network is computed for a network without impedance, or left out.',
      example: '9 MVA .. 14 MVA',
    },
    {
      name: 'x_over_r',
      meaning: 'Reactance of the network divided by its resistance, at network frequency.',
      type: {
        is: 'quantity',
        dimension: 'count',
        forms: ['number'],
        ...notNegative,
        greatest: { value: 1000, exclusive: false },
      },
      need: 'optional',
      fallback: { text: '10', reason: 'IEC 60909-0, R = 0.1 X where nothing better is known (from memory)' },
      example: '5',
    },
    {
      name: 'temporary_overvoltage',
      meaning:
        'Highest voltage that may stand for seconds or longer, line to line rms, as a ratio of the nominal voltage.',
      type: {
        is: 'quantity',
        dimension: 'ratio',
        forms: ['number'],
        least: { value: 1, exclusive: false },
        greatest: { value: 5, exclusive: false },
      },
      need: 'optional',
      otherwise: 'The upper end of the network’s voltage band is taken.',
      example: '115 %',
    },
    {
      name: 'unbalance',
      meaning: 'Negative-sequence voltage as a ratio of the positive-sequence voltage.',
      type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...share },
      need: 'expected',
      fallback: {
        text: '0 %',
        reason: 'the stated voltage band is taken to hold for each pair of phases',
      },
      example: '2 %',
    },
    {
      name: 'earthing',
      meaning: 'Type of system earthing of the network.',
      type: { is: 'choice', choices: ['tn', 'tt', 'it'] },
      need: 'optional',
      otherwise: 'Where a converter stands on it without a transformer, its star point is taken to float.',
      example: 'tn',
    },
    {
      name: 'distortion_limit',
      meaning: 'Published set of limits that the harmonic voltages and currents at the connection point must keep.',
      type: {
        is: 'choice',
        choices: [
          'en_50160',
          'iec_61000_2_4_class_1',
          'iec_61000_2_4_class_2',
          'iec_61000_2_4_class_3',
          'ieee_519',
          'iacs_ur_e24',
        ],
      },
      need: 'optional',
      example: 'en_50160',
    },
    {
      name: 'voltage_change_limit',
      meaning: 'Greatest voltage change that a duty may cause at the connection point, as a ratio of the nominal.',
      type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...positiveShare },
      need: 'optional',
      otherwise: 'The limit `voltage_change` of the practice holds.',
      example: '3 %',
    },
    ...rideThroughCurves(
      'that the plant must ride through',
      'No ride-through is asked for. Where it is, the lasting band holds again behind the last point.',
    ),
    {
      name: 'reactive_current_gain',
      meaning:
        'Reactive current to add in a dip, over the rated current, for each ratio of voltage that is missing to nominal.',
      type: {
        is: 'quantity',
        dimension: 'count',
        forms: ['number'],
        ...notNegative,
        greatest: { value: 20, exclusive: false },
      },
      need: 'optional',
      otherwise: 'No reactive current is asked for in a dip.',
      example: '2',
    },
    {
      name: 'power_in_dip',
      meaning: 'Whether active power must be held while the voltage is low, or may fall with it.',
      type: { is: 'choice', choices: ['held', 'reduced'] },
      need: 'optional',
      fallback: { text: 'reduced', reason: 'common practice, no source: the current is limited, the power falls' },
      example: 'held',
    },
  ],
  snippet: `grid \${1:MAIN} {
  voltage = \${2:400 V} ± \${3:10 %}
  frequency = \${4:50 Hz} ± \${5:1 %}
  fault_power = \${6:9 MVA} .. \${7:14 MVA}
  x_over_r = \${8:5}
}
`,
};
