// Six-step operation, from an open course on power electronics (University of Siegen, exercise 7, task 2).

import { sixStepVoltage } from '../../engine/physics/modulation.ts';
import { referenceTests } from '../kit/reference.ts';

const source = 'Power Electronics course, University of Siegen, ex. 7 task 2 (github.com/IAS-Uni-Siegen/PE_course)';

// The later current and power of that exercise don't follow from its own data and aren't used.
referenceTests('six-step operation', [
  {
    name: '510 V direct gives 397.6 V line to line, as printed',
    source,
    evidence: 'seen in source',
    actual: () => sixStepVoltage(510),
    expected: 397.6,
    tolerance: 0.05,
    absolute: true,
  },
  {
    name: '510 V direct gives 397.645 V line to line',
    source,
    evidence: 'inputs seen in source, result recomputed independently',
    actual: () => sixStepVoltage(510),
    expected: 397.645,
    tolerance: 1e-5,
  },
  {
    name: '510 V direct gives a phase amplitude of 2/π·U = 324.68 V, as printed',
    source,
    evidence: 'seen in source',
    actual: () => (sixStepVoltage(510) * Math.SQRT2) / Math.sqrt(3),
    expected: 324.68,
    tolerance: 0.005,
    absolute: true,
  },
  {
    name: '513.020 V direct for 400 V',
    source: 'the same relation',
    evidence: 'recomputed independently',
    actual: () => sixStepVoltage(513.02),
    expected: 400,
    tolerance: 1e-5,
  },
  {
    name: '884.959 V direct for 690 V',
    source: 'the same relation',
    evidence: 'recomputed independently',
    actual: () => sixStepVoltage(884.959),
    expected: 690,
    tolerance: 1e-5,
  },
]);
