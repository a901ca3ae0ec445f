// Resistance of copper conductors in American sizes, which the standard's table doesn't hold: the National Electrical Code.

import { cableElement, conductorResistance } from '../../engine/physics/cable.ts';
import { referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

/** mm² of 1000 circular mils: GNU units, definitions of 2.22. */
const kcmil = 0.5067074791;
/** mm², from the gauge's diameters, 92^((36 − n)/39) · 0.127 mm with n = 0, −1, −2, −3 for 1/0 to 4/0. */
const gauge = (n: number): number => (Math.PI / 4) * (0.127 * 92 ** ((36 - n) / 39)) ** 2;
const per1000Feet = 304.8;
const hot = 348.15;

// Chapter 9, Table 9: Ω per 1000 feet at 75 °C and 60 Hz, copper, conduit of PVC; rounded to the digits shown. The engine
// has the metal's resistivity over the nominal area; stranding adds about 2 %, and proximity in the conduit, which the
// engine leaves out, as much again for the largest.
const alternating: readonly (readonly [name: string, size: number, ohms: number, lastDigit: number])[] = [
  ['6 AWG', gauge(6), 0.49, 0.01],
  ['2 AWG', gauge(2), 0.19, 0.01],
  ['1/0', gauge(0), 0.12, 0.01],
  ['2/0', gauge(-1), 0.1, 0.01],
  ['3/0', gauge(-2), 0.077, 0.001],
  ['4/0', gauge(-3), 0.062, 0.001],
  ['250 kcmil', 250 * kcmil, 0.052, 0.001],
  ['300 kcmil', 300 * kcmil, 0.044, 0.001],
];

referenceTests(
  'Table 9, 75 °C, 60 Hz',
  alternating.map(([name, size, ohms, lastDigit]) => ({
    name,
    source: 'NEC, Chapter 9, Table 9, as reprinted on an electrician’s site',
    evidence: 'seen in source' as const,
    actual: () =>
      solved(
        cableElement(
          { conductor: 'copper', crossSection: size * 1e-6, length: per1000Feet, parallel: 1, temperature: hot },
          60,
        ),
      ).resistance,
    expected: ohms,
    tolerance: 0.04 * ohms + lastDigit / 2,
    absolute: true as const,
  })),
);

// Table 8: direct current, uncoated copper. From memory; a stranded conductor is 2 % above its metal.
const direct: readonly (readonly [name: string, size: number, ohms: number])[] = [
  ['4/0', gauge(-3), 0.0608],
  ['250 kcmil', 250 * kcmil, 0.0515],
  ['500 kcmil', 500 * kcmil, 0.0258],
  ['750 kcmil', 750 * kcmil, 0.0171],
  ['1000 kcmil', 1000 * kcmil, 0.0129],
];

referenceTests(
  'Table 8, 75 °C, direct current, less 2 % for stranding',
  direct.map(([name, size, ohms]) => ({
    name,
    source: 'NEC, Chapter 9, Table 8',
    evidence: 'from memory' as const,
    actual: () => solved(conductorResistance('copper', size * 1e-6, hot)).perLength * per1000Feet,
    expected: ohms / 1.02,
    tolerance: 0.005,
  })),
);
