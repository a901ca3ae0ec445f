/** Stated ranges and tolerances: the least, the stated and the greatest value that a fact may have. */
import { type Dimension, dimensions } from './dimension.ts';

/** Values in SI. In a range both ends occur and neither is nominal, so `nominal` is there for the other two only. */
export type Spread =
  | { readonly kind: 'exact' | 'tolerance'; readonly low: number; readonly nominal: number; readonly high: number }
  | { readonly kind: 'range'; readonly low: number; readonly nominal?: undefined; readonly high: number };

/** A share of the nominal (0.1 for 10 %) or an amount in SI; never negative. */
export interface Deviation {
  readonly by: number;
  readonly relative: boolean;
}

export type SpreadProblem =
  /** The upper end of a range is below its lower one. */
  | { readonly problem: 'reversed'; readonly low: number; readonly high: number }
  /** A tolerance below zero. */
  | { readonly problem: 'negative' }
  /** A share of a temperature in °C means nothing. */
  | { readonly problem: 'scale' }
  | { readonly problem: 'not_finite' };

export type SpreadResult = Spread | SpreadProblem;

/** One value without tolerance. */
export function exact(value: number): SpreadResult {
  return Number.isFinite(value)
    ? { kind: 'exact', low: value, nominal: value, high: value }
    : { problem: 'not_finite' };
}

/** `a .. b`: both ends occur. */
export function range(low: number, high: number): SpreadResult {
  if (!Number.isFinite(low) || !Number.isFinite(high)) return { problem: 'not_finite' };
  return high < low ? { problem: 'reversed', low, high } : { kind: 'range', low, high };
}

/** `v ± x %`, the ratio always of v, also where v is itself in per cent. */
export function relativeTolerance(nominal: number, ratio: number, dimension?: Dimension): SpreadResult {
  return asymmetricTolerance(nominal, { by: ratio, relative: true }, { by: ratio, relative: true }, dimension);
}

/** `v ± x unit`. */
export function absoluteTolerance(nominal: number, by: number): SpreadResult {
  return asymmetricTolerance(nominal, { by, relative: false }, { by, relative: false });
}

/** `v +a -b`, each side a share or an amount. With its dimension known, a share of a temperature is refused. */
export function asymmetricTolerance(
  nominal: number,
  above: Deviation,
  below: Deviation,
  dimension?: Dimension,
): SpreadResult {
  if (dimension === dimensions.temperature && (above.relative || below.relative)) return { problem: 'scale' };
  if (above.by < 0 || below.by < 0) return { problem: 'negative' };
  const low = nominal - amount(nominal, below);
  const high = nominal + amount(nominal, above);
  if (!Number.isFinite(low) || !Number.isFinite(high)) return { problem: 'not_finite' };
  return { kind: 'tolerance', low, nominal, high };
}

export function isSpreadProblem(result: SpreadResult): result is SpreadProblem {
  return 'problem' in result;
}

/** The values at which a fact is looked at: both ends, and the nominal between them where there is one. */
export function corners(spread: Spread): readonly number[] {
  const values = spread.nominal === undefined ? [spread.low, spread.high] : [spread.low, spread.nominal, spread.high];
  return values.filter((value, index) => value !== values[index - 1]);
}

/** The nominal, or the middle of a range: only for what explicitly asks for one typical value. */
export function middle(spread: Spread): number {
  return spread.nominal ?? spread.low + (spread.high - spread.low) / 2;
}

/** Does the value lie in it, ends included? */
export function contains(spread: Spread, value: number): boolean {
  return value >= spread.low && value <= spread.high;
}

/** All values times a factor; a negative one swaps the ends. */
export function scaleSpread(spread: Spread, factor: number): Spread {
  const ends = [spread.low * factor, spread.high * factor];
  const low = Math.min(...ends);
  const high = Math.max(...ends);
  return spread.nominal === undefined
    ? { kind: 'range', low, high }
    : { kind: spread.kind, low, nominal: spread.nominal * factor, high };
}

function amount(nominal: number, deviation: Deviation): number {
  return deviation.relative ? Math.abs(nominal) * deviation.by : deviation.by;
}
