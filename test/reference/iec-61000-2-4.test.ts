// Compatibility levels of industrial networks after IEC 61000-2-4; all from memory.

import { totalVoltageLimit, type VoltageLimitSet, voltageOrderLimit } from '../../engine/tables/distortion-limits.ts';
import { industrialSupply, isolatedIndustrialFrequency } from '../../engine/tables/supply-quality.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

const row = (name: string, actual: () => number | undefined, percent: number): ReferenceCase => ({
  name,
  source: 'IEC 61000-2-4',
  evidence: 'from memory',
  actual,
  expected: percent / 100,
  tolerance: 1e-9,
});

const classes: readonly (readonly [1 | 2 | 3, VoltageLimitSet])[] = [
  [1, 'iec_61000_2_4_class_1'],
  [2, 'iec_61000_2_4_class_2'],
  [3, 'iec_61000_2_4_class_3'],
];
/** Per cent by class. */
const totals = [5, 8, 10] as const;
const voltages = [
  [-8, 8],
  [-10, 10],
  [-15, 10],
] as const;
const unbalances = [2, 2, 3] as const;

referenceTests(
  'supply',
  classes.flatMap(([which, set], index) => [
    row(`class ${which}: total distortion`, () => totalVoltageLimit(set, 400)?.limit, totals[index]!),
    row(`class ${which}: voltage, below`, () => industrialSupply[which].voltage.low, voltages[index]![0]),
    row(`class ${which}: voltage, above`, () => industrialSupply[which].voltage.high, voltages[index]![1]),
    row(`class ${which}: unbalance`, () => industrialSupply[which].unbalance, unbalances[index]!),
    row(`class ${which}: frequency, above`, () => industrialSupply[which].frequency.high, 1),
    row(`class ${which}: frequency, below`, () => industrialSupply[which].frequency.low, -1),
  ]),
);
referenceTests('isolated network of class 3', [
  row('frequency, above', () => isolatedIndustrialFrequency.high, 4),
  row('frequency, below', () => isolatedIndustrialFrequency.low, -4),
]);

/** Per cent at class 1, 2, 3. */
const orders: readonly (readonly [order: number, percents: readonly [number, number, number]])[] = [
  [2, [2, 2, 3]],
  [3, [3, 5, 6]],
  [5, [3, 6, 8]],
  [7, [3, 5, 7]],
  [9, [1.5, 1.5, 2.5]],
  [11, [3, 3.5, 5]],
  [13, [3, 3, 4.5]],
  [17, [2, 2, 4]],
];
referenceTests(
  'single orders',
  orders.flatMap(([order, percents]) =>
    classes.map(([which, set], index) =>
      row(`class ${which}, order ${order}`, () => voltageOrderLimit(set, order, 400)?.limit, percents[index]!),
    ),
  ),
);
