// A step-up chopper: a worked example of Rashid's textbook.

import { chopperFlow } from '../../engine/physics/chopper.ts';
import { referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

referenceTests('choppers', [
  {
    name: 'input current from 5 V to 15 V at 0.5 A',
    // Seen as a worked solution in Sashi20/Scilab-TBC-Uploads-1, 3941/CH5; the book itself was not opened.
    source: 'Rashid, Power Electronics, 4th ed., Ex. 5.6',
    evidence: 'inputs seen in source, result recomputed independently',
    actual: () => solved(chopperFlow({ low: 5, high: 15, power: 15 * 0.5, at: 'high', efficiency: 1 })).lowCurrent,
    expected: 1.5,
    tolerance: 1e-6,
  },
]);
