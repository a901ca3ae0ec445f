// Limits of harmonic currents and voltages after IEEE 519.

import {
  currentOrderLimit,
  type Ieee519Edition,
  totalDemandLimit,
  totalVoltageLimit,
  voltageOrderLimit,
} from '../../engine/tables/distortion-limits.ts';
import { type ReferenceCase, type ReferenceEvidence, referenceTests } from '../kit/reference.ts';

const table = (
  name: string,
  source: string,
  evidence: ReferenceEvidence,
  actual: () => number | undefined,
  percent: number,
): ReferenceCase => ({ name, source, evidence, actual, expected: percent / 100, tolerance: 1e-9 });

const reprint = 'IEEE 519-1992, Table 10.3, reprinted in Power Quality in Electrical Systems, p. 17';
const later = 'IEEE 519-2014 and 2022, Table 2 (numbers of 1992)';
const orders = [5, 13, 19, 29, 47];
/** A ratio in each row; per cent of I_L at the orders above; total demand distortion. */
const rows: readonly (readonly [ratio: number, percents: readonly number[], total: number])[] = [
  [12, [4, 2, 1.5, 0.6, 0.3], 5],
  [35, [7, 3.5, 2.5, 1, 0.5], 8],
  [75, [10, 4.5, 4, 1.5, 0.7], 12],
  [400, [12, 5.5, 5, 2, 1], 15],
  [2500, [15, 7, 6, 2.5, 1.4], 20],
];
const load = (edition: Ieee519Edition, shortCircuitRatio: number) => ({
  edition,
  shortCircuitRatio,
  generation: false,
});

referenceTests(
  'current limits',
  (['1992', '2014', '2022'] as const).flatMap(edition =>
    rows.flatMap(([ratio, percents, total]) => {
      const [source, evidence] =
        edition === '1992' ? ([reprint, 'seen in source'] as const) : ([later, 'from memory'] as const);
      return [
        ...percents.map((percent, column) =>
          table(
            `${edition}, ratio ${ratio}, order ${orders[column]}`,
            source,
            evidence,
            () => currentOrderLimit(load(edition, ratio), orders[column]!)?.limit,
            percent,
          ),
        ),
        table(
          `${edition}, ratio ${ratio}, total`,
          source,
          evidence,
          () => totalDemandLimit(load(edition, ratio))?.limit,
          total,
        ),
      ];
    }),
  ),
);

const battery = { edition: '1992', shortCircuitRatio: 400, generation: true } as const;
/** The share is read there; the 7 % of which it is one, in that edition, is from memory. */
const changes2022 = 'summary of the changes in IEEE 519-2022; the odd limit behind it';
referenceTests('notes to the table', [
  table(
    'power generation: first row at any ratio',
    reprint,
    'seen in source',
    () => totalDemandLimit(battery)?.limit,
    5,
  ),
  table(
    'even order 4 in 1992: a quarter of 7 %',
    reprint,
    'seen in source',
    () => currentOrderLimit(load('1992', 35), 4)?.limit,
    1.75,
  ),
  table(
    'even order 4 in 2022: half of 7 %',
    changes2022,
    'from memory',
    () => currentOrderLimit(load('2022', 35), 4)?.limit,
    3.5,
  ),
  table(
    'even order 8 in 2022: all of 7 %',
    changes2022,
    'from memory',
    () => currentOrderLimit(load('2022', 35), 8)?.limit,
    7,
  ),
]);

// 10 MVA of fault power and a demand of 0.5 MVA make a ratio of 20, which begins the second row.
const byHand = 'hand calculation with the table above';
referenceTests('row of a plant', [
  table(
    '10 MVA, 0.5 MVA',
    byHand,
    'recomputed independently',
    () => totalDemandLimit(load('1992', 10 / 0.5))?.limit,
    8,
  ),
  table('ratio 19.9', byHand, 'recomputed independently', () => totalDemandLimit(load('1992', 19.9))?.limit, 5),
]);

const changes2014 = 'IEEE 519-2014, Table 1, in a summary of the changes';
const summary2022 = 'summary of IEEE 519-2022';
const paper = 'IEEE 519-1992, in Halpin, Comparison of IEEE and IEC Harmonic Standards, Table 1';
const voltages: readonly (readonly [volts: number, single: number, total: number, source: string])[] = [
  [400, 5, 8, changes2014],
  [20e3, 3, 5, summary2022],
  [110e3, 1.5, 2.5, summary2022],
  [220e3, 1, 1.5, summary2022],
];
referenceTests(
  'voltage limits',
  voltages.flatMap(([volts, single, total, source]) => [
    table(`${volts} V, single`, source, 'seen in source', () => voltageOrderLimit('ieee_519', 7, volts)?.limit, single),
    table(`${volts} V, total`, source, 'seen in source', () => totalVoltageLimit('ieee_519', volts)?.limit, total),
  ]),
);

/** Its first row holds for low voltage too. */
const voltages1992 = [
  [400, 3, 5],
  [69e3, 3, 5],
  [110e3, 1.5, 2.5],
  [220e3, 1, 1.5],
] as const;
referenceTests(
  'voltage limits of 1992',
  voltages1992.flatMap(([volts, single, total]) => [
    table(
      `${volts} V, single`,
      paper,
      'seen in source',
      () => voltageOrderLimit('ieee_519', 7, volts, '1992')?.limit,
      single,
    ),
    table(
      `${volts} V, total`,
      paper,
      'seen in source',
      () => totalVoltageLimit('ieee_519', volts, '1992')?.limit,
      total,
    ),
  ]),
);
