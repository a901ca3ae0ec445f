/** Numbers with a dimension, and arithmetic that refuses what makes no sense instead of giving a wrong number. */
import {
  assignable,
  type Dimension,
  dimensions,
  divide as divideDimensions,
  isPlain,
  multiply as multiplyDimensions,
  power as powerOfDimension,
} from './dimension.ts';
import type { Unit } from './table.ts';

export interface Quantity {
  /** In SI, kelvin for a temperature; always finite. */
  readonly value: number;
  readonly dimension: Dimension;
  /** The unit that the author wrote, for display only. */
  readonly unit?: Unit;
}

export type QuantityProblem =
  /** The two sides measure different things. */
  | { readonly problem: 'dimension'; readonly left: Dimension; readonly right: Dimension }
  /** Arithmetic on a point of the temperature scale. */
  | { readonly problem: 'scale' }
  | { readonly problem: 'divide_by_zero' }
  /** An even root of something negative. */
  | { readonly problem: 'negative_root' }
  /** An exponent that leaves no measurable dimension, such as the root of a voltage. */
  | { readonly problem: 'exponent' }
  | { readonly problem: 'not_finite' };

export type QuantityResult = Quantity | QuantityProblem;

const SCALE: QuantityProblem = { problem: 'scale' };

export function isProblem(result: QuantityResult): result is QuantityProblem {
  return 'problem' in result;
}

/** The sum. Both sides measure the same; a temperature takes only a difference, from either side. */
export function add(a: Quantity, b: Quantity): QuantityResult {
  if (isPoint(a) && isPoint(b)) return SCALE;
  if (isPoint(a) || isPoint(b)) return shifted(a, b, a.value + b.value);
  return alike(a, b) ? made(a.value + b.value, wider(a, b), a.unit ?? b.unit) : mismatch(a, b);
}

/** The difference. Two temperatures give a temperature difference; a temperature less a difference is a temperature. */
export function subtract(a: Quantity, b: Quantity): QuantityResult {
  if (isPoint(a) && isPoint(b)) return made(a.value - b.value, dimensions.temperature_difference);
  if (isPoint(b)) return isDifference(a) ? SCALE : mismatch(a, b);
  if (isPoint(a)) return shifted(a, b, a.value - b.value);
  return alike(a, b) ? made(a.value - b.value, wider(a, b), a.unit ?? b.unit) : mismatch(a, b);
}

/** The product; see `multiply` in `dimension.ts` for what it measures. */
export function multiply(a: Quantity, b: Quantity): QuantityResult {
  if (isPoint(a) || isPoint(b)) return SCALE;
  return made(a.value * b.value, multiplyDimensions(a.dimension, b.dimension), keptUnit(a, b));
}

/** The quotient. */
export function divide(a: Quantity, b: Quantity): QuantityResult {
  if (isPoint(a) || isPoint(b)) return SCALE;
  if (b.value === 0) return { problem: 'divide_by_zero' };
  return made(a.value / b.value, divideDimensions(a.dimension, b.dimension), isPlain(b.dimension) ? a.unit : undefined);
}

/** The opposite. The sign of a literal temperature is part of the literal, so none is taken of a temperature. */
export function negate(a: Quantity): QuantityResult {
  return isPoint(a) ? SCALE : made(-a.value, a.dimension, a.unit);
}

export function abs(a: Quantity): QuantityResult {
  return isPoint(a) ? SCALE : made(Math.abs(a.value), a.dimension, a.unit);
}

/** A power with a plain number; what carries a dimension takes only exponents that leave whole ones. */
export function power(a: Quantity, exponent: number): QuantityResult {
  if (isPoint(a)) return SCALE;
  if (!Number.isFinite(exponent)) return { problem: 'not_finite' };
  if (a.value === 0 && exponent < 0) return { problem: 'divide_by_zero' };
  if (a.value < 0 && !Number.isInteger(exponent)) return { problem: 'negative_root' };
  const dimension = powerOfDimension(a.dimension, exponent);
  if (dimension === undefined) return { problem: 'exponent' };
  return made(a.value ** exponent, dimension, exponent === 1 ? a.unit : undefined);
}

export function sqrt(a: Quantity): QuantityResult {
  return power(a, 0.5);
}

/** -1, 0 or 1. Temperatures compare with temperatures, differences with differences. */
export function compare(a: Quantity, b: Quantity): -1 | 0 | 1 | QuantityProblem {
  if (!alike(a, b)) return mismatch(a, b);
  if (a.value === b.value) return 0;
  return a.value < b.value ? -1 : 1;
}

/** The smaller of the two, with its own unit. */
export function min(a: Quantity, b: Quantity): QuantityResult {
  if (!alike(a, b)) return mismatch(a, b);
  return a.value <= b.value ? a : b;
}

/** The larger of the two, with its own unit. */
export function max(a: Quantity, b: Quantity): QuantityResult {
  if (!alike(a, b)) return mismatch(a, b);
  return a.value >= b.value ? a : b;
}

/** Says on purpose which power a product of voltage and current is; any other dimension is refused. */
export function asPower(a: Quantity, kind: 'active' | 'reactive' | 'apparent'): QuantityResult {
  const wanted = {
    active: dimensions.active_power,
    reactive: dimensions.reactive_power,
    apparent: dimensions.apparent_power,
  }[kind];
  const fits = a.dimension === dimensions.power || a.dimension === wanted;
  return fits ? { value: a.value, dimension: wanted } : { problem: 'dimension', left: a.dimension, right: wanted };
}

function made(value: number, dimension: Dimension, unit?: Unit): QuantityResult {
  if (!Number.isFinite(value)) return { problem: 'not_finite' };
  return unit === undefined ? { value, dimension } : { value, dimension, unit };
}

function mismatch(a: Quantity, b: Quantity): QuantityProblem {
  return { problem: 'dimension', left: a.dimension, right: b.dimension };
}

function shifted(a: Quantity, b: Quantity, value: number): QuantityResult {
  const [point, shift] = isPoint(a) ? [a, b] : [b, a];
  return isDifference(shift) ? made(value, dimensions.temperature, point.unit) : mismatch(a, b);
}

function isPoint(a: Quantity): boolean {
  return a.dimension === dimensions.temperature;
}

function isDifference(a: Quantity): boolean {
  return a.dimension === dimensions.temperature_difference;
}

function alike(a: Quantity, b: Quantity): boolean {
  return a.dimension === b.dimension || (isPlain(a.dimension) && isPlain(b.dimension));
}

/** A plain number and a ratio add up to a ratio. */
function wider(a: Quantity, b: Quantity): Dimension {
  return assignable(a.dimension, b.dimension) && isPlain(a.dimension) && a.dimension !== b.dimension
    ? dimensions.ratio
    : a.dimension;
}

function keptUnit(a: Quantity, b: Quantity): Unit | undefined {
  if (isPlain(b.dimension)) return a.unit;
  return isPlain(a.dimension) ? b.unit : undefined;
}
