// Greatest losses and least peak efficiency of transformers put into service in the European Union.

import type { Citation } from './evidence.ts';

/**
 * The text that was read has lost the titles of its tables: that the first of each pair is of liquid-filled ones and the
 * second of dry ones is from memory.
 */
export const ecodesignSource: Citation = {
  source: 'Commission Regulation (EU) No 548/2014 as amended by (EU) 2019/1783, Annex I, Tables I.1, I.2, I.4, I.5',
  evidence: 'seen in source',
};

/**
 * The regulation leaves out transformers that only feed rectifiers or direct current, and those on ships and offshore;
 * it covers those that deliver alternating current from direct-current sources. Corrections for unusual voltages, dual
 * voltages and on-load tap changers (Tables I.3) aren't applied here.
 */
export type Construction = 'liquid' | 'dry';
/** Tier 1 held from July 2015, tier 2 holds from July 2021. */
export type Tier = 1 | 2;

export type EcodesignLosses = {
  readonly ok: true;
  /** Greatest load loss at rated current, W. */
  readonly loadLoss: number;
  /** Greatest no-load loss, W. */
  readonly noLoadLoss: number;
  /** True for a rating between two rows: the regulation interpolates linearly. */
  readonly interpolated: boolean;
};

export type OutsideTable = {
  readonly ok: false;
  readonly problem: 'outside_table';
  /** Largest rating that the table holds, VA. */
  readonly upTo: number;
};

/** Greatest losses of a medium power transformer by rated power (VA), up to 3150 kVA. */
export function ecodesignLosses(
  ratedPower: number,
  construction: Construction,
  tier: Tier,
): EcodesignLosses | OutsideTable {
  const rows = lossRows[construction];
  const place = locate(rows, ratedPower / 1000);
  if (place === undefined) return { ok: false, problem: 'outside_table', upTo: rows.at(-1)![0] * 1000 };
  const column = tier === 1 ? 1 : 3;
  return {
    ok: true,
    loadLoss: between(place, row => row[column]),
    noLoadLoss: between(place, row => row[tier === 1 ? 2 : 4]),
    interpolated: place.share > 0 && place.share < 1,
  };
}

/** Least peak efficiency index (ratio) by rated power (VA), above 3150 kVA; undefined up to there. */
export function ecodesignPeakEfficiency(
  ratedPower: number,
  construction: Construction,
  tier: Tier,
): number | undefined {
  if (!(ratedPower > 3150e3)) return undefined;
  const rows = efficiencyRows[construction];
  const place = locate(rows, Math.min(ratedPower / 1000, rows.at(-1)![0]));
  return place === undefined ? undefined : between(place, row => row[tier]) / 100;
}

type LossRow = readonly [kva: number, loadLoss1: number, noLoadLoss1: number, loadLoss2: number, noLoadLoss2: number];
type EfficiencyRow = readonly [kva: number, tier1: number, tier2: number];
type Place<Row> = { readonly lower: Row; readonly upper: Row; readonly share: number };

/** The two rows around a rating; a rating below the first row takes that row ("up to"), above the last there is none. */
function locate<Row extends readonly [number, ...number[]]>(rows: readonly Row[], kva: number): Place<Row> | undefined {
  if (!(kva > 0)) return undefined;
  const index = rows.findIndex(row => kva <= row[0]);
  if (index < 0) return undefined;
  const upper = rows[index]!;
  const lower = rows[index - 1] ?? upper;
  return { lower, upper, share: lower === upper ? 1 : (kva - lower[0]) / (upper[0] - lower[0]) };
}

const between = <Row>(place: Place<Row>, read: (row: Row) => number): number =>
  place.share === 1 ? read(place.upper) : read(place.lower) + place.share * (read(place.upper) - read(place.lower));

const lossRows: Readonly<Record<Construction, readonly LossRow[]>> = {
  liquid: [
    [25, 900, 70, 600, 63],
    [50, 1100, 90, 750, 81],
    [100, 1750, 145, 1250, 130],
    [160, 2350, 210, 1750, 189],
    [250, 3250, 300, 2350, 270],
    [315, 3900, 360, 2800, 324],
    [400, 4600, 430, 3250, 387],
    [500, 5500, 510, 3900, 459],
    [630, 6500, 600, 4600, 540],
    [800, 8400, 650, 6000, 585],
    [1000, 10500, 770, 7600, 693],
    [1250, 11000, 950, 9500, 855],
    [1600, 14000, 1200, 12000, 1080],
    [2000, 18000, 1450, 15000, 1305],
    [2500, 22000, 1750, 18500, 1575],
    [3150, 27500, 2200, 23000, 1980],
  ],
  dry: [
    [50, 1700, 200, 1500, 180],
    [100, 2050, 280, 1800, 252],
    [160, 2900, 400, 2600, 360],
    [250, 3800, 520, 3400, 468],
    [400, 5500, 750, 4500, 675],
    [630, 7600, 1100, 7100, 990],
    [800, 8000, 1300, 8000, 1170],
    [1000, 9000, 1550, 9000, 1395],
    [1250, 11000, 1800, 11000, 1620],
    [1600, 13000, 2200, 13000, 1980],
    [2000, 16000, 2600, 16000, 2340],
    [2500, 19000, 3100, 19000, 2790],
    [3150, 22000, 3800, 22000, 3420],
  ],
};

/** Medium power above 3150 kVA, per cent; the first row holds up to its rating, the last from its rating on. */
const efficiencyRows: Readonly<Record<Construction, readonly EfficiencyRow[]>> = {
  liquid: [
    [4000, 99.465, 99.532],
    [5000, 99.483, 99.548],
    [6300, 99.51, 99.571],
    [8000, 99.535, 99.593],
    [10000, 99.56, 99.615],
    [12500, 99.588, 99.64],
    [16000, 99.615, 99.663],
    [20000, 99.639, 99.684],
    [25000, 99.657, 99.7],
    [31500, 99.671, 99.712],
    [40000, 99.684, 99.724],
  ],
  dry: [
    [4000, 99.348, 99.382],
    [5000, 99.354, 99.387],
    [6300, 99.356, 99.389],
    [8000, 99.357, 99.39],
  ],
};
