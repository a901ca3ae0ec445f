// The run of a battery along its state of charge: quadrature of dt = C·dsoc/I between kinks, with events located.
import { gaussPoints, gaussWeights } from './gauss.ts';

/** The battery at one state of charge of a run. Current (A) is a magnitude. */
export interface RunPoint<Stop extends string> {
  readonly soc: number;
  readonly emf: number;
  readonly resistance: number;
  readonly current: number;
  readonly voltage: number;
  /** Why the run can't be here, if it can't. */
  readonly stop: Stop | undefined;
  /** Which law sets the current here; the quadrature never straddles a change of it. */
  readonly regime: number;
  /** A positive measure whose zero is where the integrand is singular: a piece spans at most a factor of two of it. */
  readonly distance: number;
}

export interface Run<Stop extends string> {
  readonly at: (soc: number) => RunPoint<Stop>;
  readonly capacity: number;
  readonly socFrom: number;
  readonly socTo: number;
  /** States of charge where a curve has a kink, in any order; those outside the run are ignored. */
  readonly knots: readonly number[];
  readonly timeLimit: number;
  readonly track: boolean;
  /** Told of each piece: its ends (soc), its time (s), its regime. */
  readonly onPiece?: (start: number, end: number, time: number, regime: number) => void;
}

export interface TrackPoint {
  readonly time: number;
  readonly soc: number;
  readonly voltage: number;
  readonly current: number;
}

export interface RunTotals<Stop extends string> {
  readonly time: number;
  readonly chemicalEnergy: number;
  readonly losses: number;
  readonly socEnd: number;
  readonly stopped: Stop | 'soc' | 'time';
  readonly lowestVoltage: number;
  readonly highestVoltage: number;
  readonly highestCurrent: number;
  readonly end: RunPoint<Stop>;
  readonly track: readonly TrackPoint[];
}

const widestPiece = 1 / 16;
const narrowestPiece = 1e-7;

/**
 * Integrates a run from `socFrom` to `socTo` (either direction). Times in s, energies in J: chemicalEnergy = C·∫E dsoc,
 * losses = C·∫I·R dsoc, both magnitudes and from the same points, so that their difference (or sum) is the energy at
 * the terminals to rounding. Ends early at the first point with a `stop`, or at the time limit. Never fails; bounded.
 */
export function walk<Stop extends string>(run: Run<Stop>): RunTotals<Stop> {
  const targets = piecesBetween(run.socFrom, run.socTo, run.knots).reverse();
  const sums = startOf(run);
  const mostPieces = 2000 + 20 * targets.length;
  for (let count = 0; targets.length > 0 && count < mostPieces; count++) {
    const target = targets.at(-1) ?? run.socTo;
    const piece = piecePoints(run, sums.here.soc, target);
    const split = splitOf(run, sums.here, piece);
    if (split === undefined) {
      targets.pop();
      if (addPiece(run, sums, piece)) break;
      continue;
    }
    if (split.stop === undefined) {
      targets.push(split.soc);
      continue;
    }
    sums.stopped = split.stop;
    targets.length = 0;
    if (split.soc !== sums.here.soc) targets.push(split.soc);
  }
  const { here, ...rest } = sums;
  return { ...rest, socEnd: here.soc, end: here };
}

interface Sums<Stop extends string> {
  here: RunPoint<Stop>;
  time: number;
  chemicalEnergy: number;
  losses: number;
  stopped: Stop | 'soc' | 'time';
  lowestVoltage: number;
  highestVoltage: number;
  highestCurrent: number;
  readonly track: TrackPoint[];
}

interface Split<Stop extends string> {
  readonly soc: number;
  readonly stop: Stop | undefined;
}

function startOf<Stop extends string>(run: Run<Stop>): Sums<Stop> {
  const here = run.at(run.socFrom);
  const sums: Sums<Stop> = {
    here,
    time: 0,
    chemicalEnergy: 0,
    losses: 0,
    stopped: 'soc',
    lowestVoltage: here.voltage,
    highestVoltage: here.voltage,
    highestCurrent: here.current,
    track: [],
  };
  if (run.track) sums.track.push({ time: 0, soc: here.soc, voltage: here.voltage, current: here.current });
  return sums;
}

/** The ends of the pieces from one state of charge to another, the first start left out. */
function piecesBetween(from: number, to: number, knots: readonly number[]): number[] {
  const way = Math.sign(to - from);
  if (way === 0 || Number.isNaN(way)) return [];
  const inside = knots.filter(knot => (knot - from) * way > 0 && (to - knot) * way > 0);
  const ends = [...inside.sort((a, b) => (a - b) * way), to];
  const all: number[] = [];
  let start = from;
  for (const end of ends) {
    const count = Math.min(64, Math.max(1, Math.ceil(Math.abs(end - start) / widestPiece)));
    for (let index = 1; index < count; index++) all.push(start + ((end - start) * index) / count);
    all.push(end);
    start = end;
  }
  return all;
}

/** The five inner points and the end of a piece. */
function piecePoints<Stop extends string>(run: Run<Stop>, from: number, to: number): RunPoint<Stop>[] {
  const points: RunPoint<Stop>[] = [];
  const middle = (from + to) / 2;
  const half = (to - from) / 2;
  for (const node of gaussPoints) points.push(run.at(middle + half * node));
  points.push(run.at(to));
  return points;
}

/** Where a piece has to be cut first: at a stop, at a change of regime, or because it comes too near a singularity. */
function splitOf<Stop extends string>(
  run: Run<Stop>,
  start: RunPoint<Stop>,
  piece: readonly RunPoint<Stop>[],
): Split<Stop> | undefined {
  if (start.stop !== undefined) return { soc: start.soc, stop: start.stop };
  const regime = piece[0]?.regime;
  let last = start;
  for (const point of piece) {
    if (point.stop !== undefined) return edgeOf(run, last.soc, point.soc);
    if (point.regime !== regime) return regimeEdge(run, last.soc, point.soc, regime, start.soc);
    last = point;
  }
  if (Math.abs(last.soc - start.soc) < narrowestPiece) return undefined;
  const ratio = start.distance / last.distance;
  if (ratio > 2 || ratio < 0.5) return { soc: (start.soc + last.soc) / 2, stop: undefined };
  return undefined;
}

/** The last allowed state of charge between an allowed and a forbidden one, and what forbids the next. */
function edgeOf<Stop extends string>(run: Run<Stop>, allowed: number, forbidden: number): Split<Stop> {
  const edge = boundary(allowed, forbidden, soc => run.at(soc).stop === undefined);
  return { soc: edge.inside, stop: run.at(edge.outside).stop };
}

function regimeEdge<Stop extends string>(
  run: Run<Stop>,
  same: number,
  other: number,
  regime: number | undefined,
  start: number,
): Split<Stop> | undefined {
  const edge = boundary(same, other, soc => run.at(soc).regime === regime);
  return Math.abs(edge.inside - start) < 1e-12 ? undefined : { soc: edge.inside, stop: undefined };
}

/** Bisection to neighbouring numbers: the last place where a test holds and the first where it doesn't. */
function boundary(inside: number, outside: number, holds: (soc: number) => boolean) {
  let good = inside;
  let bad = outside;
  for (let step = 0; step < 48; step++) {
    const middle = (good + bad) / 2;
    if (holds(middle)) good = middle;
    else bad = middle;
  }
  return { inside: good, outside: bad };
}

/** Adds one piece to the sums; true if the time limit ends the run inside it. */
function addPiece<Stop extends string>(run: Run<Stop>, sums: Sums<Stop>, piece: readonly RunPoint<Stop>[]): boolean {
  const end = piece.at(-1);
  if (end === undefined) return true;
  const time = timeOf(run, sums.here.soc, piece);
  if (sums.time + time <= run.timeLimit) {
    accumulate(run, sums, piece, end, time);
    return false;
  }
  const remaining = run.timeLimit - sums.time;
  const soc = socAfter(run, sums.here, end, remaining);
  sums.stopped = 'time';
  const part = piecePoints(run, sums.here.soc, soc);
  accumulate(run, sums, part, part.at(-1) ?? end, remaining);
  return true;
}

function timeOf<Stop extends string>(run: Run<Stop>, from: number, piece: readonly RunPoint<Stop>[]): number {
  const half = Math.abs((piece.at(-1)?.soc ?? from) - from) / 2;
  let sum = 0;
  for (let index = 0; index < gaussWeights.length; index++) sum += gaussWeights[index]! / piece[index]!.current;
  return half === 0 ? 0 : run.capacity * half * sum;
}

/** The state of charge after a time inside a piece: Newton on t(soc), whose slope C/I is known, kept in the piece. */
function socAfter<Stop extends string>(
  run: Run<Stop>,
  start: RunPoint<Stop>,
  end: RunPoint<Stop>,
  time: number,
): number {
  const way = Math.sign(end.soc - start.soc);
  const width = Math.abs(end.soc - start.soc);
  let gone = Math.min(width, (time * start.current) / run.capacity);
  for (let step = 0; step < 8; step++) {
    const piece = piecePoints(run, start.soc, start.soc + way * gone);
    const error = timeOf(run, start.soc, piece) - time;
    if (!(Math.abs(error) > 1e-12 * time)) break;
    const next = gone - (error * (piece.at(-1)?.current ?? 0)) / run.capacity;
    gone = Math.min(width, Math.max(0, next));
  }
  return start.soc + way * gone;
}

function accumulate<Stop extends string>(
  run: Run<Stop>,
  sums: Sums<Stop>,
  piece: readonly RunPoint<Stop>[],
  end: RunPoint<Stop>,
  time: number,
): void {
  const charge = (run.capacity * Math.abs(end.soc - sums.here.soc)) / 2;
  for (let index = 0; index < gaussWeights.length; index++) {
    const point = piece[index]!;
    sums.chemicalEnergy += charge * gaussWeights[index]! * point.emf;
    sums.losses += charge * gaussWeights[index]! * point.current * point.resistance;
    noteExtremes(sums, point);
  }
  noteExtremes(sums, end);
  run.onPiece?.(sums.here.soc, end.soc, time, piece[2]!.regime);
  sums.time += time;
  sums.here = end;
  if (run.track) sums.track.push({ time: sums.time, soc: end.soc, voltage: end.voltage, current: end.current });
}

function noteExtremes<Stop extends string>(sums: Sums<Stop>, point: RunPoint<Stop>): void {
  sums.lowestVoltage = Math.min(sums.lowestVoltage, point.voltage);
  sums.highestVoltage = Math.max(sums.highestVoltage, point.voltage);
  sums.highestCurrent = Math.max(sums.highestCurrent, point.current);
}
