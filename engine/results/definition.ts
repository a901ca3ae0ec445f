// How a derived value is declared: once, with its name, dimension, formula, source and the function that pulls others.
import type { KindName } from '../kinds/kind.ts';
import type { DimensionName } from '../units/dimension.ts';
import type { Slab } from './graph.ts';
import type { Read } from './read.ts';
import { type Taken, takenAt } from './taken.ts';

/**
 * What a value may vary with, beyond the case: the duty, whether reactive power is delivered or absorbed, the network's
 * voltage, and the end of the duty's state-of-charge span.
 */
export type Axis = 'duty' | 'direction' | 'voltage' | 'soc';

export const directions = ['delivering', 'absorbing'] as const;
export const voltages = ['low', 'nominal', 'high'] as const;
export const socEnds = ['bottom', 'top'] as const;

/** Indices into `directions`, `voltages` and `socEnds`; a coordinate that a value does not vary with is 0. */
export interface At {
  readonly direction: number;
  readonly voltage: number;
  readonly soc: number;
}

interface Common {
  /** Counts all definitions, in the order in which they are made. */
  readonly id: number;
  /** Counts the definitions of one kind of component, for dense tables. */
  readonly place: number;
  readonly name: string;
  readonly on: KindName;
  readonly axes: readonly Axis[];
  /** Whether the duty is among the axes. */
  readonly underDuty: boolean;
  /** By how much the index of a point grows with each coordinate; 0 for one that it does not vary with. */
  readonly strides: At;
  /** How many numbers stand in a column for one point: more than one of figures alone. */
  readonly width: number;
  /** Of a value that is nothing but a formula of others. */
  readonly taken: Taken | undefined;
}

/** What holds a value down, or ends a run: a word for programs; `limitWords` says it to people. */
export type Limit =
  | 'discharge_current'
  | 'charge_current'
  | 'pulse_current'
  | 'pulse_time'
  | 'least_voltage'
  | 'greatest_voltage'
  | 'power_collapse'
  | 'converter_current'
  | 'converter_dc_current'
  | 'dc_voltage'
  | 'network_path'
  | 'charging_power'
  | 'soc'
  | 'warranty_energy'
  | 'warranty_cycles'
  | 'warranty_time';

export const limitWords: Readonly<Record<Limit, string>> = {
  discharge_current: 'the discharge current of the strings',
  charge_current: 'the charge current of the strings',
  pulse_current: 'the short-time current of the strings',
  pulse_time: 'the time for which the short-time current is permitted',
  least_voltage: 'the least voltage of the battery',
  greatest_voltage: 'the greatest voltage of the battery',
  power_collapse: 'the battery’s resistance, E²/(4·R)',
  converter_current: 'the current of the converter',
  converter_dc_current: 'the direct current of the converter',
  dc_voltage: 'the DC voltage that the converter needs',
  network_path: 'what the way to the network lets through',
  charging_power: 'the power of the charge duty',
  soc: 'the end of the state-of-charge span',
  warranty_energy: 'the energy that the warranty covers',
  warranty_cycles: 'the full cycles that the warranty covers',
  warranty_time: 'the years of the warranty',
};

/** A value over a stretch of the state of charge in which one limit holds it. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly limit: Limit;
  /** In the order of the state of charge, both ends included: for plots. */
  readonly points: readonly { readonly soc: number; readonly value: number }[];
}

/** A number that people see. Inside, a missing number is NaN, which absorbs; it never leaves the value table. */
export interface Result extends Common {
  readonly type: 'result';
  readonly dimension: DimensionName;
  /** One plain sentence with its basis. */
  readonly meaning: string;
  /** In the notation of the trade. */
  readonly formula: string;
  /** Standard, handbook or `definition`; `common practice, no source` where it is that. */
  readonly source: string;
  readonly corners: 'nominal parts' | 'all tolerances at their worst' | 'extremes of the stated span';
  /** Which end is the worst. */
  readonly worst: 'highest' | 'lowest';
  readonly compute: (read: Read, at: At) => number;
  readonly column: ((read: Read) => (at: At) => number) | undefined;
  /** What binds it at a point, where something does. */
  readonly limit: ((read: Read, at: At) => Limit | undefined) | undefined;
  /** The value over the state of charge, stretch by stretch; made when somebody asks. */
  readonly stretches: ((read: Read, at: At) => readonly Stretch[]) | undefined;
}

/** Something that several results are taken from: a solved ladder, a discharge. Not shown itself. */
export interface Step<T> extends Common {
  readonly type: 'step';
  readonly compute: (read: Read, at: At) => T;
  readonly column: ((read: Read) => (at: At) => T) | undefined;
  readonly equal: (a: T, b: T) => boolean;
  /** The results that tell people the same; without them a derivation opens the step up to what it looked at. */
  readonly shownAs: (() => readonly Result[]) | undefined;
}

/**
 * As a step, of an outcome that is a few numbers: they stand side by side in its columns, without an object for each
 * point. NaN where one is unknown.
 */
export interface Figures<Name extends string = string> extends Common {
  readonly type: 'figures';
  readonly compute: (read: Read, at: At) => readonly number[];
  readonly column: ((read: Read) => (at: At) => readonly number[]) | undefined;
  readonly shownAs: (() => readonly Result[]) | undefined;
  readonly figure: Readonly<Record<Name, Figure>>;
}

/** One of the numbers of figures, by its place among them. */
export interface Figure {
  readonly type: 'figure';
  readonly of: Figures;
  readonly place: number;
}

export type Definition = Result | Step<unknown> | Figures;

/** What is worked out where a value is declared. */
type Numbers = 'id' | 'place' | 'underDuty' | 'strides' | 'width';

let made = 0;
const placesOf = new Map<KindName, number>();

/** The next free numbers of a kind. */
function numbersFor(kind: KindName): Pick<Common, 'id' | 'place'> {
  const place = placesOf.get(kind) ?? 0;
  placesOf.set(kind, place + 1);
  return { id: made++, place };
}

/** One more than the greatest `place` of a kind. */
export function placeCount(kind: KindName): number {
  return placesOf.get(kind) ?? 0;
}

type Ways = 'compute' | 'column' | 'taken';

/** How a value comes about: point by point, or with what its points share looked at once and before them. */
type Computed<T> = { readonly compute: (read: Read, at: At) => T } | { readonly column: (read: Read) => (at: At) => T };

/** By a formula; `column` where there is no component that the formula is taken from. */
type TakenOr<T> = { readonly taken: Taken; readonly column?: (read: Read) => (at: At) => T };

export function defineResult(
  result: Omit<Result, 'type' | Ways | 'limit' | 'stretches' | Numbers> &
    Partial<Pick<Result, 'limit' | 'stretches'>> &
    (Computed<number> | TakenOr<number>),
): Result {
  const { name, on, axes, dimension, meaning, formula, source, corners, worst, limit, stretches } = result;
  const taken = 'taken' in result ? result.taken : undefined;
  const column = 'column' in result ? result.column : undefined;
  const compute = taken === undefined ? pointwise(result as Computed<number>) : takenAt(taken, 1, column, first);
  const ways = { compute, column, taken, limit, stretches };
  // All in one order: the engine looks at hundreds of them in turn, which is quick only for objects of few shapes.
  return {
    type: 'result',
    ...numbersFor(on),
    name,
    on,
    axes,
    ...walk(axes),
    dimension,
    meaning,
    formula,
    source,
    corners,
    worst,
    width: 1,
    ...ways,
  };
}

export function defineStep<T>(
  step: Omit<Step<T>, 'type' | 'equal' | 'shownAs' | Ways | Numbers> &
    Partial<Pick<Step<T>, 'equal' | 'shownAs'>> &
    Computed<T>,
): Step<T> {
  const { name, on, axes, equal = sameStructure, shownAs } = step;
  const column = 'column' in step ? step.column : undefined;
  const ways = { compute: pointwise(step), column, equal, shownAs };
  return { type: 'step', ...numbersFor(on), name, on, axes, ...walk(axes), width: 1, taken: undefined, ...ways };
}

export function defineFigures<Name extends string>(
  figures: Pick<Figures, 'name' | 'on' | 'axes'> &
    Partial<Pick<Figures, 'shownAs'>> & { readonly names: readonly Name[] } & (
      | Computed<readonly number[]>
      | TakenOr<readonly number[]>
    ),
): Figures<Name> {
  const { name, on, axes, shownAs, names } = figures;
  const width = names.length;
  const taken = 'taken' in figures ? figures.taken : undefined;
  const column = 'column' in figures ? figures.column : undefined;
  const computed = figures as Computed<readonly number[]>;
  const compute = taken === undefined ? pointwise(computed) : takenAt(taken, width, column, itself);
  const figure = {} as Record<Name, Figure>;
  const made = { type: 'figures', ...numbersFor(on), name, on, axes, ...walk(axes), width, taken, compute } as const;
  const all: Figures<Name> = { ...made, column, shownAs, figure };
  for (const [place, each] of names.entries()) figure[each] = { type: 'figure', of: all, place };
  return all;
}

const first = (numbers: readonly number[]): number => numbers[0]!;
const itself = (numbers: readonly number[]): readonly number[] => numbers;

function pointwise<T>(computed: Computed<T>): (read: Read, at: At) => T {
  return 'compute' in computed ? computed.compute : (read, at) => computed.column(read)(at);
}

/** How many points a definition has in one case and duty. */
export function pointCount(definition: Definition): number {
  let count = 1;
  for (const axis of definition.axes) if (axis !== 'duty') count *= pointCountAlong(axis);
  return count;
}

export function pointIndex({ strides }: Definition, { direction, voltage, soc }: At): number {
  return direction * strides.direction + voltage * strides.voltage + soc * strides.soc;
}

/** The last axis runs fastest. */
function walk(axes: readonly Axis[]): Pick<Common, 'underDuty' | 'strides'> {
  const strides = { direction: 0, voltage: 0, soc: 0 };
  let stride = 1;
  for (const axis of axes.toReversed()) {
    if (axis === 'duty') continue;
    strides[axis] = stride;
    stride *= pointCountAlong(axis);
  }
  return { underDuty: axes.includes('duty'), strides };
}

function pointCountAlong(axis: Exclude<Axis, 'duty'>): number {
  return axis === 'direction' ? directions.length : axis === 'voltage' ? voltages.length : socEnds.length;
}

/** By the list of axes itself, which each definition has one of. */
const pointsByAxes = new WeakMap<readonly Axis[], readonly At[]>();

/** All points of a definition, in the order of `pointIndex`. */
export function pointsOf({ axes }: Pick<Definition, 'axes'>): readonly At[] {
  const known = pointsByAxes.get(axes);
  if (known !== undefined) return known;
  let points: At[] = [{ direction: 0, voltage: 0, soc: 0 }];
  for (const axis of axes) {
    if (axis === 'duty') continue;
    points = points.flatMap(point =>
      Array.from({ length: pointCountAlong(axis) }, (_, index) => ({
        // Laid out like all points that are written down: code that reads one is compiled for one layout.
        direction: axis === 'direction' ? index : point.direction,
        voltage: axis === 'voltage' ? index : point.voltage,
        soc: axis === 'soc' ? index : point.soc,
      })),
    );
  }
  pointsByAxes.set(axes, points);
  return points;
}

/** Whether two columns of a definition hold the same values. */
export function sameColumn(a: Slab['values'], b: Slab['values'], definition: Definition): boolean {
  if (definition.type !== 'step') return sameNumbers(a as readonly number[], b as readonly number[]);
  for (let index = 0; index < a.length; index++) if (!definition.equal(a[index], b[index])) return false;
  return a.length === b.length;
}

function sameNumbers(a: readonly number[], b: readonly number[]): boolean {
  for (let index = 0; index < a.length; index++) {
    const one = a[index]!;
    const other = b[index]!;
    // As `Object.is`, which is slower.
    if (one === other ? one === 0 && !Object.is(one, other) : !Number.isNaN(one) || !Number.isNaN(other)) return false;
  }
  return a.length === b.length;
}

/** Of lists and plain objects; functions are the same where they are one. */
function sameStructure(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    if (!Array.isArray(a) || !Array.isArray(b) || a.length !== b.length) return false;
    for (let index = 0; index < a.length; index++) if (!sameStructure(a[index], b[index])) return false;
    return true;
  }
  const some = a as Record<string, unknown>;
  const others = b as Record<string, unknown>;
  let more = 0;
  for (const key in some) {
    if (!sameStructure(some[key], others[key])) return false;
    more++;
  }
  for (const _ in others) more--;
  return more === 0;
}
