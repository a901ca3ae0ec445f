// What a converter loses, and what its surroundings and its switching leave of its rated current.
import type { Property } from './kind.ts';
import { commonPractice, notNegative, positive, positiveShare, share } from './shared.ts';

export const losses: readonly Property[] = [
  {
    name: 'efficiency',
    meaning: 'Output power divided by input power, as one value or over the load, the share of the rated AC current.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['number', 'curve'],
      axes: [{ name: 'load', dimension: 'ratio' }],
      ...positiveShare,
    },
    need: 'expected',
    fallback: { text: '98 %', reason: commonPractice },
    replacedBy: ['fixed_loss', 'linear_loss', 'quadratic_loss', 'switching_loss'],
    otherwise:
      'Where `fixed_loss`, `linear_loss` or `quadratic_loss` is stated, they stand in its place; of a loss without power `no_load_loss` tells.',
    example: 'curve load { 10 % 95 %, 50 % 98.2 %, 100 % 98 % }',
  },
  {
    name: 'no_load_loss',
    meaning: 'Loss while it is switching and no power passes, where an `efficiency` is all that is known otherwise.',
    type: { is: 'quantity', dimension: 'active_power', forms: ['number'], ...notNegative },
    need: 'optional',
    otherwise: 'It follows from the parts of the loss; where none is stated, it is not known.',
    example: '900 W',
  },
  {
    name: 'fixed_loss',
    meaning: 'Part of the loss that does not depend on the current.',
    type: { is: 'quantity', dimension: 'active_power', forms: ['number'], ...notNegative },
    need: 'optional',
    otherwise: 'It is nothing where another part of the loss is stated; else `efficiency` holds.',
    example: '1.2 kW',
  },
  {
    name: 'linear_loss',
    meaning: 'Part of the loss that grows with the AC current: watts for each ampere rms, which is a voltage.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['number'], ...notNegative },
    need: 'optional',
    otherwise: 'It is nothing where another part of the loss is stated; else `efficiency` holds.',
    example: '5 V',
  },
  {
    name: 'quadratic_loss',
    meaning: 'Part of the loss that grows with the square of the AC current, all three phases together.',
    type: { is: 'quantity', dimension: 'resistance', forms: ['number'], ...notNegative },
    need: 'optional',
    otherwise: 'It is nothing where another part of the loss is stated; else `efficiency` holds.',
    example: '4.5 mΩ',
  },
  {
    name: 'switching_loss',
    meaning:
      'Part of the loss that grows with AC current, DC voltage and switching frequency: watts for each ampere rms.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['number'], ...notNegative },
    need: 'optional',
    otherwise:
      'It is nothing where another part of the loss is stated; else `efficiency` holds, at the stated switching frequency.',
    example: '6 V',
  },
  {
    name: 'loss_voltage',
    meaning: 'DC voltage at which `switching_loss` is stated, pole to pole.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'The upper end of `dc_voltage` is taken.',
    example: '750 V',
  },
  {
    name: 'rated_frequency',
    meaning: 'Switching frequency at which its rated AC current and its `switching_loss` are stated.',
    type: { is: 'quantity', dimension: 'frequency', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'They are taken to hold at `switching_frequency`.',
    example: '4 kHz',
  },
];

export const derating: readonly Property[] = [
  {
    name: 'ambient_derating',
    meaning: 'Share of the rated AC current that is left, over the temperature of the cooling air.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['curve'],
      axes: [{ name: 'temperature', dimension: 'temperature' }],
      ...share,
    },
    need: 'expected',
    fallback: {
      text: 'curve temperature { -90 °C 100 %, 40 °C 100 % }',
      reason: `${commonPractice}: full current up to 40 °C; what is left above only the maker can say`,
    },
    example: 'curve temperature { -20 °C 100 %, 40 °C 100 %, 50 °C 85 % }',
  },
  {
    name: 'altitude_derating',
    meaning: 'Share of the rated AC current that is left, over the height above sea level.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['curve'],
      axes: [{ name: 'altitude', dimension: 'length' }],
      ...share,
    },
    need: 'expected',
    fallback: {
      text: 'curve altitude { -500 m 100 %, 1000 m 100 %, 4000 m 70 % }',
      reason: `${commonPractice}: 1 % for each 100 m above 1000 m`,
    },
    example: 'curve altitude { 0 m 100 %, 1500 m 100 %, 3000 m 88 % }',
  },
  {
    name: 'switching_derating',
    meaning: 'Share of the rated AC current that is left, over the switching frequency.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['curve'],
      axes: [{ name: 'frequency', dimension: 'frequency' }],
      ...share,
    },
    need: 'optional',
    otherwise:
      'Above `rated_frequency` the loss is kept, and half of it is taken to grow with the frequency: common practice, no source.',
    example: 'curve frequency { 2 kHz 100 %, 4 kHz 100 %, 8 kHz 70 % }',
  },
];
