// Open-circuit and short-circuit test of a transformer: an open exam (University of Siegen, electrical machines, 2024).

import { magnetisingShunt, seriesImpedance, voltageRatio } from '../../engine/physics/transformer.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

const source =
  'Electrical Machines course, University of Siegen, exam winter 2024 task 3 (github.com/IAS-Uni-Siegen/EMD_course)';

// 3 kVA, 230 V, single-phase; 5.476 V secondary; open circuit 60 W, 90 VA; short circuit 20 V, 13 A, 100 W.
// A rating plate at rated current (3000/230 A) from the short-circuit test at 13 A.
const rated = 3000 / 230;
const plate = {
  ratedPower: 3000,
  secondaryVoltage: 230,
  impedance: ((20 / 13) * rated) / 230,
  loadLoss: 100 * (rated / 13) ** 2,
};
const series = () => solved(seriesImpedance(plate));
const shunt = () =>
  solved(magnetisingShunt({ ratedPower: 3000, voltage: 230, noLoadLoss: 60, noLoadCurrent: 90 / 3000 }));
const whole = () => Math.hypot(series().resistance, series().reactance);

const worked = (name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  name,
  source,
  evidence: 'inputs seen in source, result recomputed independently',
  actual,
  expected,
  tolerance: 1e-4,
});
// The course rounds on the way: printed figures are compared within what that costs.
const printed = (
  name: string,
  actual: () => number | undefined,
  expected: number,
  tolerance: number,
): ReferenceCase => ({
  ...worked(`${name}, as printed`, actual, expected),
  evidence: 'seen in source',
  tolerance,
});

referenceTests('open-circuit and short-circuit test', [
  worked('ratio', () => voltageRatio(230, 5.476), 42),
  worked('iron resistance', () => 1 / shunt().conductance, 881.67),
  worked('short-circuit impedance', whole, 1.53846),
  worked('its power factor', () => series().resistance / whole(), 0.384615),
  worked('resistance', () => series().resistance, 0.59172),
  worked('reactance', () => series().reactance, 1.42012),
  worked('impedance ratio at rated current', () => whole() / (230 ** 2 / 3000), 0.08725),
  printed('iron resistance', () => 1 / shunt().conductance, 881.6, 1e-4),
  printed('short-circuit impedance', whole, 1.54, 2e-3),
  printed('its power factor', () => series().resistance / whole(), 0.385, 2e-3),
  printed('resistance', () => series().resistance, 0.593, 3e-3),
  printed('reactance', () => series().reactance, 1.422, 2e-3),
]);
