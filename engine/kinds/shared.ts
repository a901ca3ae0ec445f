// Pieces that the tables of several kinds share: bounds, reasons in fixed words, and the facts of an order.
import type { Property, QuantityType } from './kind.ts';

type Bounds = Pick<QuantityType, 'least' | 'greatest'>;

export const positive: Bounds = { least: { value: 0, exclusive: true } };
export const notNegative: Bounds = { least: { value: 0, exclusive: false } };
/** A share of a whole, both ends included. */
export const share: Bounds = { ...notNegative, greatest: { value: 1, exclusive: false } };
/** A share of a whole that is never nothing. */
export const positiveShare: Bounds = { ...positive, greatest: { value: 1, exclusive: false } };

/** Temperatures of air and equipment in kelvin: -90 °C (colder than the coldest station, from memory) to 150 °C. */
export const temperatureBounds: Bounds = {
  least: { value: 183.15, exclusive: false },
  greatest: { value: 423.15, exclusive: false },
};

/** Heights above sea level in metres, from below the lowest land to above the highest summit (from memory). */
export const altitudeBounds: Bounds = {
  least: { value: -500, exclusive: false },
  greatest: { value: 9000, exclusive: false },
};

/** In words that never pass a custom off as a clause. */
export const commonPractice = 'common practice, no source';

export const yesNo = ['yes', 'no'] as const;

/** What is worth knowing of a part that is bought, and enters no result. */
const describingFacts: readonly Property[] = [
  {
    name: 'order_code',
    meaning: 'The supplier’s designation by which the part is ordered.',
    type: { is: 'text' },
    need: 'optional',
    example: '"PART-0001"',
    descriptive: true,
  },
  {
    name: 'mass',
    meaning: 'Mass of one piece, ready for operation.',
    type: { is: 'quantity', dimension: 'mass', forms: ['number'], ...positive },
    need: 'optional',
    example: '620 kg',
    descriptive: true,
  },
  dimensionOfHousing('width', 'Width of one piece over its housing, seen from the front.', '800 mm'),
  dimensionOfHousing('height', 'Height of one piece over its housing.', '2000 mm'),
  dimensionOfHousing('depth', 'Depth of one piece over its housing, from front to back.', '600 mm'),
];

const price: Property = {
  name: 'price',
  meaning: 'Price of the part as described here, in any currency; currencies are never converted into each other.',
  type: { is: 'quantity', dimension: 'money', forms: ['number'], ...notNegative },
  need: 'optional',
  example: '31_000 EUR',
};

/** The facts of an order where the price ranks the candidates of a `pick`. */
export const rankedOrderFacts: readonly Property[] = [price, ...describingFacts];

/** The facts of an order where the price ranks nothing yet. */
export const orderFacts: readonly Property[] = [{ ...price, notEvaluated: true }, ...describingFacts];

function dimensionOfHousing(name: string, meaning: string, example: string): Property {
  return {
    name,
    meaning,
    type: { is: 'quantity', dimension: 'length', forms: ['number'], ...positive },
    need: 'optional',
    example,
    descriptive: true,
  };
}
