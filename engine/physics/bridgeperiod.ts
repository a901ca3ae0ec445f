// The steady state of the diode bridge: currents that come back after a sixth of a period, by Newton's method.
import type { BridgeState, Network, Triple } from './bridgecircuit.ts';
import { march, type Visit } from './bridgemarch.ts';

/** What the circuit remembers at the start of a sixth of a period: bridge currents, then what lies behind. */
export type Memory = readonly Triple[];

export interface Periodic {
  readonly memory: Memory;
  /** By how much it fails to repeat, relative; without bound where the bridge could not be followed. */
  readonly residual: number;
  readonly converged: boolean;
}

export const sector = Math.PI / 3;
/** Between two voltage peaks, clear of the start of a short pulse. */
export const sectorStart = Math.PI / 9;

const enough = 1e-11;
const nearly = 1e-8;
const mostRounds = 10;

/** The memory that comes back, shifted by one diode, at the end of a sixth of a period. Bounded. */
export function findPeriodic(network: Network, guess: Memory): Periodic {
  let best = settle(network, guess, 4);
  for (let round = 0; round < mostRounds && !best.converged; round++) {
    const next = improved(network, best);
    if (next === undefined && best.residual < nearly) return { ...best, converged: true };
    best = next ?? settle(network, best.memory, 4);
  }
  return best;
}

/** Follows one sixth of a period from its start. */
export function followSector(network: Network, memory: Memory, visit?: Visit) {
  const [currents, ...behind] = memory;
  const start: Omit<BridgeState, 'roles'> = { currents: currents ?? [0, 0, 0], behind };
  return march(network, start, sectorStart, sectorStart + sector, visit);
}

/** Plain repetition; it ends at once where the current has gaps and nothing else remembers. */
function settle(network: Network, start: Memory, times: number): Periodic {
  let memory = start;
  let residual = Number.POSITIVE_INFINITY;
  for (let time = 0; time < times; time++) {
    const end = oneSector(network, memory);
    if (end === undefined) return { memory, residual: Number.POSITIVE_INFINITY, converged: false };
    residual = mismatch(memory, end);
    if (residual <= enough) return { memory, residual, converged: true };
    if (time + 1 < times) memory = end;
  }
  return { memory, residual, converged: false };
}

/** The memory 60° later, with the phases renamed so that a steady state repeats itself. */
function oneSector(network: Network, memory: Memory): Memory | undefined {
  const end = followSector(network, memory);
  const next = [end.currents, ...end.behind].map(([a, b, c]): Triple => [-c, -a, -b]);
  return end.ok && Number.isFinite(next.flat().reduce((sum, value) => sum + value, 0)) ? next : undefined;
}

/** Currents are measured against the largest current, voltages per unit against one. */
function mismatch(start: Memory, end: Memory): number {
  const size = (triples: Memory) => Math.max(0, ...triples.flat().map(Math.abs));
  const change = end.map((triple, index) =>
    Math.max(...triple.map((value, phase) => distance(start, index, phase, value))),
  );
  const currents = Math.max(size(start.slice(0, 2)), size(end.slice(0, 2)));
  const ofCurrents = currents === 0 ? 0 : Math.max(...change.slice(0, 2)) / currents;
  return Math.max(ofCurrents, change[2] ?? 0);
}

function distance(memory: Memory, index: number, phase: number, value: number): number {
  return Math.abs(value - (memory[index]?.[phase] ?? 0));
}

/** A step of Newton's method, shortened until it helps, at first as it is, then after the fast part has settled. */
function improved(network: Network, from: Periodic): Periodic | undefined {
  const start = flatten(from.memory);
  const step = newtonStep(network, start);
  if (step === undefined) return undefined;
  for (let share = 1; share > 0.1; share /= 2) {
    const next = unflatten(start.map((value, index) => value + share * (step[index] ?? 0)));
    const tried = settle(network, next, 1);
    if (tried.residual < from.residual) return tried;
    const settled = settle(network, tried.memory, 4);
    if (settled.residual < from.residual) return settled;
  }
  return undefined;
}

/** Two of each three, which sum to zero. */
function flatten(memory: Memory): number[] {
  return memory.flatMap(triple => triple.slice(0, 2));
}

function unflatten(values: readonly number[]): Memory {
  const triples: Triple[] = [];
  for (let index = 0; index + 1 < values.length; index += 2) {
    const a = values[index]!;
    const b = values[index + 1]!;
    triples.push([a, b, -a - b]);
  }
  return triples;
}

function newtonStep(network: Network, start: readonly number[]): readonly number[] | undefined {
  const error = (values: readonly number[]): number[] | undefined => {
    const end = oneSector(network, unflatten(values));
    return end && flatten(end).map((value, index) => value - values[index]!);
  };
  const here = error(start);
  if (here === undefined) return undefined;
  const columns: number[][] = [];
  for (let index = 0; index < start.length; index += 1) {
    const pair = index - (index % 2);
    const step = 1e-6 * Math.max(Math.abs(start[pair]!), Math.abs(start[pair + 1]!), 1e-6);
    const moved = error(start.map((value, other) => (other === index ? value + step : value)));
    if (moved === undefined) return undefined;
    columns.push(moved.map((value, row) => (value - here[row]!) / step));
  }
  return solveLinear(
    here.map((_, row) => columns.map(column => column[row]!)),
    here.map(value => -value),
  );
}

/** Gaussian elimination with row exchange; undefined where the matrix is singular. */
function solveLinear(matrix: readonly number[][], right: readonly number[]): readonly number[] | undefined {
  const rows = matrix.map((row, index) => [...row, right[index]!]);
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column; row < size; row++) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row;
    }
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    const head = rows[column]!;
    for (let row = 0; row < size; row++) {
      if (row === column) continue;
      const factor = rows[row]![column]! / head[column]!;
      for (let index = column; index <= size; index++) rows[row]![index] = rows[row]![index]! - factor * head[index]!;
    }
  }
  const solution = rows.map((row, index) => row[size]! / row[index]!);
  return solution.every(Number.isFinite) ? solution : undefined;
}
