// How much harmonic voltage and current the standards allow at a connection point, in total and by order.

import type { Citation } from './evidence.ts';

/** Sets of limits for the voltage. */
export type VoltageLimitSet =
  | 'en_50160'
  | 'iec_61000_2_4_class_1'
  | 'iec_61000_2_4_class_2'
  | 'iec_61000_2_4_class_3'
  | 'ieee_519'
  | 'iacs_ur_e24'
  | 'iec_60092_101';

export type Ieee519Edition = '1992' | '2014' | '2022';

export type Limit = {
  /** Ratio: of the fundamental for voltages, of the greatest demand current I_L for currents. */
  readonly limit: number;
  readonly source: Citation;
};

/**
 * Limit of the voltage's total harmonic distortion, at a nominal voltage (V line to line). Undefined where the set has
 * none for that voltage: EN 50160 ends at 36 kV here (its table for high voltage isn't held).
 */
export function totalVoltageLimit(
  set: VoltageLimitSet,
  nominalVoltage: number,
  edition: Ieee519Edition = '2022',
): Limit | undefined {
  if (!(nominalVoltage > 0)) return undefined;
  if (set === 'ieee_519') {
    const row = ieee519VoltageRow(nominalVoltage, edition);
    return { limit: row.total / 100, source: row.source };
  }
  if (set === 'en_50160' && nominalVoltage > en50160Reach) return undefined;
  return { limit: totals[set].percent / 100, source: totals[set].source };
}

/** Limit of a single harmonic of the voltage; undefined where the set has none for that order (a whole one, from two). */
export function voltageOrderLimit(
  set: VoltageLimitSet,
  order: number,
  nominalVoltage: number,
  edition: Ieee519Edition = '2022',
): Limit | undefined {
  if (!(Number.isInteger(order) && order >= 2 && nominalVoltage > 0)) return undefined;
  if (set === 'iacs_ur_e24') return undefined;
  if (set === 'iec_60092_101') return { limit: 0.03, source: shipSingleSource };
  if (set === 'ieee_519') {
    const row = ieee519VoltageRow(nominalVoltage, edition);
    return order > highestOrder(set) ? undefined : { limit: row.single / 100, source: row.source };
  }
  if (set === 'en_50160' && nominalVoltage > en50160Reach) return undefined;
  const percent = set === 'en_50160' ? en50160Percent(order) : industrialPercent(classOf[set], order);
  const source = set === 'en_50160' ? en50160SingleSource : industrialSource;
  return percent === undefined ? undefined : { limit: percent / 100, source };
}

/** Order up to which a set's total distortion counts (EN 50160: seen in reprints; the others from memory). */
export const highestOrder = (set: VoltageLimitSet): number => (set === 'en_50160' ? 40 : 50);

export type CurrentLimitCase = {
  readonly edition: Ieee519Edition;
  /** Short-circuit current over greatest demand current, at the connection point. */
  readonly shortCircuitRatio: number;
  /** Equipment that generates power has the first row, whatever the ratio; a battery that delivers counts. */
  readonly generation: boolean;
};

/**
 * IEEE 519 limit of the total demand distortion, 120 V to 69 kV. Since 2022 the standard sends inverters that generate to
 * IEEE 1547 or IEEE 2800 first (see `generationElsewhere`); the first row is for where neither applies.
 */
export function totalDemandLimit(given: CurrentLimitCase): Limit | undefined {
  const row = ieee519Row(given);
  return row === undefined ? undefined : { limit: row.total / 100, source: currentSource[given.edition] };
}

/**
 * IEEE 519 limit of a single harmonic current, 120 V to 69 kV, ratio of I_L. Even orders: a quarter of the odd limit up to
 * 2014; in 2022 half of it up to order 6 and all of it above. Undefined for anything but whole orders from two, and
 * above order 50 since 2014.
 */
export function currentOrderLimit(given: CurrentLimitCase, order: number): Limit | undefined {
  const row = ieee519Row(given);
  if (row === undefined || !(Number.isInteger(order) && order >= 2)) return undefined;
  if (given.edition !== '1992' && order > 50) return undefined;
  const column = ieee519Columns.findIndex(below => order < below);
  const odd = row.orders[column]!;
  const even = order % 2 === 0;
  return {
    limit: (odd * (even ? evenShare(given.edition, order) : 1)) / 100,
    source: even && given.edition === '2022' ? evenSource2022 : currentSource[given.edition],
  };
}

/** True where this edition leaves the currents of generating inverters to other standards in the first place. */
export const generationElsewhere = ({ edition, generation }: CurrentLimitCase): boolean =>
  generation && edition === '2022';

const en50160Reach = 36e3;
const classOf = { iec_61000_2_4_class_1: 0, iec_61000_2_4_class_2: 1, iec_61000_2_4_class_3: 2 } as const;
type IndustrialClass = (typeof classOf)[keyof typeof classOf];

const en50160Source: Citation = {
  source:
    'EN 50160, total harmonic distortion to order 40; read in manuals of network analysers that reprint the table',
  evidence: 'seen in source',
};
const en50160SingleSource: Citation = {
  source: 'EN 50160, individual harmonics to order 25; read in manuals of network analysers that reprint the table',
  evidence: 'seen in source',
};
const industrialSource: Citation = { source: 'IEC 61000-2-4:2002', evidence: 'from memory' };
const shipSource: Citation = {
  source:
    'IACS UR E24 Rev.1 (December 2018), unless the equipment is designed and documented for more; read in a reprint',
  evidence: 'seen in source',
};
const shipSingleSource: Citation = { source: 'IEC 60092-101 and older class rules', evidence: 'from memory' };

const totals: Readonly<
  Record<Exclude<VoltageLimitSet, 'ieee_519'>, { readonly percent: number; readonly source: Citation }>
> = {
  en_50160: { percent: 8, source: en50160Source },
  iec_61000_2_4_class_1: { percent: 5, source: industrialSource },
  iec_61000_2_4_class_2: { percent: 8, source: industrialSource },
  iec_61000_2_4_class_3: { percent: 10, source: industrialSource },
  iacs_ur_e24: { percent: 8, source: shipSource },
  iec_60092_101: { percent: 5, source: shipSingleSource },
};

/** Per cent of the fundamental, low and medium voltage. */
const en50160Orders: ReadonlyMap<number, number> = new Map([
  [2, 2],
  [3, 5],
  [4, 1],
  [5, 6],
  [7, 5],
  [9, 1.5],
  [11, 3.5],
  [13, 3],
  [15, 0.5],
  [17, 2],
  [19, 1.5],
  [21, 0.5],
  [23, 1.5],
  [25, 1.5],
]);

function en50160Percent(order: number): number | undefined {
  if (order % 2 === 0 && order >= 6 && order <= 24) return 0.5;
  return en50160Orders.get(order);
}

/** Per cent of the fundamental by class 1, 2, 3. */
const industrialOrders: ReadonlyMap<number, readonly [number, number, number]> = new Map([
  [2, [2, 2, 3]],
  [3, [3, 5, 6]],
  [4, [1, 1, 1.5]],
  [5, [3, 6, 8]],
  [6, [0.5, 0.5, 1]],
  [7, [3, 5, 7]],
  [8, [0.5, 0.5, 1]],
  [9, [1.5, 1.5, 2.5]],
  [10, [0.5, 0.5, 1]],
  [11, [3, 3.5, 5]],
  [13, [3, 3, 4.5]],
  [15, [0.3, 0.4, 2]],
  [17, [2, 2, 4]],
  [21, [0.2, 0.3, 1.75]],
]);

/** Above the tabulated orders the standard gives a formula in h, or a constant, up to order 50. */
function industrialPercent(place: IndustrialClass, order: number): number | undefined {
  const tabulated = industrialOrders.get(order);
  if (tabulated !== undefined) return tabulated[place];
  if (order > 50) return undefined;
  if (order % 2 === 0) return place === 2 ? 1 : 0.25 * (10 / order) + 0.25;
  if (order % 3 === 0) return place === 2 ? 1 : 0.2;
  return place === 2 ? 4.5 * (17 / order) - 0.5 : 2.27 * (17 / order) - 0.27;
}

type Ieee519VoltageRow = {
  readonly upTo: number;
  readonly single: number;
  readonly total: number;
  readonly source: Citation;
};

const lowVoltageSource: Citation = {
  source: 'IEEE 519-2014, Table 1, up to 1 kV; read in a summary of the changes',
  evidence: 'seen in source',
};
const higherVoltageSource: Citation = {
  source:
    'IEEE 519, voltage distortion limits above 1 kV; those of 1992 read in a paper, the same in a summary of the 2022 edition',
  evidence: 'seen in source',
};

/** Voltage up to and including (V), per cent of the fundamental. The first row came in 2014. */
const ieee519Voltages: readonly Ieee519VoltageRow[] = [
  { upTo: 1e3, single: 5, total: 8, source: lowVoltageSource },
  { upTo: 69e3, single: 3, total: 5, source: higherVoltageSource },
  { upTo: 161e3, single: 1.5, total: 2.5, source: higherVoltageSource },
  { upTo: Number.POSITIVE_INFINITY, single: 1, total: 1.5, source: higherVoltageSource },
];

const ieee519VoltageRow = (voltage: number, edition: Ieee519Edition): Ieee519VoltageRow =>
  ieee519Voltages.find((row, index) => voltage <= row.upTo && !(edition === '1992' && index === 0))!;

type Ieee519Row = {
  /** Short-circuit ratio below which the row holds. */
  readonly below: number;
  /** Per cent of I_L in the columns of `ieee519Columns`. */
  readonly orders: readonly [number, number, number, number, number];
  readonly total: number;
};

/** Orders below which each column holds. */
const ieee519Columns = [11, 17, 23, 35, Number.POSITIVE_INFINITY] as const;

/** The printed rows leave a ratio of exactly 1000 out; it is taken into the stricter row. */
const ieee519Rows: readonly Ieee519Row[] = [
  { below: 20, orders: [4, 2, 1.5, 0.6, 0.3], total: 5 },
  { below: 50, orders: [7, 3.5, 2.5, 1, 0.5], total: 8 },
  { below: 100, orders: [10, 4.5, 4, 1.5, 0.7], total: 12 },
  { below: 1000 * (1 + Number.EPSILON), orders: [12, 5.5, 5, 2, 1], total: 15 },
  { below: Number.POSITIVE_INFINITY, orders: [15, 7, 6, 2.5, 1.4], total: 20 },
];

const ieee519Row = ({ shortCircuitRatio, generation }: CurrentLimitCase): Ieee519Row | undefined => {
  if (!(shortCircuitRatio > 0)) return undefined;
  return generation ? ieee519Rows[0] : (ieee519Rows.find(row => shortCircuitRatio < row.below) ?? ieee519Rows.at(-1));
};

const currentSource: Readonly<Record<Ieee519Edition, Citation>> = {
  '1992': { source: 'IEEE 519-1992, Table 10.3; read in a textbook that reprints it', evidence: 'seen in source' },
  '2014': { source: 'IEEE 519-2014, Table 2 (numbers of 1992, orders to 50)', evidence: 'from memory' },
  '2022': { source: 'IEEE 519-2022, Table 2 (numbers of 1992, orders to 50)', evidence: 'from memory' },
};
/** As sure as the less certain of the two that make it. */
const evenSource2022: Citation = {
  source: 'IEEE 519-2022, even harmonics: their share of the odd limit read in a summary of the changes, that limit',
  evidence: 'from memory',
};

const evenShare = (edition: Ieee519Edition, order: number): number =>
  edition !== '2022' ? 0.25 : order <= 6 ? 0.5 : 1;
