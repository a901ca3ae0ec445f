// The kind `cable`: a run of cables on the AC or on the DC side.
import type { Kind, Property } from './kind.ts';
import { commonPractice, notNegative, orderFacts, positive, temperatureBounds } from './shared.ts';

const run: readonly Property[] = [
  {
    name: 'length',
    meaning: 'Length of the run, one way; on the DC side the way back is counted in by the tool.',
    type: { is: 'quantity', dimension: 'length', forms: ['number'], ...positive },
    need: 'required',
    example: '35 m',
  },
  {
    name: 'cross_section',
    meaning: 'Nominal cross-section of one conductor.',
    type: {
      is: 'quantity',
      dimension: 'area',
      forms: ['number'],
      ...positive,
      greatest: { value: 0.01, exclusive: false },
    },
    need: 'required',
    example: '240 mm²',
  },
  {
    name: 'parallel',
    meaning: 'Number of equal conductors in parallel, for each phase or each pole.',
    type: {
      is: 'quantity',
      dimension: 'count',
      forms: ['number'],
      whole: true,
      least: { value: 1, exclusive: false },
    },
    need: 'optional',
    fallback: { text: '1', reason: 'a run without parallel conductors' },
    example: '4',
  },
];

const construction: readonly Property[] = [
  {
    name: 'conductor',
    meaning: 'Metal of the conductors.',
    type: { is: 'choice', choices: ['copper', 'aluminium'] },
    need: 'expected',
    fallback: { text: 'copper', reason: commonPractice },
    example: 'copper',
  },
  {
    name: 'insulation',
    meaning:
      'Insulation of the conductors; it sets their operating temperature: 90 °C for xlpe, 70 °C for pvc (from memory).',
    type: { is: 'choice', choices: ['xlpe', 'pvc'] },
    need: 'expected',
    fallback: { text: 'xlpe', reason: commonPractice },
    example: 'xlpe',
  },
  {
    name: 'reactance',
    meaning: 'Reactance of one conductor per length at network frequency; it counts on the AC side only.',
    type: { is: 'quantity', dimension: 'resistance_per_length', forms: ['number'], ...notNegative },
    need: 'optional',
    fallback: { text: '0.08 ohm/km', reason: 'IEC 60364-5-52, Annex G (from memory)' },
    example: '0.08 ohm/km',
  },
  {
    name: 'resistance',
    meaning:
      'Direct-current resistance of one conductor per length at its operating temperature, as its maker states it.',
    type: { is: 'quantity', dimension: 'resistance_per_length', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'The resistance follows from cross-section, conductor and operating temperature.',
    example: '0.098 ohm/km',
  },
];

const surroundings: readonly Property[] = [
  {
    name: 'installation',
    meaning:
      'Reference method of installation after IEC 60364-5-52, which decides the current that the cable may carry.',
    type: { is: 'choice', choices: ['A1', 'A2', 'B1', 'B2', 'C', 'D1', 'D2', 'E', 'F', 'G'] },
    need: 'optional',
    otherwise: 'The current is not judged against what the cable may carry.',
    example: 'E',
  },
  {
    name: 'grouping',
    meaning:
      'Number of loaded circuits side by side, this run being one; its own conductors in parallel are added by the tool.',
    type: {
      is: 'quantity',
      dimension: 'count',
      forms: ['number'],
      whole: true,
      least: { value: 1, exclusive: false },
    },
    need: 'optional',
    fallback: { text: '1', reason: 'a run that lies alone' },
    example: '3',
  },
  {
    name: 'ambient',
    meaning: 'Temperature of the air or soil around the cable.',
    type: { is: 'quantity', dimension: 'temperature', forms: ['number', 'range'], ...temperatureBounds },
    need: 'optional',
    otherwise: 'The plant’s `ambient` holds.',
    example: '5 °C .. 35 °C',
  },
];

export const cable: Kind = {
  name: 'cable',
  meaning: 'A run of cables between two components, on the AC or on the DC side.',
  role: 'either',
  properties: [...run, ...construction, ...surroundings, ...orderFacts],
  snippet: `cable \${1:W1} {
  length = \${2:35 m}
  cross_section = \${3:240 mm²}
  parallel = \${4:4}
  conductor = \${5|copper,aluminium|}
  insulation = \${6|xlpe,pvc|}
}
`,
};
