// Transformer tolerances, least impedance and preferred ratings: IEC 60076-1, IEC 60076-5, ISO 3.

import { transformer } from '../../engine/kinds/transformer.ts';
import { toleranceOf } from '../../engine/model/fact-numbers.ts';
import { ratioTolerance } from '../../engine/physics/transformer.ts';
import { minimumImpedance } from '../../engine/tables/minimum-impedance.ts';
import { nextPreferredRating, preferredNumbers } from '../../engine/tables/preferred-ratings.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

const tolerance = 1e-9;
const seen = {
  source: 'IEC 60076-1 (1993 + A1:1999), Table 1, read in a reprint',
  evidence: 'seen in source',
  tolerance,
} as const;
const remembered = { source: 'IEC 60076-1, Table 1', evidence: 'from memory', tolerance } as const;

const impedance = transformer.properties.find(({ name }) => name === 'impedance')!;

referenceTests('tolerances on the principal tapping', [
  { name: 'ratio at 6 % impedance: 0.5 %', ...seen, actual: () => ratioTolerance(0.06), expected: 0.005 },
  { name: 'ratio at 5 % impedance: both rules meet', ...seen, actual: () => ratioTolerance(0.05), expected: 0.005 },
  { name: 'ratio at 4 % impedance: a tenth of it', ...seen, actual: () => ratioTolerance(0.04), expected: 0.004 },
  { name: 'impedance below 10 %', ...remembered, actual: () => toleranceOf(impedance, 0.06)!, expected: 0.1 },
  { name: 'impedance from 10 % up', ...remembered, actual: () => toleranceOf(impedance, 0.1)!, expected: 0.075 },
]);

// Rated power (kVA) at both ends of each row, least impedance (per cent).
const rows: readonly (readonly [from: number, to: number, percent: number])[] = [
  [25, 630, 4],
  [631, 1250, 5],
  [1251, 2500, 6],
  [2501, 6300, 7],
  [6301, 25000, 8],
  [25001, 40000, 10],
  [40001, 63000, 11],
  [63001, 100000, 12.5],
];

const least = (kva: number, percent: number): ReferenceCase => ({
  name: `least impedance at ${kva} kVA`,
  source: 'IEC 60076-5, Table 1',
  evidence: 'from memory',
  actual: () => minimumImpedance(kva * 1000),
  expected: percent / 100,
  tolerance,
});

referenceTests(
  'least impedance',
  rows.flatMap(([from, to, percent]) => [least(from, percent), least(to, percent)]),
);

// R10 is the tenth root of ten, rounded: the standard's own rounding is within 1.3 % of it.
referenceTests(
  'preferred numbers near the tenth root of ten',
  preferredNumbers.map((number, place) => ({
    name: `number ${place}`,
    source: 'ISO 3, R10',
    evidence: 'recomputed independently' as const,
    actual: () => number,
    expected: 10 ** (place / 10),
    tolerance: 0.013,
  })),
);

// Ratings of the European ecodesign table that are preferred ones: each is its own next preferred rating.
const ratings = [50, 100, 160, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150];
referenceTests(
  'preferred ratings of the ecodesign table',
  ratings.map(kva => ({
    name: `${kva} kVA`,
    source: 'Regulation (EU) No 548/2014, Table I.1',
    evidence: 'seen in source' as const,
    actual: () => nextPreferredRating(kva * 1000),
    expected: kva * 1000,
    tolerance,
  })),
);
