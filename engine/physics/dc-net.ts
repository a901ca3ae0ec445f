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
export interface NetState extends TapResponse {
  /** V without any drawn, by point. */
  readonly idle: readonly number[];
  /** A out of each source without any drawn, its sum nothing. */
  readonly sourceIdle: readonly number[];
}

/** What each ampere that is drawn adds. */
export interface TapResponse {
  /** V, by point; not positive. */
  readonly slope: readonly number[];
  /** The part of it that each source gives, their sum one. */
  readonly sourceParts: readonly number[];
  /** The part of it that each run carries from its first point to its second. */
  readonly runParts: readonly number[];
}

/** Linear in the current of each tap: `taps` by tap. */
export interface NetResponse extends Pick<NetState, 'idle' | 'sourceIdle'> {
  readonly taps: readonly (TapResponse & { readonly point: number })[];
}

/**
 * The nodal equations of a net whose taps draw currents in fixed parts. Undefined where a point hangs in the air, or a
 * run or a source has no resistance at all. Source: Kirchhoff; superposition.
 */
export function netState(net: DcNet): NetState | undefined {
  const response = netResponse(net);
  if (response === undefined) return undefined;
  const { idle, sourceIdle, taps } = response;
  const all = (of: keyof TapResponse): readonly number[] =>
    taps[0]![of].map((_, index) => taps.reduce((sum, tap, which) => sum + net.taps[which]!.part * tap[of][index]!, 0));
  return { idle, sourceIdle, slope: all('slope'), sourceParts: all('sourceParts'), runParts: all('runParts') };
}

/** The same by tap, whatever part each draws. */
export function netResponse({ points, runs, sources, taps }: DcNet): NetResponse | undefined {
  const all = [...runs, ...sources].map(({ resistance }) => resistance);
  if (!all.every(resistance => resistance > 0 && Number.isFinite(resistance))) return undefined;
  // Each row is a point: conductances, then what flows in from the sources, then what one ampere of each tap takes out.
  const rows = Array.from({ length: points }, () => new Array<number>(points + 1 + taps.length).fill(0));
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
  for (const [index, { point }] of taps.entries()) rows[point]![points + 1 + index]! -= 1;
  if (!eliminate(rows)) return undefined;
  const idle = rows.map(row => row[points]!);
  return {
    idle,
    sourceIdle: sources.map(({ point, emf, resistance }) => (emf - idle[point]!) / resistance),
    taps: taps.map(({ point }, index) => {
      const slope = rows.map(row => row[points + 1 + index]!);
      return {
        point,
        slope,
        sourceParts: sources.map(each => -slope[each.point]! / each.resistance),
        runParts: runs.map(({ from, to, resistance }) => (slope[from]! - slope[to]!) / resistance),
      };
    }),
  };
}

/**
 * Current (A) of each tap where each takes its own power (W, positive out of the net): I_k = P_k/U_k with
 * U = U_idle + Σ slope_j·I_j, on the branch of the higher voltages. Undefined where the net can't carry the powers.
 */
export function currentsAtPowers(net: NetResponse, powers: readonly number[]): readonly number[] | undefined {
  let voltages = net.taps.map(({ point }) => net.idle[point]!);
  for (let round = 0; round < mostRounds; round++) {
    const currents = powers.map((power, index) => power / voltages[index]!);
    const next = net.taps.map(({ point }) => voltageAt(net, currents, point));
    // Below half the voltage a higher current carries less power.
    if (!next.every((voltage, index) => voltage > net.idle[net.taps[index]!.point]! / 2)) return undefined;
    const moved = Math.max(...next.map((voltage, index) => Math.abs(voltage - voltages[index]!) / voltage));
    voltages = next;
    if (moved < 1e-13) return powers.map((power, index) => power / next[index]!);
  }
  return undefined;
}

const mostRounds = 200;

/** V at a point while the taps draw these currents (A). */
export function voltageAt({ idle, taps }: NetResponse, currents: readonly number[], point: number): number {
  return taps.reduce((sum, { slope }, index) => sum + slope[point]! * currents[index]!, idle[point]!);
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
