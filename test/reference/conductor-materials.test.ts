// Resistivity of copper and the rise of resistance with temperature: IEC 60028 and its temperature coefficient.

import { resistivity, temperatureFactor } from '../../engine/physics/cable.ts';
import { referenceTests } from '../kit/reference.ts';

referenceTests('conductor materials', [
  {
    name: 'copper at 20 °C, 1/58 Ω·mm²/m',
    source: 'IEC 60028, as GNU units gives it (copperconductivity, 58 MS/m)',
    evidence: 'seen in source',
    actual: () => resistivity.copper,
    expected: 1.72414e-8,
    tolerance: 1e-5,
  },
  {
    name: 'aluminium at 20 °C',
    source: 'IEC 60889, 0.02826 Ω·mm²/m',
    evidence: 'from memory',
    actual: () => resistivity.aluminium,
    expected: 2.826e-8,
    tolerance: 5e-4,
  },
  {
    name: 'copper, 90 °C over 20 °C by (234.5 + θ)',
    source: '324.5/254.5',
    evidence: 'recomputed independently',
    actual: () => temperatureFactor('copper', 363.15),
    expected: 1.27505,
    tolerance: 1e-5,
  },
  {
    name: 'copper, 90 °C over 20 °C by the coefficient 0.00393 /K',
    source: 'IEC 60028',
    evidence: 'from memory',
    actual: () => temperatureFactor('copper', 363.15),
    expected: 1 + 0.00393 * 70,
    tolerance: 4.1e-5,
  },
  {
    name: 'copper, 70 °C over 20 °C',
    source: '304.5/254.5',
    evidence: 'recomputed independently',
    actual: () => temperatureFactor('copper', 343.15),
    expected: 1.1964637,
    tolerance: 1e-7,
  },
  {
    name: 'aluminium, 90 °C over 20 °C by the coefficient 0.00403 /K',
    source: 'IEC 60889',
    evidence: 'from memory',
    actual: () => temperatureFactor('aluminium', 363.15),
    expected: 1 + 0.00403 * 70,
    tolerance: 2e-4,
  },
]);
