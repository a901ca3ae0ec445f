// Pressure and density of the air over the altitude, and the air flow that follows.

import { airDensity, airFlow, standardPressure, standardTemperature } from '../../engine/physics/heat.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

const standard = { source: 'ISO 2533, table', evidence: 'from memory', tolerance: 2e-5 } as const;
const rows = [
  [0, 101_325, 1.225],
  [1000, 89_874.6, 1.11164],
  [2000, 79_495.2, 1.00649],
  [3000, 70_108.5, 0.909122],
] as const;
const density = (altitude: number): number | undefined => airDensity(altitude, standardTemperature(altitude)!);

// 10 000 ft: seen as a worked example with rounded steps (T 268.34 K, p 69 697 Pa, 0.905 kg/m³).
const example = {
  source: 'worked example at 0685.com/continuing-education/be-self-taught/45000.html',
  evidence: 'seen in source',
} as const;

referenceTests('standard atmosphere', [
  ...rows.flatMap(([altitude, pressure, kilograms]): ReferenceCase[] => [
    { name: `pressure at ${altitude} m`, ...standard, actual: () => standardPressure(altitude), expected: pressure },
    { name: `density at ${altitude} m`, ...standard, actual: () => density(altitude), expected: kilograms },
  ]),
  {
    name: 'temperature at 3048 m',
    ...example,
    tolerance: 1e-4,
    actual: () => standardTemperature(3048),
    expected: 268.34,
  },
  { name: 'pressure at 3048 m', ...example, tolerance: 1e-3, actual: () => standardPressure(3048), expected: 69_697 },
  { name: 'density at 3048 m', ...example, tolerance: 1e-3, actual: () => density(3048), expected: 0.905 },
]);

// m³/h for each watt, times kelvin: the factor by which switchboards are ventilated.
const factor = (altitude: number): number => airFlow(1, 1, { altitude, temperature: 293.15 })! * 3600;

referenceTests('ventilation factor of enclosures, m³·K/(W·h)', [
  {
    name: 'at sea level',
    source: '3.1, with a reserve',
    evidence: 'common practice, no source',
    actual: () => factor(0),
    expected: 3.1,
    tolerance: 0.05,
  },
  {
    name: 'at 1000 m',
    source: '3.5, with a reserve',
    evidence: 'common practice, no source',
    actual: () => factor(1000),
    expected: 3.5,
    tolerance: 0.05,
  },
]);
