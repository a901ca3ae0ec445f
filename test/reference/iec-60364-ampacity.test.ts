// Ampacity of copper cables and its factors: IEC 60364-5-52, in part seen in an instruction book, in part from memory.

import { expect, test } from 'vitest';
import {
  ambientAirFactor,
  ambientSoilFactor,
  ampacitySizes,
  type CableInsulation,
  type GroupLayout,
  groupingFactor,
  type InstallationMethod,
  methodsFor,
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
  // The book rounds 17.5 A for 1.5 mm² down.
  ...column(seen, 'pvc', 'C', '2.5 24; 4 32; 6 41; 10 57; 16 76; 25 96; 35 119'),
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

// The annex of the standard gives the tables as powers of the size, I = A·S^m, A up to 16 mm² and beyond, rounded in the
// tables to half an ampere and to an ampere. Coefficients as an open class for cables has them; its own tables for the
// ground aside. In conduit (B1, B2) the second edition's tables leave the powers above 120 mm².
const powers = {
  source: 'IEC 60364-5-52, annex on I = A·S^m, coefficients seen in an open class',
  evidence: 'seen in source',
} as const;

type Power = readonly [amperes: number, exponent: number];
type PowerRow = readonly [
  conductor: 'copper' | 'aluminium',
  insulation: CableInsulation,
  method: InstallationMethod,
  upTo16: Power,
  beyond?: Power,
];

const powerRows: readonly PowerRow[] = [
  ['copper', 'pvc', 'A1', [10.4, 0.605]],
  ['aluminium', 'pvc', 'A1', [7.94, 0.612]],
  ['copper', 'xlpe', 'A1', [13.34, 0.611]],
  ['aluminium', 'xlpe', 'A1', [10.9, 0.605]],
  ['copper', 'pvc', 'A2', [10.1, 0.592]],
  ['aluminium', 'pvc', 'A2', [7.712, 0.5984]],
  ['copper', 'xlpe', 'A2', [12.95, 0.598]],
  ['aluminium', 'xlpe', 'A2', [10.58, 0.592]],
  ['copper', 'pvc', 'B1', [11.84, 0.628]],
  ['aluminium', 'pvc', 'B1', [9.265, 0.627]],
  ['copper', 'xlpe', 'B1', [15.62, 0.6252]],
  ['aluminium', 'xlpe', 'B1', [12.3, 0.63]],
  ['copper', 'pvc', 'B2', [11.65, 0.6005]],
  ['aluminium', 'pvc', 'B2', [9.03, 0.601]],
  ['copper', 'xlpe', 'B2', [15.17, 0.6]],
  ['aluminium', 'xlpe', 'B2', [11.95, 0.605]],
  ['copper', 'pvc', 'C', [13.5, 0.625], [12.4, 0.635]],
  ['aluminium', 'pvc', 'C', [10.5, 0.625], [9.536, 0.6324]],
  ['copper', 'xlpe', 'C', [17, 0.623], [15.4, 0.635]],
  ['aluminium', 'xlpe', 'C', [13.5, 0.625], [11.5, 0.639]],
  ['copper', 'pvc', 'E', [14.3, 0.62], [12.9, 0.64]],
  ['aluminium', 'pvc', 'E', [11, 0.62], [9.9, 0.64]],
  ['copper', 'xlpe', 'E', [17.8, 0.623], [16.4, 0.637]],
  ['aluminium', 'xlpe', 'E', [13.7, 0.623], [12.6, 0.635]],
];

referenceTests(
  'powers of the size',
  powerRows.flatMap(([conductor, insulation, method, small, large = small]) =>
    ampacitySizes(insulation, method, conductor)
      .map(size => Math.round(size * 1e7) / 10)
      .filter(size => size <= 120)
      .map((size): ReferenceCase => {
        // The annex has 47.5 mm² for the nominal 50.
        const [factor, exponent] = size <= 16 ? small : large;
        const amperes = factor * (size === 50 ? 47.5 : size) ** exponent;
        return {
          name: `${conductor} ${insulation} ${method} ${size} mm²`,
          ...powers,
          actual: () => solved(tabulatedAmpacity(insulation, method, size * 1e-6, conductor)).current,
          expected: amperes,
          tolerance: 0.6 / amperes + 0.01,
        };
      }),
  ),
);

// Two open tables whose makers say that they follow the standard, one of them checked by its maker against its text.
const listed = { source: 'IEC 60364-5-52:2009 as open tables have it', evidence: 'seen in source' } as const;

const listedColumns: readonly (readonly ['copper' | 'aluminium', CableInsulation, InstallationMethod, string])[] = [
  ['copper', 'pvc', 'D1', '1.5 18; 16 64; 95 169; 240 280; 300 316'],
  ['copper', 'xlpe', 'D2', '1.5 23; 16 84; 95 226; 240 375'],
  ['copper', 'xlpe', 'B1', '150 342; 185 384; 240 450; 300 514'],
  ['copper', 'xlpe', 'B2', '150 300; 185 340; 240 398'],
  ['copper', 'xlpe', 'F', '25 135; 240 607; 630 1088'],
  ['aluminium', 'xlpe', 'E', '25 97; 95 227; 240 409; 300 471'],
  ['aluminium', 'xlpe', 'F', '25 103; 95 253; 240 471; 630 899'],
  ['aluminium', 'pvc', 'D1', '16 50; 95 132; 300 247'],
];

referenceTests(
  'open tables',
  listedColumns.flatMap(([conductor, insulation, method, text]) =>
    text.split(';').map((pair): ReferenceCase => {
      const [size, amperes] = pair.trim().split(' ').map(Number);
      return {
        name: `${conductor} ${insulation} ${method} ${size} mm²`,
        ...listed,
        actual: () => solved(tabulatedAmpacity(insulation, method, size! * 1e-6, conductor)).current,
        expected: amperes!,
        tolerance: 1e-9,
      };
    }),
  ),
);

test('every column of both metals is there for both insulations', () => {
  for (const insulation of ['pvc', 'xlpe'] as const)
    for (const conductor of ['copper', 'aluminium'] as const)
      expect(methodsFor(insulation, conductor)).toEqual(['A1', 'A2', 'B1', 'B2', 'C', 'D1', 'D2', 'E', 'F']);
});

const soil = [
  ['pvc', '10 1.10; 15 1.05; 25 .95; 30 .89; 35 .84; 40 .77; 45 .71; 50 .63; 55 .55; 60 .45', 70],
  [
    'xlpe',
    '10 1.07; 15 1.04; 25 .96; 30 .93; 35 .89; 40 .85; 45 .80; 50 .76; 55 .71; 60 .65; 65 .60; 70 .53; 75 .46; 80 .38',
    90,
  ],
] as const;

referenceTests(
  'soil',
  soil.flatMap(([insulation, text, limit]) =>
    text.split(';').flatMap((pair): ReferenceCase[] => {
      const [celsius, factor] = pair.trim().split(' ').map(Number);
      const actual = () => solved(ambientSoilFactor(insulation, celsius! + 273.15)).factor;
      const law = Math.sqrt((limit - celsius!) / (limit - 20));
      return [
        { name: `${insulation} ${celsius} °C`, ...listed, actual, expected: factor!, tolerance: 1e-9 },
        {
          name: `${insulation} ${celsius} °C by the law √((${limit} − θ)/${limit - 20})`,
          source: 'conduction of heat',
          evidence: 'recomputed independently',
          actual,
          expected: law,
          tolerance: 0.01,
          absolute: true,
        },
      ];
    }),
  ),
);

const inGround: readonly (readonly ['duct' | 'soil', string])[] = [
  ['duct', '2 .85; 3 .75; 4 .70; 5 .65; 6 .60; 20 .35'],
  ['soil', '2 .75; 3 .65; 4 .60; 5 .55; 6 .50; 20 .29'],
];

referenceTests(
  'grouping in the ground',
  inGround.flatMap(([layout, text]) =>
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
