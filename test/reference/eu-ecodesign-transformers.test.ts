// Greatest transformer losses in the European Union: Regulation (EU) No 548/2014 as amended by (EU) 2019/1783.

import { expect, test } from 'vitest';
import {
  type Construction,
  ecodesignLosses,
  ecodesignPeakEfficiency,
  type Tier,
} from '../../engine/tables/ecodesign.ts';
import { comparedWith, type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';
import { efficiencyAtLoad } from '../kit/transformer-load.ts';

const law = 'Regulation (EU) No 548/2014 with (EU) 2019/1783, Annex I (legislation.gov.uk/eur/2014/548)';

// kVA: load loss and no-load loss (W) of tier 1, of tier 2. Tables I.1 (liquid) and I.2 (dry), seen in source.
const liquid = `
  25: 900 70 600 63        50: 1100 90 750 81        100: 1750 145 1250 130     160: 2350 210 1750 189
  250: 3250 300 2350 270   315: 3900 360 2800 324    400: 4600 430 3250 387     500: 5500 510 3900 459
  630: 6500 600 4600 540   800: 8400 650 6000 585    1000: 10500 770 7600 693   1250: 11000 950 9500 855
  1600: 14000 1200 12000 1080   2000: 18000 1450 15000 1305
  2500: 22000 1750 18500 1575   3150: 27500 2200 23000 1980`;
const dry = `
  50: 1700 200 1500 180    100: 2050 280 1800 252    160: 2900 400 2600 360     250: 3800 520 3400 468
  400: 5500 750 4500 675   630: 7600 1100 7100 990   800: 8000 1300 8000 1170   1000: 9000 1550 9000 1395
  1250: 11000 1800 11000 1620   1600: 13000 2200 13000 1980   2000: 16000 2600 16000 2340
  2500: 19000 3100 19000 2790   3150: 22000 3800 22000 3420`;

const rows = (table: string): number[][] =>
  [...table.matchAll(/(\d+): (\d+) (\d+) (\d+) (\d+)/g)].map(match => match.slice(1).map(Number));

const same = comparedWith({ quantity: 'load and no-load losses by rating', source: law, evidence: 'seen in source' });

test.each([
  ['liquid', liquid, 16],
  ['dry', dry, 13],
] as const)('%s: every row of the table', (construction, table, count) => {
  const read = rows(table);
  expect(read.length).toBe(count);
  for (const [kva, loadLoss1, noLoadLoss1, loadLoss2, noLoadLoss2] of read) {
    const at = (tier: Tier) => solved(ecodesignLosses(kva! * 1000, construction, tier));
    expect([at(1).interpolated, at(2).interpolated], `${kva} kVA`).toEqual([false, false]);
    same(at(1).loadLoss, loadLoss1!, 0);
    same(at(1).noLoadLoss, noLoadLoss1!, 0);
    same(at(2).loadLoss, loadLoss2!, 0);
    same(at(2).noLoadLoss, noLoadLoss2!, 0);
  }
});

const peak = (kva: number, construction: Construction, tier: Tier, percent: number): ReferenceCase => ({
  name: `least peak efficiency, ${construction}, ${kva} kVA, tier ${tier}`,
  source: law,
  evidence: 'seen in source',
  actual: () => ecodesignPeakEfficiency(kva * 1000, construction, tier),
  expected: percent / 100,
  tolerance: 1e-9,
});

// Tables I.4 and I.5: kVA, tier 1, tier 2.
const peaks: readonly (readonly [Construction, number, number, number])[] = [
  ['liquid', 4000, 99.465, 99.532],
  ['liquid', 5000, 99.483, 99.548],
  ['liquid', 6300, 99.51, 99.571],
  ['liquid', 8000, 99.535, 99.593],
  ['liquid', 10000, 99.56, 99.615],
  ['liquid', 12500, 99.588, 99.64],
  ['liquid', 16000, 99.615, 99.663],
  ['liquid', 20000, 99.639, 99.684],
  ['liquid', 25000, 99.657, 99.7],
  ['liquid', 31500, 99.671, 99.712],
  ['liquid', 40000, 99.684, 99.724],
  ['dry', 4000, 99.348, 99.382],
  ['dry', 5000, 99.354, 99.387],
  ['dry', 6300, 99.356, 99.389],
  ['dry', 8000, 99.357, 99.39],
  ['dry', 12500, 99.357, 99.39],
];

const tier2 = (kva: number) => solved(ecodesignLosses(kva * 1000, 'liquid', 2));
const efficiency = (kva: number, load: number) => efficiencyAtLoad({ ratedPower: kva * 1000, ...tier2(kva) }, load, 1);
const worked = 'inputs seen in source, result recomputed independently';

referenceTests('peak efficiency', [
  ...peaks.flatMap(([construction, kva, one, two]) => [
    peak(kva, construction, 1, one),
    peak(kva, construction, 2, two),
  ]),
]);

referenceTests('worked from the table', [
  {
    name: 'load loss at 750 kVA, between two rows',
    source: law,
    evidence: worked,
    actual: () => tier2(750).loadLoss,
    expected: 5588.24,
    tolerance: 1e-6,
  },
  {
    name: 'no-load loss at 750 kVA',
    source: law,
    evidence: worked,
    actual: () => tier2(750).noLoadLoss,
    expected: 571.76,
    tolerance: 1e-5,
  },
  {
    name: 'efficiency at 1000 kVA, full load',
    source: law,
    evidence: worked,
    actual: () => efficiency(1000, 1),
    expected: 0.9917752,
    tolerance: 1e-6,
  },
  {
    name: 'efficiency at 1000 kVA, half load',
    source: law,
    evidence: worked,
    actual: () => efficiency(1000, 0.5),
    expected: 0.9948408,
    tolerance: 1e-6,
  },
  {
    name: 'resistive part at 1000 kVA',
    source: law,
    evidence: worked,
    actual: () => tier2(1000).loadLoss / 1e6,
    expected: 0.0076,
    tolerance: 1e-6,
  },
  {
    name: 'resistive part at 630 kVA',
    source: law,
    evidence: worked,
    actual: () => tier2(630).loadLoss / 630e3,
    expected: 0.007302,
    tolerance: 1e-4,
  },
]);
