// Conductor resistance at 20 °C: IEC 60228, class 2 plain copper and aluminium.

import { expect, test } from 'vitest';
import { conductorResistance } from '../../engine/physics/cable.ts';
import { type Conductor, tabulatedCrossSections } from '../../engine/tables/conductor-resistance.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

// mm²: copper, aluminium, Ω/km. A reprint of the standard (scribd.com/document/237174124); copper also in Agrawal's
// handbook, Table A16.4.
const table = `
  1.5: 12.1 -     2.5: 7.41 -     4: 4.61 -        6: 3.08 -       10: 1.83 3.08    16: 1.15 1.91
  25: 0.727 1.20  35: 0.524 0.868 50: 0.387 0.641  70: 0.268 0.443 95: 0.193 0.320
  120: 0.153 0.253     150: 0.124 0.206      185: 0.0991 0.164    240: 0.0754 0.125   300: 0.0601 0.100
  400: 0.0470 0.0778   500: 0.0366 0.0605    630: 0.0283 0.0469   800: 0.0221 0.0367
  1000: 0.0176 0.0291  1200: 0.0151 0.0247`;

const cold = 293.15;
const perKilometre = (conductor: Conductor, size: number): number | undefined => {
  const found = solved(conductorResistance(conductor, size * 1e-6, cold));
  return found.basis === 'table' ? found.perLength * 1000 : undefined;
};

const source = 'IEC 60228, read in a reprint';
const rows = [...table.matchAll(/([\d.]+): ([\d.]+) ([\d.]+|-)/g)];

referenceTests(
  'IEC 60228',
  rows.flatMap(([, size, copper, aluminium]): ReferenceCase[] => {
    const row = (conductor: Conductor, ohms: string): ReferenceCase => ({
      name: `${conductor} ${size} mm²`,
      source,
      evidence: 'seen in source',
      actual: () => perKilometre(conductor, Number(size)),
      expected: Number(ohms),
      tolerance: 1e-9,
    });
    return aluminium === '-' ? [row('copper', copper!)] : [row('copper', copper!), row('aluminium', aluminium!)];
  }),
);

test('the table is whole', () => {
  expect(tabulatedCrossSections('copper').length).toBe(22);
  expect(tabulatedCrossSections('aluminium').length).toBe(18);
});

// A slip of a digit would leave the band. Resistance times nominal area (Ω·mm²/km) lies above the resistivity of
// annealed copper, 17.24: by 4 to 13 % up to 500 mm², by 2 % and more beyond. Common practice, no source.
test.each(tabulatedCrossSections('copper'))('copper %f m²: resistance times area is plausible', size => {
  const product = perKilometre('copper', size * 1e6)! * size * 1e6;
  const large = size > 500.5e-6;
  expect(product).toBeGreaterThan(large ? 17.2414 : 18);
  expect(product).toBeLessThan(19.4);
});
