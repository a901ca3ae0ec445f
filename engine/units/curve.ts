/** Stated curves over one or two axes: checked points in, interpolated values out, and never a silent extrapolation. */

/** `linear` between points, `smooth` without overshoot, `log` straight on double logarithmic paper (fuse curves). */
export type CurveShape = 'linear' | 'smooth' | 'log';

/** What was stated, before it is checked. With `columns`, `y` holds the rows one after the other. */
export interface CurveSpec {
  readonly shape: CurveShape;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly columns?: readonly number[] | undefined;
}

/** One axis. */
export interface LineCurve {
  readonly shape: CurveShape;
  /** Strictly increasing. */
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Slopes at the points, for `smooth` only. */
  readonly slopes?: readonly number[];
}

/** Two axes: one row of values per `x`, one value per column; bilinear between. */
export interface Surface {
  readonly shape: 'surface';
  readonly x: readonly number[];
  readonly columns: readonly number[];
  readonly values: readonly (readonly number[])[];
}

export type Curve = LineCurve | Surface;

/** What is wrong with a table of points, and at which index. */
export interface CurveProblem {
  readonly problem: 'too_few' | 'length' | 'order' | 'not_finite' | 'not_positive' | 'shape';
  readonly index: number;
  /** Which list the index counts in. */
  readonly axis: 'x' | 'y' | 'columns';
}

export type CurveResult =
  | { readonly ok: true; readonly curve: Curve }
  /** `message` says in one sentence what the first problem is. */
  | { readonly ok: false; readonly problems: readonly CurveProblem[]; readonly message: string };

export type Side = 'below' | 'above';

export interface CurveValue {
  /** Held at the end value outside the points. */
  readonly value: number;
  readonly outside?: Side;
  /** Ends of the stated points. */
  readonly first: number;
  readonly last: number;
}

export interface SurfaceValue extends CurveValue {
  readonly outsideColumns?: Side;
  readonly firstColumn: number;
  readonly lastColumn: number;
}

/** An integration that ends a rounding error beyond the last point is not outside; relative to the span of the axis. */
const EDGE = 1e-9;

/**
 * Checks the points and makes a curve of them. At least two points on each axis, each axis strictly increasing, all
 * finite; for `log` all positive; two axes are linear.
 */
export function makeCurve(spec: CurveSpec): CurveResult {
  const problems = problemsOf(spec);
  const [worst] = problems;
  if (worst !== undefined) return { ok: false, problems, message: MESSAGES[worst.problem] };
  return {
    ok: true,
    curve: spec.columns === undefined ? makeLine(spec.shape, spec.x, spec.y) : makeSurface(spec, spec.columns),
  };
}

/** The value at x; outside the points the end value, and which side it is. */
export function evaluateCurve(curve: LineCurve, x: number): CurveValue {
  return { value: curveAt(curve, x), ...ends(curve.x, x) };
}

/** The value at x alone, for inner loops; outside the points the end value, of an unknown x unknown. */
export function curveAt(curve: LineCurve, x: number): number {
  const { x: xs, y: ys } = curve;
  if (!(x > xs[0]!)) return Number.isNaN(x) ? x : ys[0]!;
  if (x >= xs[xs.length - 1]!) return ys[ys.length - 1]!;
  return within(curve, segmentOf(xs, x), x);
}

/** The value of a table with two axes, bilinear; outside on either axis the edge value, and which side it is. */
export function evaluateSurface(surface: Surface, x: number, column: number): SurfaceValue {
  const [row, along] = position(surface.x, x);
  const [left, across] = position(surface.columns, column);
  const upper = blend(surface.values[row]![left]!, surface.values[row]![left + 1]!, across);
  const lower = blend(surface.values[row + 1]![left]!, surface.values[row + 1]![left + 1]!, across);
  const { outside, first, last } = ends(surface.columns, column);
  return {
    value: blend(upper, lower, along),
    ...ends(surface.x, x),
    ...(outside === undefined ? {} : { outsideColumns: outside }),
    firstColumn: first,
    lastColumn: last,
  };
}

/** The curve over x at one column of a table with two axes. */
export function curveAtColumn(surface: Surface, column: number): LineCurve {
  const y = surface.x.map(x => evaluateSurface(surface, x, column).value);
  return { shape: 'linear', x: surface.x, y };
}

/** Whether the values never fall or never rise; the curves between the points then don't either, of whatever kind. */
export function isMonotone(curve: LineCurve): boolean {
  return direction(curve) !== undefined;
}

/** Which way a monotone curve goes; undefined if it turns. */
export function direction(curve: LineCurve): 'rising' | 'falling' | 'flat' | undefined {
  let rises = false;
  let falls = false;
  for (let i = 1; i < curve.y.length; i++) {
    rises ||= curve.y[i]! > curve.y[i - 1]!;
    falls ||= curve.y[i]! < curve.y[i - 1]!;
  }
  if (rises && falls) return undefined;
  if (rises) return 'rising';
  return falls ? 'falling' : 'flat';
}

/**
 * Where a monotone curve takes the value y, the first such x where it is level; undefined if it turns. Beyond its
 * values the x of the nearer end; `outside` then says whether y lies below or above all values.
 */
export function inverse(curve: LineCurve, y: number): CurveValue | undefined {
  const way = direction(curve);
  if (way === undefined || Number.isNaN(y)) return undefined;
  const sign = way === 'falling' ? -1 : 1;
  const { x: xs, y: ys } = curve;
  const first = ys[0]!;
  const last = ys[ys.length - 1]!;
  const values = { first: Math.min(first, last), last: Math.max(first, last) };
  const side = sideOf(values.first, values.last, y);
  const outside = side === undefined ? {} : { outside: side };
  if (sign * y <= sign * first) return { value: xs[0]!, ...outside, ...values };
  const next = ys.findIndex(each => sign * each >= sign * y);
  const value = next < 0 ? xs[xs.length - 1]! : solveWithin(curve, next - 1, y, sign);
  return { value, ...outside, ...values };
}

/** The same curve, over one axis or two, with all values times a factor. */
export function scaleCurve(curve: LineCurve, factor: number): LineCurve;
export function scaleCurve(curve: Curve, factor: number): Curve;
export function scaleCurve(curve: Curve, factor: number): Curve {
  const scaled = (values: readonly number[]) => values.map(each => each * factor);
  if (curve.shape === 'surface') return { ...curve, values: curve.values.map(scaled) };
  const line = { ...curve, y: scaled(curve.y) };
  return curve.slopes === undefined ? line : { ...line, slopes: scaled(curve.slopes) };
}

/** The area under the curve from a to b (negative if b < a), with the end values held outside the points. Exact. */
export function integrateCurve(curve: LineCurve, from: number, to: number): number {
  if (to < from) return -integrateCurve(curve, to, from);
  const cuts = [from, ...curve.x.filter(x => x > from && x < to), to];
  let sum = 0;
  for (let i = 1; i < cuts.length; i++) sum += integrateStep(curve, cuts[i - 1]!, cuts[i]!);
  return sum;
}

/** Inside one segment or wholly outside: three points are exact for cubics, a power law has its own primitive. */
function integrateStep(curve: LineCurve, a: number, b: number): number {
  const ya = curveAt(curve, a);
  const yb = curveAt(curve, b);
  const isInside = a >= curve.x[0]! && b <= curve.x[curve.x.length - 1]!;
  if (curve.shape !== 'log' || !isInside || ya === 0)
    return ((b - a) * (ya + 4 * curveAt(curve, (a + b) / 2) + yb)) / 6;
  const exponent = Math.log(yb / ya) / Math.log(b / a) + 1;
  return exponent === 0 ? ya * a * Math.log(b / a) : (yb * b - ya * a) / exponent;
}

function within(curve: LineCurve, i: number, x: number): number {
  const x0 = curve.x[i]!;
  const x1 = curve.x[i + 1]!;
  const y0 = curve.y[i]!;
  const y1 = curve.y[i + 1]!;
  if (curve.shape === 'log') return y0 === 0 ? 0 : y0 * (y1 / y0) ** (Math.log(x / x0) / Math.log(x1 / x0));
  const t = (x - x0) / (x1 - x0);
  if (curve.slopes === undefined) return blend(y0, y1, t);
  return hermite(y0, y1, curve.slopes[i]! * (x1 - x0), curve.slopes[i + 1]! * (x1 - x0), t);
}

/** Cubic Hermite in the form that starts from the straight line, so that level stretches stay exactly level. */
function hermite(y0: number, y1: number, slope0: number, slope1: number, t: number): number {
  const rise = y1 - y0;
  const value = y0 + t * (rise + (1 - t) * ((1 - t) * (slope0 - rise) - t * (slope1 - rise)));
  return Math.min(Math.max(value, Math.min(y0, y1)), Math.max(y0, y1));
}

/**
 * Slopes that keep the cubic between its neighbours: F. N. Fritsch and R. E. Carlson, "Monotone piecewise cubic
 * interpolation", SIAM J. Numer. Anal. 17 (1980) 238-246 (from memory), with the circle of radius 3 as the limit.
 */
function monotoneSlopes(x: readonly number[], y: readonly number[]): number[] {
  const secants = x.slice(1).map((each, i) => (y[i + 1]! - y[i]!) / (each - x[i]!));
  const last = secants.length - 1;
  const slopes = x.map((_, i) => {
    const before = secants[Math.max(i - 1, 0)]!;
    const after = secants[Math.min(i, last)]!;
    return before * after <= 0 ? 0 : (before + after) / 2;
  });
  for (const [i, secant] of secants.entries()) limitSlopes(slopes, i, secant);
  return slopes;
}

function limitSlopes(slopes: number[], i: number, secant: number): void {
  if (secant === 0) {
    slopes[i] = slopes[i + 1] = 0;
    return;
  }
  const length = Math.hypot(slopes[i]! / secant, slopes[i + 1]! / secant);
  if (length <= 3) return;
  slopes[i] = (slopes[i]! * 3) / length;
  slopes[i + 1] = (slopes[i + 1]! * 3) / length;
}

/** Linear and log segments have a closed inverse; a monotone cubic is halved down to the last bits. */
function solveWithin(curve: LineCurve, i: number, y: number, sign: 1 | -1): number {
  const x0 = curve.x[i]!;
  const x1 = curve.x[i + 1]!;
  const y0 = curve.y[i]!;
  const y1 = curve.y[i + 1]!;
  if (y === y1) return x1;
  if (curve.shape === 'linear') return blend(x0, x1, (y - y0) / (y1 - y0));
  if (curve.shape === 'log' && y0 !== 0) return x0 * (x1 / x0) ** (Math.log(y / y0) / Math.log(y1 / y0));
  let low = x0;
  let high = x1;
  for (let step = 0; step < 60 && high > low; step++) {
    const middle = (low + high) / 2;
    if (sign * within(curve, i, middle) < sign * y) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The segment that holds x, for x inside the points. */
function segmentOf(xs: readonly number[], x: number): number {
  let low = 0;
  let high = xs.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (xs[middle]! <= x) low = middle;
    else high = middle;
  }
  return low;
}

/** Segment and the share of it, held at the ends. */
function position(xs: readonly number[], x: number): readonly [number, number] {
  const i = x >= xs[xs.length - 1]! ? xs.length - 2 : segmentOf(xs, x);
  const share = (x - xs[i]!) / (xs[i + 1]! - xs[i]!);
  return [i, Math.min(Math.max(share, 0), 1)];
}

/** Exact at both ends. */
function blend(a: number, b: number, share: number): number {
  return share === 1 ? b : a + (b - a) * share;
}

function ends(
  xs: readonly number[],
  x: number,
): { readonly outside?: Side; readonly first: number; readonly last: number } {
  const first = xs[0]!;
  const last = xs[xs.length - 1]!;
  const outside = sideOf(first, last, x);
  return outside === undefined ? { first, last } : { outside, first, last };
}

function sideOf(first: number, last: number, x: number): Side | undefined {
  const slack = EDGE * (last - first);
  if (x < first - slack) return 'below';
  return x > last + slack ? 'above' : undefined;
}

const MESSAGES: Readonly<Record<CurveProblem['problem'], string>> = {
  too_few: 'A curve needs at least two points on each axis.',
  length: 'A curve needs one value for each point.',
  order: 'The values along an axis must increase from each one to the next.',
  not_finite: 'A value of this curve is not a finite number.',
  not_positive: 'A curve between logarithmic axes takes positive values only.',
  shape: 'A curve over two axes is linear between its points.',
};

function problemsOf({ shape, x, y, columns }: CurveSpec): CurveProblem[] {
  const problems = axisProblems(x, 'x');
  if (columns !== undefined) problems.push(...axisProblems(columns, 'columns'));
  if (columns !== undefined && shape !== 'linear') problems.push({ problem: 'shape', index: 0, axis: 'y' });
  const wanted = x.length * (columns?.length ?? 1);
  if (y.length !== wanted) problems.push({ problem: 'length', index: Math.min(y.length, wanted), axis: 'y' });
  for (const [index, value] of y.entries()) {
    if (!Number.isFinite(value)) problems.push({ problem: 'not_finite', index, axis: 'y' });
  }
  if (shape === 'log') problems.push(...notPositive(x, 'x'), ...notPositive(y, 'y'));
  return problems;
}

function axisProblems(values: readonly number[], axis: 'x' | 'columns'): CurveProblem[] {
  const problems: CurveProblem[] = [];
  if (values.length < 2) problems.push({ problem: 'too_few', index: values.length, axis });
  for (const [index, value] of values.entries()) {
    if (!Number.isFinite(value)) problems.push({ problem: 'not_finite', index, axis });
    else if (index > 0 && value <= values[index - 1]!) problems.push({ problem: 'order', index, axis });
  }
  return problems;
}

function notPositive(values: readonly number[], axis: 'x' | 'y'): CurveProblem[] {
  return [...values.entries()]
    .filter(([, value]) => value <= 0)
    .map(([index]) => ({ problem: 'not_positive', index, axis }));
}

function makeLine(shape: CurveShape, x: readonly number[], y: readonly number[]): LineCurve {
  const line = { shape, x: [...x], y: [...y] };
  return shape === 'smooth' ? { ...line, slopes: monotoneSlopes(x, y) } : line;
}

function makeSurface({ x, y }: CurveSpec, columns: readonly number[]): Surface {
  const values = x.map((_, row) => y.slice(row * columns.length, (row + 1) * columns.length));
  return { shape: 'surface', x: [...x], columns: [...columns], values };
}
