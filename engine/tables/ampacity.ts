// Current that copper cables may carry for good, three loaded conductors in air at 30 °C, and the factors beside it.

import type { Citation } from './evidence.ts';

export type CableInsulation = 'xlpe' | 'pvc';

/**
 * Reference methods of installation: B2 multicore in a conduit on a wall, C clipped to a wall or floor, E multicore in
 * free air or on a perforated tray, F single cores in trefoil in free air.
 */
export type InstallationMethod = 'B2' | 'C' | 'E' | 'F';

/** How cables lie together. */
export type GroupLayout = 'bunched' | 'wall' | 'tray' | 'ladder';

export const ampacitySources: Readonly<
  Record<'seen' | 'pvc' | 'xlpe' | 'ambientSeen' | 'ambient' | 'grouping', Citation>
> = {
  seen: {
    source: 'IEC 60364-5-52, as given in an instruction book whose tables say that they follow it',
    evidence: 'seen in source',
  },
  pvc: { source: 'IEC 60364-5-52, Tables B.52.4 and B.52.10', evidence: 'from memory' },
  xlpe: { source: 'IEC 60364-5-52, Tables B.52.5 and B.52.12', evidence: 'from memory' },
  ambientSeen: {
    source: 'IEC 60364-5-52, Table B.52.14, as an instruction book applies it',
    evidence: 'seen in source',
  },
  ambient: { source: 'IEC 60364-5-52, Table B.52.14', evidence: 'from memory' },
  grouping: { source: 'IEC 60364-5-52, Table B.52.17', evidence: 'from memory' },
};

export type Ampacity = { readonly ok: true; readonly current: number; readonly citation: Citation };

export type AmpacityProblem =
  /** The table has no such column. */
  | { readonly ok: false; readonly problem: 'no_column'; readonly methods: readonly InstallationMethod[] }
  /** The size is not in the column; neighbours in m², undefined beyond its ends. */
  | {
      readonly ok: false;
      readonly problem: 'size_not_in_table';
      readonly smaller: number | undefined;
      readonly larger: number | undefined;
    };

/** mm², A, and whether the figure was seen. */
type Row = readonly [size: number, current: number, seen: boolean];
type Column = readonly Row[];

const rows = (seen: boolean, text: string): Row[] =>
  text.split(',').map(pair => {
    const [size, current] = pair.trim().split(' ').map(Number);
    return [size!, current!, seen];
  });

const columns: Readonly<Record<CableInsulation, Readonly<Partial<Record<InstallationMethod, Column>>>>> = {
  pvc: {
    B2: rows(true, '1.5 15, 2.5 20, 4 27, 6 34, 10 46, 16 62, 25 80, 35 99, 50 118, 70 149, 95 179, 120 206'),
    C: [
      ...rows(true, '1.5 17, 2.5 24, 4 32, 6 41, 10 57, 16 76, 25 96, 35 119'),
      ...rows(false, '50 144, 70 184, 95 223, 120 259, 150 299, 185 341, 240 403, 300 464'),
    ],
    E: rows(false, '25 101, 35 126, 50 153, 70 196, 95 238, 120 276, 150 319, 185 364, 240 430, 300 497'),
    F: rows(false, '25 110, 35 137, 50 167, 70 216, 95 264, 120 308, 150 356, 185 409, 240 485, 300 561'),
  },
  xlpe: {
    C: rows(
      false,
      '1.5 22, 2.5 30, 4 40, 6 52, 10 71, 16 96, 25 119, 35 147, 50 179, 70 229, 95 278, 120 322, 150 371, 185 424, 240 500, 300 576',
    ),
    E: rows(
      false,
      '1.5 23, 2.5 32, 4 42, 6 54, 10 75, 16 100, 25 127, 35 158, 50 192, 70 246, 95 298, 120 346, 150 399, 185 456, 240 538, 300 621',
    ),
    F: rows(false, '25 135, 35 169, 50 207, 70 268, 95 328, 120 383, 150 444, 185 510, 240 607, 300 703'),
  },
};

/**
 * Current (A) of one three-phase circuit of copper, by nominal area (m²). Sizes between the rows are not interpolated:
 * there is no such cable.
 */
export function tabulatedAmpacity(
  insulation: CableInsulation,
  method: InstallationMethod,
  crossSection: number,
): Ampacity | AmpacityProblem {
  const column = columns[insulation][method];
  if (column === undefined) return { ok: false, problem: 'no_column', methods: methodsFor(insulation) };
  // Back to the nominal figure in mm², free of the rounding that scaling to m² brought in.
  const size = Math.round(crossSection * 1e9) / 1e3;
  const row = column.find(each => each[0] === size);
  if (row === undefined) {
    const smaller = column.findLast(each => each[0] < size)?.[0];
    const larger = column.find(each => each[0] > size)?.[0];
    return {
      ok: false,
      problem: 'size_not_in_table',
      smaller: inSquareMetres(smaller),
      larger: inSquareMetres(larger),
    };
  }
  return { ok: true, current: row[1], citation: row[2] ? ampacitySources.seen : ampacitySources[insulation] };
}

/** Methods that the table holds for an insulation. */
export function methodsFor(insulation: CableInsulation): readonly InstallationMethod[] {
  const held = columns[insulation];
  return (['B2', 'C', 'E', 'F'] as const).filter(method => held[method] !== undefined);
}

/** Areas (m²) that a column holds, rising; none for a column that isn't there. */
export const ampacitySizes = (insulation: CableInsulation, method: InstallationMethod): readonly number[] =>
  (columns[insulation][method] ?? []).map(row => row[0] / 1e6);

export type Factor =
  | { readonly ok: true; readonly factor: number; readonly citation: Citation }
  /** Ends of the table: kelvin for a temperature, a number of circuits for a group. */
  | { readonly ok: false; readonly problem: 'outside_table'; readonly from: number; readonly to: number };

type FactorRow = readonly [celsius: number, factor: number, seen: boolean];

const ambientRows: Readonly<Record<CableInsulation, readonly FactorRow[]>> = {
  pvc: factorRows(
    '10 1.22, 15 1.17, 20 1.12, 25 1.06, 30 1, 35 0.94, 40 0.87, 45 0.79, 50 0.71, 55 0.61, 60 0.5',
    [40, 45, 50, 55],
  ),
  xlpe: factorRows(
    '10 1.15, 20 1.08, 30 1, 35 0.96, 40 0.91, 45 0.87, 50 0.82, 55 0.76, 60 0.71, 65 0.65, 70 0.58, 75 0.5, 80 0.41',
    [],
  ),
};

/**
 * Factor for an air temperature (K) other than 30 °C: the table's, straight between its rows (which lies below the
 * true curve).
 */
export function ambientAirFactor(insulation: CableInsulation, temperature: number): Factor {
  const held = ambientRows[insulation];
  const celsius = temperature - 273.15;
  const first = held[0]!;
  const last = held.at(-1)!;
  // A temperature that came from °C may miss the end of the table by its rounding.
  const at = Math.round(celsius * 1e9) / 1e9;
  if (!(at >= first[0] && at <= last[0])) {
    return { ok: false, problem: 'outside_table', from: first[0] + 273.15, to: last[0] + 273.15 };
  }
  const upper = held.find(row => row[0] >= at)!;
  const lower = upper[0] === at ? upper : held.findLast(row => row[0] < at)!;
  const share = upper === lower ? 0 : (at - lower[0]) / (upper[0] - lower[0]);
  const citation = upper[2] && lower[2] ? ampacitySources.ambientSeen : ampacitySources.ambient;
  return { ok: true, factor: lower[1] + share * (upper[1] - lower[1]), citation };
}

/** Circuits or multicore cables side by side, from one to nine; more for bunches. */
const groupFactors: Readonly<Record<GroupLayout, readonly (readonly [count: number, factor: number])[]>> = {
  bunched: [...counted([1, 0.8, 0.7, 0.65, 0.6, 0.57, 0.54, 0.52, 0.5]), [12, 0.45], [16, 0.41], [20, 0.38]],
  wall: counted([1, 0.85, 0.79, 0.75, 0.73, 0.72, 0.72, 0.71, 0.7]),
  tray: counted([1, 0.88, 0.82, 0.77, 0.75, 0.73, 0.73, 0.72, 0.72]),
  ladder: counted([1, 0.87, 0.82, 0.8, 0.8, 0.79, 0.79, 0.78, 0.78]),
};

/**
 * Factor for circuits that lie touching. A number between two of the table takes the next larger one's; a single layer
 * of more than nine gets no further reduction; a bunch of more than twenty is outside.
 */
export function groupingFactor(layout: GroupLayout, circuits: number): Factor {
  const held = groupFactors[layout];
  const last = held.at(-1)!;
  const isTooMany = layout === 'bunched' && circuits > last[0];
  if (!(circuits >= 1 && Number.isInteger(circuits)) || isTooMany) {
    return { ok: false, problem: 'outside_table', from: 1, to: layout === 'bunched' ? last[0] : Infinity };
  }
  const row = held.find(each => each[0] >= circuits) ?? last;
  return { ok: true, factor: row[1], citation: ampacitySources.grouping };
}

export type Installation = {
  readonly insulation: CableInsulation;
  readonly method: InstallationMethod;
  /** K. */
  readonly ambient: number;
  readonly layout: GroupLayout;
  /** Circuits side by side, own parallel cables included. */
  readonly circuits: number;
};

export type InstalledAmpacity =
  | (Ampacity & { readonly tabulated: number; readonly ambientFactor: number; readonly groupingFactor: number })
  | AmpacityProblem
  | Extract<Factor, { readonly ok: false }>;

/** Current (A) of one circuit as installed: table × ambient × grouping; cited by the least certain of the three. */
export function installedAmpacity(installation: Installation, crossSection: number): InstalledAmpacity {
  const { insulation, method } = installation;
  const base = tabulatedAmpacity(insulation, method, crossSection);
  if (!base.ok) return base;
  const ambient = ambientAirFactor(insulation, installation.ambient);
  if (!ambient.ok) return ambient;
  const group = groupingFactor(installation.layout, installation.circuits);
  if (!group.ok) return group;
  const applied = [base, ...(ambient.factor === 1 ? [] : [ambient]), ...(group.factor === 1 ? [] : [group])];
  const weakest = applied.find(each => each.citation.evidence !== 'seen in source') ?? base;
  return {
    ok: true,
    current: base.current * ambient.factor * group.factor,
    citation: weakest.citation,
    tabulated: base.current,
    ambientFactor: ambient.factor,
    groupingFactor: group.factor,
  };
}

/** Least area (m²) of the column that carries a current (A) in one circuit as installed; undefined where none does. */
export function leastCrossSection(installation: Installation, current: number): number | undefined {
  if (!(current >= 0)) return undefined;
  return ampacitySizes(installation.insulation, installation.method).find(size => {
    const found = installedAmpacity(installation, size);
    return found.ok && found.current >= current;
  });
}

function factorRows(text: string, seen: readonly number[]): FactorRow[] {
  return text.split(',').map(pair => {
    const [celsius, factor] = pair.trim().split(' ').map(Number);
    return [celsius!, factor!, seen.includes(celsius!)];
  });
}

function counted(factors: readonly number[]): (readonly [number, number])[] {
  return factors.map((factor, index) => [index + 1, factor]);
}

const inSquareMetres = (nominal: number | undefined): number | undefined =>
  nominal === undefined ? undefined : nominal / 1e6;
