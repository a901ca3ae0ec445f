// Ampacity of copper cables and its factors: IEC 60364-5-52, in part seen in an instruction book, in part from memory.

import {
  ambientAirFactor,
  type CableInsulation,
  type GroupLayout,
  groupingFactor,
  type InstallationMethod,
  tabulatedAmpacity,
} from '../../engine/tables/ampacity.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

// Two pages of a machine's instruction book, whose tables say that they are calculated after the standard.
const seen = { source: 'IEC 60364-5-52 as given in an instruction book', evidence: 'seen in source' } as const;
const remembered = { source: 'IEC 60364-5-52', evidence: 'from memory' } as const;
type Sureness = typeof seen | typeof remembered;

const column = (
  sureness: Sureness,
  insulation: CableInsulation,
  method: InstallationMethod,
  text: string,
): ReferenceCase[] =>
  [...text.matchAll(/([\d.]+) ([\d.]+)/g)].map(([, size, amperes]) => ({
    name: `${insulation} ${method} ${size} mm²`,
    ...sureness,
    actual: () => solved(tabulatedAmpacity(insulation, method, Number(size) * 1e-6)).current,
    expected: Number(amperes),
    tolerance: 1e-9,
  }));

referenceTests('ampacity', [
  ...column(
    seen,
    'pvc',
    'B2',
    '1.5 15; 2.5 20; 4 27; 6 34; 10 46; 16 62; 25 80; 35 99; 50 118; 70 149; 95 179; 120 206',
  ),
  ...column(seen, 'pvc', 'C', '1.5 17; 2.5 24; 4 32; 6 41; 10 57; 16 76; 25 96; 35 119'),
  ...column(remembered, 'pvc', 'C', '50 144; 70 184; 95 223; 120 259; 150 299; 185 341; 240 403; 300 464'),
  ...column(
    remembered,
    'pvc',
    'E',
    '25 101; 35 126; 50 153; 70 196; 95 238; 120 276; 150 319; 185 364; 240 430; 300 497',
  ),
  ...column(
    remembered,
    'pvc',
    'F',
    '25 110; 35 137; 50 167; 70 216; 95 264; 120 308; 150 356; 185 409; 240 485; 300 561',
  ),
  // mm²: methods C, E, F.
  ...`
    1.5 22 23 -; 2.5 30 32 -; 4 40 42 -; 6 52 54 -; 10 71 75 -; 16 96 100 -; 25 119 127 135; 35 147 158 169;
    50 179 192 207; 70 229 246 268; 95 278 298 328; 120 322 346 383; 150 371 399 444; 185 424 456 510;
    240 500 538 607; 300 576 621 703`
    .split(';')
    .flatMap(row => {
      const [size, ...currents] = row.trim().split(' ');
      return (['C', 'E', 'F'] as const).flatMap((method, index) =>
        currents[index] === '-' ? [] : column(remembered, 'xlpe', method, `${size} ${currents[index]}`),
      );
    }),
]);

const ambient = (insulation: CableInsulation, celsius: number): number =>
  solved(ambientAirFactor(insulation, celsius + 273.15)).factor;
const xlpe = [
  [10, 1.15],
  [20, 1.08],
  [30, 1],
  [35, 0.96],
  [40, 0.91],
  [45, 0.87],
  [50, 0.82],
  [55, 0.76],
  [60, 0.71],
  [65, 0.65],
  [70, 0.58],
  [75, 0.5],
  [80, 0.41],
] as const;
const pvc = [
  [40, 0.87],
  [45, 0.79],
  [50, 0.71],
  [55, 0.61],
] as const;

referenceTests('ambient factor', [
  ...pvc.map(([celsius, factor]) => ({
    name: `pvc ${celsius} °C`,
    ...seen,
    actual: () => ambient('pvc', celsius),
    expected: factor,
    tolerance: 1e-9,
  })),
  ...xlpe.map(([celsius, factor]) => ({
    name: `xlpe ${celsius} °C`,
    ...remembered,
    actual: () => ambient('xlpe', celsius),
    expected: factor,
    tolerance: 1e-9,
  })),
  // The law behind the table: heat flow in proportion to the temperature difference left.
  ...[10, 15, 20, 25, 35, 40, 45, 50, 55, 60].map(celsius => ({
    name: `pvc ${celsius} °C by the law √((70 − θ)/40)`,
    source: 'conduction of heat',
    evidence: 'recomputed independently' as const,
    actual: () => ambient('pvc', celsius),
    expected: Math.sqrt((70 - celsius) / 40),
    tolerance: 0.01,
    absolute: true as const,
  })),
  ...xlpe.map(([celsius]) => ({
    name: `xlpe ${celsius} °C by the law √((90 − θ)/60)`,
    source: 'conduction of heat',
    evidence: 'recomputed independently' as const,
    actual: () => ambient('xlpe', celsius),
    expected: Math.sqrt((90 - celsius) / 60),
    tolerance: 0.01,
    absolute: true as const,
  })),
]);

const groups: readonly (readonly [GroupLayout, string])[] = [
  ['bunched', '1 1; 2 .80; 3 .70; 4 .65; 5 .60; 6 .57; 7 .54; 8 .52; 9 .50; 12 .45; 16 .41; 20 .38'],
  ['wall', '1 1; 2 .85; 3 .79; 4 .75; 5 .73; 6 .72; 7 .72; 8 .71; 9 .70'],
  ['tray', '1 1; 2 .88; 3 .82; 4 .77; 5 .75; 6 .73; 7 .73; 8 .72; 9 .72'],
  ['ladder', '1 1; 2 .87; 3 .82; 4 .80; 5 .80; 6 .79; 7 .79; 8 .78; 9 .78'],
];

referenceTests(
  'grouping factor',
  groups.flatMap(([layout, text]) =>
    text.split(';').map((pair): ReferenceCase => {
      const [circuits, factor] = pair.trim().split(' ').map(Number);
      return {
        name: `${layout} ${circuits}`,
        ...remembered,
        actual: () => solved(groupingFactor(layout, circuits!)).factor,
        expected: factor!,
        tolerance: 1e-9,
      };
    }),
  ),
);
