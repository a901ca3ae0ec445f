// Public supply after EN 50160.

import { totalVoltageLimit, voltageOrderLimit } from '../../engine/tables/distortion-limits.ts';
import { publicSupply } from '../../engine/tables/supply-quality.ts';
import { type ReferenceCase, type ReferenceEvidence, referenceTests } from '../kit/reference.ts';

const row = (
  name: string,
  evidence: ReferenceEvidence,
  actual: () => number | undefined,
  percent: number,
  source = 'EN 50160, in a discussion of the standard',
): ReferenceCase => ({ name, source, evidence, actual, expected: percent / 100, tolerance: 1e-9 });

referenceTests('voltage and frequency', [
  row('95 % of the time, above', 'seen in source', () => publicSupply.voltage.band.high, 10),
  row('95 % of the time, below', 'seen in source', () => publicSupply.voltage.band.low, -10),
  row('always, above', 'seen in source', () => publicSupply.voltageAlways.band.high, 10),
  row('always, below', 'seen in source', () => publicSupply.voltageAlways.band.low, -15),
  row('frequency, above', 'from memory', () => publicSupply.frequency.band.high, 1, 'EN 50160'),
  row('frequency, below', 'from memory', () => publicSupply.frequency.band.low, -1, 'EN 50160'),
]);

const reprint = 'EN 50160, table reprinted in manuals of network analysers';
const percents: readonly (readonly [order: number, percent: number])[] = [
  [2, 2],
  [3, 5],
  [4, 1],
  [5, 6],
  [6, 0.5],
  [7, 5],
  [9, 1.5],
  [11, 3.5],
  [13, 3],
  [15, 0.5],
  [17, 2],
  [19, 1.5],
  [21, 0.5],
  [23, 1.5],
  [24, 0.5],
  [25, 1.5],
];
referenceTests('harmonics', [
  row('total', 'seen in source', () => totalVoltageLimit('en_50160', 400)?.limit, 8, reprint),
  ...percents.map(([order, percent]) =>
    row(`order ${order}`, 'seen in source', () => voltageOrderLimit('en_50160', order, 400)?.limit, percent, reprint),
  ),
]);
