// Alternating-current resistance of hot copper cables: Agrawal, Industrial Power Engineering and Applications Handbook.

import { cableElement } from '../../engine/physics/cable.ts';
import { referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

// Table A16.4, p. 565: Ω/km at 70 °C, 50 Hz. The figures include proximity, which the engine leaves out: about 1 % up
// to 300 mm², 2.6 % at 400 and 500 mm², 4.7 % at 630 mm². The tolerances say so.
const table: readonly (readonly [size: number, ohms: number, tolerance: number])[] = [
  [1.5, 14.5, 0.01],
  [16, 1.38, 0.01],
  [25, 0.87, 0.01],
  [35, 0.627, 0.01],
  [50, 0.463, 0.01],
  [70, 0.321, 0.01],
  [95, 0.23, 0.01],
  [120, 0.184, 0.01],
  [150, 0.149, 0.01],
  [185, 0.12, 0.01],
  [240, 0.0912, 0.01],
  [300, 0.0739, 0.015],
  [400, 0.0592, 0.03],
  [500, 0.0468, 0.03],
  [630, 0.0379, 0.05],
];

const perKilometre = (size: number): number =>
  solved(
    cableElement(
      { conductor: 'copper', crossSection: size * 1e-6, length: 1000, parallel: 1, temperature: 343.15 },
      50,
    ),
  ).resistance;

referenceTests(
  'resistance at 70 °C, 50 Hz',
  table.map(([size, ohms, tolerance]) => ({
    name: `${size} mm²`,
    source: 'Agrawal, Industrial Power Engineering and Applications Handbook, Table A16.4, p. 565',
    evidence: 'seen in source' as const,
    actual: () => perKilometre(size),
    expected: ohms,
    tolerance,
  })),
);
