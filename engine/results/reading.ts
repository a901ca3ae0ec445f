// A curve, a plain number or a slice of a surface as a function of one quantity.
import type { SurfaceFact } from '../model/plant.ts';
import { evaluateSurface } from '../units/curve.ts';
import type { OutsideCurve } from './noted.ts';

/** A curve or a plain number as a function, with the points between which it bends. */
export interface Reading {
  readonly of: (x: number) => number;
  readonly knots: readonly number[];
  /** The axis of the curve; undefined for a plain number. */
  readonly axis: string | undefined;
}

/** A surface along one of its axes, at `other` along the other one: there it may lie beyond its ends. */
export function sliceOf(
  { surface, axes }: SurfaceFact,
  axis: string,
  other: number,
): { readonly reading: Reading; readonly outside: Omit<OutsideCurve, 'tag' | 'property'> | undefined } {
  const rows = axes[0] === axis;
  const cross = rows ? surface.columns : surface.x;
  const [first, last] = [cross[0]!, cross.at(-1)!];
  const isOutside = other < first || other > last;
  const of = (x: number): number =>
    (rows ? evaluateSurface(surface, x, other) : evaluateSurface(surface, other, x)).value;
  return {
    reading: { of, knots: rows ? surface.x : surface.columns, axis },
    outside: isOutside ? { axis: rows ? axes[1] : axes[0], x: other, first, last } : undefined,
  };
}
