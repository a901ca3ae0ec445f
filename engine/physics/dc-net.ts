// Batteries and converters spread over a net of direct-current cables: what each converter sees, what each part carries.

/** Points are numbered from 0. */
export interface DcNet {
  readonly points: number;
  /** Ω, both poles. */
  readonly runs: readonly { readonly from: number; readonly to: number; readonly resistance: number }[];
  /** V, Ω. */
  readonly sources: readonly { readonly point: number; readonly emf: number; readonly resistance: number }[];
  /** What is drawn at a point as a part of all that is drawn; all parts make one. */
  readonly taps: readonly { readonly point: number; readonly part: number }[];
}

/** Linear in the current that all taps draw together: what is there without it, and what each ampere of it adds. */
export interface NetState {
  /** V, and V for each ampere drawn (not positive at a tap), by point. */
  readonly idle: readonly number[];
  readonly slope: readonly number[];
  /** A out of each source without any drawn, its sum nothing; and its part of what is drawn, their sum one. */
  readonly sourceIdle: readonly number[];
  readonly sourceParts: readonly number[];
  /** The part of what is drawn that each run carries from its first point to its second. */
  readonly runParts: readonly number[];
}

/**
 * The nodal equations of a net whose taps draw currents in fixed parts. Undefined where a point hangs in the air, or a
 * run or a source has no resistance at all. Source: Kirchhoff; superposition.
 */
export function netState({ points, runs, sources, taps }: DcNet): NetState | undefined {
  const all = [...runs, ...sources].map(({ resistance }) => resistance);
  if (!all.every(resistance => resistance > 0 && Number.isFinite(resistance))) return undefined;
  // Each row is a point: conductances, then what flows in from the sources, then what one ampere of all taps takes out.
  const rows = Array.from({ length: points }, () => new Array<number>(points + 2).fill(0));
  for (const { from, to, resistance } of runs) {
    rows[from]![from]! += 1 / resistance;
    rows[to]![to]! += 1 / resistance;
    rows[from]![to]! -= 1 / resistance;
    rows[to]![from]! -= 1 / resistance;
  }
  for (const { point, emf, resistance } of sources) {
    rows[point]![point]! += 1 / resistance;
    rows[point]![points]! += emf / resistance;
  }
  for (const { point, part } of taps) rows[point]![points + 1]! -= part;
  if (!eliminate(rows)) return undefined;
  const idle = rows.map(row => row[points]!);
  const slope = rows.map(row => row[points + 1]!);
  return {
    idle,
    slope,
    sourceIdle: sources.map(({ point, emf, resistance }) => (emf - idle[point]!) / resistance),
    sourceParts: sources.map(({ point, resistance }) => -slope[point]! / resistance),
    runParts: runs.map(({ from, to, resistance }) => (slope[from]! - slope[to]!) / resistance),
  };
}

/**
 * Gauss and Jordan: leaves the solutions in the columns behind the square. No rows are exchanged, since conductances make
 * the square positive definite. False where a point hangs in the air.
 */
function eliminate(rows: number[][]): boolean {
  for (const column of rows.keys()) {
    const pivot = rows[column]![column]!;
    if (!(pivot > 1e-9)) return false;
    const scaled = rows[column]!.map(value => value / pivot);
    for (const [row, values] of rows.entries())
      rows[row] = row === column ? scaled : values.map((value, index) => value - values[column]! * scaled[index]!);
  }
  return true;
}
