// The kind `filter`: inductances and capacitors between converter and network.
import type { Kind, Property, QuantityType } from './kind.ts';
import { notNegative, orderFacts, positive } from './shared.ts';

/** A choke of one henry or a bank of one farad a phase belongs to no plant on a network. */
const atMostOne: Pick<QuantityType, 'greatest'> = { greatest: { value: 1, exclusive: false } };

const elements: readonly Property[] = [
  {
    name: 'converter_inductance',
    meaning: 'Inductance of the choke on the converter side, for each phase.',
    type: { is: 'quantity', dimension: 'inductance', forms: ['number', 'tolerance'], ...positive, ...atMostOne },
    need: 'required',
    example: '100 µH',
  },
  {
    name: 'network_inductance',
    meaning: 'Inductance of a choke of its own on the network side, for each phase, without transformer and network.',
    type: { is: 'quantity', dimension: 'inductance', forms: ['number', 'tolerance'], ...notNegative, ...atMostOne },
    need: 'optional',
    fallback: { text: '0 µH', reason: 'no choke of its own: transformer and network take its place' },
    example: '40 µH',
  },
  {
    name: 'capacitance',
    meaning:
      'Capacitance of one of the three equal capacitors, from phase to star point or, in delta, from phase to phase.',
    type: { is: 'quantity', dimension: 'capacitance', forms: ['number', 'tolerance'], ...notNegative, ...atMostOne },
    need: 'required',
    example: '300 µF',
  },
  {
    name: 'connection',
    meaning: 'Whether the capacitors are connected in star or in delta.',
    type: { is: 'choice', choices: ['star', 'delta'] },
    need: 'optional',
    fallback: { text: 'star', reason: 'the capacitance is stated for each phase' },
    example: 'star',
  },
];

const losses: readonly Property[] = [
  {
    name: 'damping_resistance',
    meaning: 'Resistance in series with each capacitor.',
    type: { is: 'quantity', dimension: 'resistance', forms: ['number'], ...notNegative },
    need: 'optional',
    fallback: { text: '0 ohm', reason: 'no resistor: only what is stated damps the resonance' },
    example: '60 mΩ',
  },
  {
    name: 'damping',
    meaning: 'Whether the resonance is damped by resistors, by the control of the converter, or not at all.',
    type: { is: 'choice', choices: ['passive', 'active', 'none'] },
    need: 'optional',
    otherwise: 'It is passive where `damping_resistance` is stated, and none where it is not.',
    example: 'active',
  },
  {
    name: 'resistance',
    meaning: 'Resistance of the chokes of both sides together, for each phase, at operating temperature.',
    type: { is: 'quantity', dimension: 'resistance', forms: ['number'], ...notNegative },
    need: 'optional',
    fallback: { text: '0 ohm', reason: 'left out: small against the reactance, and its loss counts as none' },
    example: '1.5 mΩ',
  },
  {
    name: 'rated_current',
    meaning: 'Rated current of the chokes, rms, continuous, for each phase.',
    type: { is: 'quantity', dimension: 'current', forms: ['number'], ...positive },
    need: 'optional',
    example: '900 A',
  },
];

export const filter: Kind = {
  name: 'filter',
  meaning: 'Chokes and capacitors that keep the switching of the converter away from the network.',
  role: 'ac',
  properties: [...elements, ...losses, ...orderFacts],
  snippet: `filter \${1:F1} {
  converter_inductance = \${2:100 µH}
  capacitance = \${3:300 µF}
  damping_resistance = \${4:60 mΩ}
}
`,
};
