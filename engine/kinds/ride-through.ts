// The curves of ride-through, which a network asks for and a converter is built for: how deep, and for how long.
import type { DimensionName } from '../units/dimension.ts';
import type { Property, QuantityType } from './kind.ts';

interface Curve {
  readonly name: string;
  readonly what: string;
  readonly dimension: DimensionName;
  readonly greatest: number;
  readonly example: string;
}

const curves: readonly Curve[] = [
  {
    name: 'low_voltage_ride_through',
    what: 'Lowest voltage, as a ratio of nominal, over the time since a dip began',
    dimension: 'ratio',
    greatest: 1.2,
    example: 'curve time { 0 s 5 %, 250 ms 5 %, 3 s 85 % }',
  },
  {
    name: 'high_voltage_ride_through',
    what: 'Highest voltage, as a ratio of nominal, over the time since a swell began',
    dimension: 'ratio',
    greatest: 3,
    example: 'curve time { 0 s 120 %, 100 ms 120 %, 110 ms 115 %, 60 s 115 % }',
  },
  {
    name: 'low_frequency_ride_through',
    what: 'Lowest frequency over the time since it began to fall',
    dimension: 'frequency',
    greatest: 1000,
    example: 'curve time { 0 s 47.5 Hz, 30 min 47.5 Hz, 31 min 49 Hz }',
  },
  {
    name: 'high_frequency_ride_through',
    what: 'Highest frequency over the time since it began to rise',
    dimension: 'frequency',
    greatest: 1000,
    example: 'curve time { 0 s 51.5 Hz, 30 min 51.5 Hz, 31 min 51 Hz }',
  },
];

/** The four curves of a kind: `suffix` ends the meaning, `otherwise` says what holds where none is stated. */
export function rideThroughCurves(suffix: string, otherwise: string): readonly Property[] {
  return curves.map(({ name, what, dimension, greatest, example }) => ({
    name,
    meaning: `${what}, ${suffix}.`,
    type: typeOf(dimension, greatest),
    need: 'optional',
    otherwise,
    example,
  }));
}

function typeOf(dimension: DimensionName, greatest: number): QuantityType {
  return {
    is: 'quantity',
    dimension,
    forms: ['curve'],
    axes: [{ name: 'time', dimension: 'time' }],
    least: { value: 0, exclusive: false },
    greatest: { value: greatest, exclusive: false },
  };
}
