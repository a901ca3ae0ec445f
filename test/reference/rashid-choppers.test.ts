// Step-down and step-up choppers: worked examples of Rashid's textbook, one half bridge seen from either side.

import {
  chokeCurrent,
  chopperFlow,
  chopperRipple,
  dutySpan,
  inductanceForRipple,
} from '../../engine/physics/chopper.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

// Seen as worked solutions in Sashi20/Scilab-TBC-Uploads-1, 3941/CH5; the book itself was not opened.
const book = 'Rashid, Power Electronics, 4th ed.';
const evidence = 'inputs seen in source, result recomputed independently';
const tolerance = 1e-6;
const down = { source: `${book}, Ex. 5.5`, evidence, tolerance } as const;
const up = { source: `${book}, Ex. 5.6`, evidence, tolerance } as const;

const at = (volts: number) => ({ from: volts, to: volts });
const boost = { low: 5, high: 15, inductance: 150e-6, frequency: 25e3 };
const ripple = (): number => chopperRipple(boost)!.perPhase;
const input = (): number => solved(chopperFlow({ ...boost, power: 15 * 0.5, at: 'high', efficiency: 1 })).lowCurrent;

const cases: readonly ReferenceCase[] = [
  { name: 'duty from 12 V to 5 V', ...down, actual: () => solved(dutySpan(at(5), at(12))).from, expected: 0.41666667 },
  {
    name: 'inductance (µH) for 0.8 A at 25 kHz',
    ...down,
    actual: () => inductanceForRipple(at(5 / 12), 12, 0.8, 25e3)! * 1e6,
    expected: 145.833333,
  },
  {
    name: 'duty of the lower switch from 5 V to 15 V',
    ...up,
    actual: () => 1 - solved(dutySpan(at(5), at(15))).from,
    expected: 0.66666667,
  },
  { name: 'ripple of the choke, A', ...up, actual: ripple, expected: 0.88888889 },
  { name: 'input current, A', ...up, actual: input, expected: 1.5 },
  { name: 'peak of the choke, A', ...up, actual: () => chokeCurrent(input(), ripple()).peak, expected: 1.94444444 },
];

referenceTests('choppers', cases);
