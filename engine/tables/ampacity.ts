// Current that cables may carry for good, three loaded conductors, and the factors for surroundings and neighbours.

import { ampacityColumns, type InstallationMethod } from './ampacity-columns.ts';
import type { Citation } from './evidence.ts';

export type { InstallationMethod } from './ampacity-columns.ts';

export type CableInsulation = 'xlpe' | 'pvc';
export type CableConductor = 'copper' | 'aluminium';

/** How cables lie together: in air, in ducts in the ground one beside the other, or touching in the soil. */
export type GroupLayout = 'bunched' | 'wall' | 'tray' | 'ladder' | 'duct' | 'soil';

const open = 'as open tables have it whose makers say that they follow the standard';

export const ampacitySources: Readonly<
  Record<'ambientSeen' | 'ambient' | 'ground' | 'bunched' | 'grouping' | 'soilGrouping', Citation>
> = {
  ambientSeen: {
    source: 'IEC 60364-5-52, Table B.52.14, as an instruction book applies it',
    evidence: 'seen in source',
  },
  ambient: { source: `IEC 60364-5-52, Table B.52.14, ${open}`, evidence: 'seen in source' },
  ground: { source: `IEC 60364-5-52, Table B.52.15, ${open}`, evidence: 'seen in source' },
  bunched: { source: `IEC 60364-5-52, Table B.52.17, ${open}`, evidence: 'seen in source' },
  grouping: { source: 'IEC 60364-5-52, Table B.52.17', evidence: 'from memory' },
  soilGrouping: { source: 'IEC 60364-5-52, Tables B.52.18 and B.52.19', evidence: 'from memory' },
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

/**
 * Current (A) of one three-phase circuit in air at 30 °C or soil at 20 °C, by nominal area (m²). Sizes between the rows
 * are not interpolated: there is no such cable.
 */
export function tabulatedAmpacity(
  insulation: CableInsulation,
  method: InstallationMethod,
  crossSection: number,
  conductor: CableConductor = 'copper',
): Ampacity | AmpacityProblem {
  const column = columnOf(insulation, method, conductor);
  if (column === undefined) return { ok: false, problem: 'no_column', methods: methodsFor(insulation, conductor) };
  // Back to the nominal figure in mm², free of the rounding that scaling to m² brought in.
  const size = Math.round(crossSection * 1e9) / 1e3;
  const current = column.rows.get(size);
  if (current !== undefined) return { ok: true, current, citation: column.citation };
  const held = [...column.rows.keys()];
  return {
    ok: false,
    problem: 'size_not_in_table',
    smaller: inSquareMetres(held.findLast(each => each < size)),
    larger: inSquareMetres(held.find(each => each > size)),
  };
}

const columnOf = (insulation: CableInsulation, method: string, conductor: CableConductor) =>
  ampacityColumns.find(
    column => column.insulation === insulation && column.method === method && column.conductor === conductor,
  );

/** Methods that the table holds for an insulation and a metal. */
export function methodsFor(
  insulation: CableInsulation,
  conductor: CableConductor = 'copper',
): readonly InstallationMethod[] {
  return ampacityColumns
    .filter(column => column.insulation === insulation && column.conductor === conductor)
    .map(column => column.method);
}

/** Areas (m²) that a column holds, rising; none for a column that isn't there. */
export function ampacitySizes(
  insulation: CableInsulation,
  method: InstallationMethod,
  conductor: CableConductor = 'copper',
): readonly number[] {
  return [...(columnOf(insulation, method, conductor)?.rows.keys() ?? [])].map(size => size / 1e6);
}

export type Factor =
  | { readonly ok: true; readonly factor: number; readonly citation: Citation }
  /** Ends of the table: kelvin for a temperature, a number of circuits for a group. */
  | {
      readonly ok: false;
      readonly problem: 'outside_table';
      readonly of: 'temperature' | 'circuits';
      readonly from: number;
      readonly to: number;
    };

type FactorRow = readonly [celsius: number, factor: number, seenApplied: boolean];

const airRows: Readonly<Record<CableInsulation, readonly FactorRow[]>> = {
  pvc: factorRows(
    '10 1.22, 15 1.17, 20 1.12, 25 1.06, 30 1, 35 0.94, 40 0.87, 45 0.79, 50 0.71, 55 0.61, 60 0.5',
    [40, 45, 50, 55],
  ),
  xlpe: factorRows(
    '10 1.15, 15 1.12, 20 1.08, 25 1.04, 30 1, 35 0.96, 40 0.91, 45 0.87, 50 0.82, 55 0.76, 60 0.71, 65 0.65, 70 0.58, 75 0.5, 80 0.41',
    [],
  ),
};

const soilRows: Readonly<Record<CableInsulation, readonly FactorRow[]>> = {
  pvc: factorRows('10 1.1, 15 1.05, 20 1, 25 0.95, 30 0.89, 35 0.84, 40 0.77, 45 0.71, 50 0.63, 55 0.55, 60 0.45', []),
  xlpe: factorRows(
    '10 1.07, 15 1.04, 20 1, 25 0.96, 30 0.93, 35 0.89, 40 0.85, 45 0.8, 50 0.76, 55 0.71, 60 0.65, 65 0.6, 70 0.53, 75 0.46, 80 0.38',
    [],
  ),
};

/**
 * Factor for an air temperature (K) other than 30 °C: the table's, straight between its rows (which lies below the
 * true curve).
 */
export const ambientAirFactor = (insulation: CableInsulation, temperature: number): Factor =>
  between(airRows[insulation], temperature, ampacitySources.ambient);

/** As `ambientAirFactor`, for soil other than 20 °C. */
export const ambientSoilFactor = (insulation: CableInsulation, temperature: number): Factor =>
  between(soilRows[insulation], temperature, ampacitySources.ground);

function between(held: readonly FactorRow[], temperature: number, source: Citation): Factor {
  const first = held[0]!;
  const last = held.at(-1)!;
  // A temperature that came from °C may miss the end of the table by its rounding.
  const at = Math.round((temperature - 273.15) * 1e9) / 1e9;
  if (!(at >= first[0] && at <= last[0]))
    return { ok: false, problem: 'outside_table', of: 'temperature', from: first[0] + 273.15, to: last[0] + 273.15 };
  const upper = held.find(row => row[0] >= at)!;
  const lower = upper[0] === at ? upper : held.findLast(row => row[0] < at)!;
  const share = upper === lower ? 0 : (at - lower[0]) / (upper[0] - lower[0]);
  const citation = upper[2] && lower[2] ? ampacitySources.ambientSeen : source;
  return { ok: true, factor: lower[1] + share * (upper[1] - lower[1]), citation };
}

type Group = readonly (readonly [count: number, factor: number])[];

/** Circuits or multicore cables side by side, from one to nine; more for bunches and in the ground. */
const groupFactors: Readonly<Record<GroupLayout, Group>> = {
  bunched: [...counted([1, 0.8, 0.7, 0.65, 0.6, 0.57, 0.54, 0.52, 0.5]), [12, 0.45], [16, 0.41], [20, 0.38]],
  wall: counted([1, 0.85, 0.79, 0.75, 0.73, 0.72, 0.72, 0.71, 0.7]),
  tray: counted([1, 0.88, 0.82, 0.77, 0.75, 0.73, 0.73, 0.72, 0.72]),
  ladder: counted([1, 0.87, 0.82, 0.8, 0.8, 0.79, 0.79, 0.78, 0.78]),
  duct: [...counted([1, 0.85, 0.75, 0.7, 0.65, 0.6, 0.57, 0.54, 0.52]), [12, 0.45], [16, 0.39], [20, 0.35]],
  soil: [...counted([1, 0.75, 0.65, 0.6, 0.55, 0.5, 0.45, 0.43, 0.41]), [12, 0.36], [16, 0.32], [20, 0.29]],
};

/** A single layer in air gets no further reduction beyond nine. */
const endless: readonly GroupLayout[] = ['wall', 'tray', 'ladder'];

/**
 * Factor for circuits that lie touching. A number between two of the table takes the next larger one's; a bunch, and
 * cables in the ground, of more than twenty are outside.
 */
export function groupingFactor(layout: GroupLayout, circuits: number): Factor {
  const held = groupFactors[layout];
  const last = held.at(-1)!;
  const isEndless = endless.includes(layout);
  if (!(circuits >= 1 && Number.isInteger(circuits)) || (!isEndless && circuits > last[0])) {
    const to = isEndless ? Number.POSITIVE_INFINITY : last[0];
    return { ok: false, problem: 'outside_table', of: 'circuits', from: 1, to };
  }
  const row = held.find(each => each[0] >= circuits) ?? last;
  return { ok: true, factor: row[1], citation: groupSource(layout) };
}

function groupSource(layout: GroupLayout): Citation {
  if (layout === 'bunched') return ampacitySources.bunched;
  return layout === 'duct' || layout === 'soil' ? ampacitySources.soilGrouping : ampacitySources.grouping;
}

/** How neighbours lie by method: bunched in a conduit, one layer on a wall or on a perforated tray, or in the ground. */
export function layoutOf(method: InstallationMethod): GroupLayout {
  if (method === 'C') return 'wall';
  if (method === 'D1') return 'duct';
  if (method === 'D2') return 'soil';
  return method === 'E' || method === 'F' ? 'tray' : 'bunched';
}

export type Installation = {
  readonly insulation: CableInsulation;
  /** Copper if not given. */
  readonly conductor?: CableConductor;
  readonly method: InstallationMethod;
  /** Of the air, or of the soil for D1 and D2, K. */
  readonly ambient: number;
  /** As the method has it, if not given. */
  readonly layout?: GroupLayout;
  /** Circuits side by side, own parallel cables included. */
  readonly circuits: number;
};

export type InstalledAmpacity =
  | (Ampacity & { readonly tabulated: number; readonly ambientFactor: number; readonly groupingFactor: number })
  | AmpacityProblem
  | Extract<Factor, { readonly ok: false }>;

/** Current (A) of one circuit as installed: table × ambient × grouping; cited by the least certain of the three. */
export function installedAmpacity(installation: Installation, crossSection: number): InstalledAmpacity {
  const { insulation, method, conductor } = installation;
  const base = tabulatedAmpacity(insulation, method, crossSection, conductor);
  if (!base.ok) return base;
  const inSoil = method === 'D1' || method === 'D2';
  const ambient = (inSoil ? ambientSoilFactor : ambientAirFactor)(insulation, installation.ambient);
  if (!ambient.ok) return ambient;
  const group = groupingFactor(installation.layout ?? layoutOf(method), installation.circuits);
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
  const { insulation, method, conductor } = installation;
  return ampacitySizes(insulation, method, conductor).find(size => {
    const found = installedAmpacity(installation, size);
    return found.ok && found.current >= current;
  });
}

function factorRows(text: string, seenApplied: readonly number[]): FactorRow[] {
  return text.split(',').map(pair => {
    const [celsius, factor] = pair.trim().split(' ').map(Number);
    return [celsius!, factor!, seenApplied.includes(celsius!)];
  });
}

function counted(factors: readonly number[]): Group {
  return factors.map((factor, index) => [index + 1, factor]);
}

const inSquareMetres = (nominal: number | undefined): number | undefined =>
  nominal === undefined ? undefined : nominal / 1e6;
