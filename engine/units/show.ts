/** From a value in SI to the text that a person reads, in a unit that suits its dimension and magnitude. */
import { type Dimension, dimensions, isMoney } from './dimension.ts';
import { printUnitsOf, unitsOf } from './preferred.ts';
import { fromSI, type Unit } from './read.ts';

export interface ShowOptions {
  /** Significant digits, 4 if not said; digits before the point are never dropped. */
  readonly digits?: number;
  /** The unit that the author wrote; kept as long as it measures the same. */
  readonly unit?: Unit;
}

const DIGITS = 4;
/** Beyond these a number is written with an exponent. */
const TOO_LONG = 1e7;
const TOO_SMALL = 1e-4;

/**
 * A value with its unit: `436.2 V`, `73 min`, `94 %`, `0.124 Ω/km`. Never throws. What is not a number is
 * "unknown", what has no end is "unlimited"; all else can be read back. The value is in SI (kelvin for a temperature).
 */
export function show(value: number | undefined, dimension: Dimension, options: ShowOptions = {}): string {
  if (value === undefined || Number.isNaN(value)) return 'unknown';
  if (!Number.isFinite(value)) return 'unlimited';
  const digits = options.digits ?? DIGITS;
  const unit = options.unit?.dimension === dimension ? options.unit : chooseUnit(value, dimension, digits);
  const shown = unit === undefined ? value : fromSI(value, unit);
  if (!Number.isFinite(shown)) return 'unlimited';
  const number = isMoney(dimension) ? showAmount(shown, unit) : showNumber(shown, digits);
  return unit === undefined || unit.text === '1' ? number : `${number} ${unit.text}`;
}

/** A difference of two temperatures, in kelvin: `12.5 K`. */
export function showDifference(kelvin: number | undefined, options: ShowOptions = {}): string {
  return show(kelvin, dimensions.temperature_difference, options);
}

/** The number alone, with this many significant digits and no trailing zeros; digits before the point are all kept. */
export function showNumber(value: number, digits: number = DIGITS): string {
  if (Number.isNaN(value)) return 'unknown';
  if (!Number.isFinite(value)) return 'unlimited';
  if (value === 0) return '0';
  const wanted = Math.min(Math.max(Math.round(digits) || DIGITS, 1), 17);
  const magnitude = Math.abs(value);
  if (magnitude >= TOO_LONG || magnitude < TOO_SMALL) return withExponent(value, wanted);
  const decimals = Math.max(0, wanted - 1 - Math.floor(Math.log10(magnitude)));
  return withoutTail(value.toFixed(Math.min(decimals, 20)));
}

/** The largest unit that the rounded value reaches, so that 999.97 W reads 1 kW and not 1000 W. */
function chooseUnit(value: number, dimension: Dimension, digits: number): Unit | undefined {
  const units = printUnitsOf(dimension);
  // Nothing at all is written in the most usual unit: `0 kW`, not `0 nW`.
  if (value === 0) return unitsOf(dimension)[0] ?? units[0]?.unit;
  const magnitude = Math.abs(value) * (1 + 0.5 * 10 ** -digits);
  return (units.findLast(({ from }) => magnitude >= from) ?? units[0])?.unit;
}

/** Money keeps every digit before the point, and cents only where they count. */
function showAmount(amount: number, unit: Unit | undefined): string {
  const isWhole = Math.abs(amount) >= 100 || Number.isInteger(amount);
  if (Math.abs(amount) >= 1e15) return withExponent(amount, 4);
  if (unit !== undefined && unit.factor !== 1) return showNumber(amount, DIGITS);
  const text = amount.toFixed(isWhole ? 0 : 2);
  return text === '-0' || text === '-0.00' ? '0' : text;
}

function withExponent(value: number, digits: number): string {
  const [mantissa = '', exponent = '0'] = value.toExponential(digits - 1).split('e');
  return `${withoutTail(mantissa)}e${Number(exponent)}`;
}

function withoutTail(text: string): string {
  const short = text.includes('.') ? text.replace(/\.?0+$/u, '') : text;
  return short === '-0' ? '0' : short;
}
