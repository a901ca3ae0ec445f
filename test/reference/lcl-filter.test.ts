// Resonance and ripple of inductance – capacitor – inductance filters, against published designs.

import {
  capacitorReactivePower,
  capacitorShare,
  lowerResonance,
  resonanceBand,
  resonanceFrequency,
  rippleCurrent,
  starCapacitance,
} from '../../engine/physics/filter.ts';
import { type ReferenceCase, type ReferenceEvidence, referenceTests } from '../kit/reference.ts';

const group =
  (source: string, evidence: ReferenceEvidence, tolerance: number) =>
  (name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
    name,
    source,
    evidence,
    actual,
    expected,
    tolerance,
  });

// Read in an index of public code that doesn't name the repository.
// ω² = (L1 + L2)/(L1·L2·C) and ω² = 1/(L2·C), with numbers that make both plain: L1 = L2 = 2 H, C = 1 F.
const derived = group('open study notes on such filters, derived step by step', 'seen in source', 1e-12);
referenceTests('formulas', [
  derived('resonance', () => resonanceFrequency(2, 2, 1), 1 / (2 * Math.PI)),
  derived('lower resonance', () => lowerResonance(2, 1), 1 / (2 * Math.PI * Math.SQRT2)),
]);

// 5 kW, 120·√3 V, 60 Hz, 400 V direct, 15 kHz; 5 % of the base as capacitor, 10 % ripple.
const reznik = group(
  'Reznik, Simões, Al-Durra, Muyeen, IEEE TIA 50(2), 2014',
  'inputs from memory, result recomputed independently',
  1e-4,
);
const peakCurrent = (5000 * Math.SQRT2) / (3 * 120);
referenceTests('Reznik 2014', [
  reznik(
    'ripple over the peak current, of the inductance for 10 %',
    () => rippleCurrent(400, 15e3, 2.2627e-3)! / peakCurrent,
    0.1,
  ),
  reznik('resonance', () => resonanceFrequency(2.33e-3, 0.045e-3, 15e-6), 6184.7),
]);

// 4.1 kVA, 380 V, 50 Hz; 3 mH, 5 mH, 2.2 µF.
const liserre = group(
  'Liserre, Blaabjerg, Hansen, IEEE TIA 41(5), 2005',
  'inputs from memory, result recomputed independently',
  1e-4,
);
referenceTests('Liserre 2005', [liserre('resonance', () => resonanceFrequency(3e-3, 5e-3, 2.2e-6), 2478)]);
const band = group('Liserre, Blaabjerg, Hansen, IEEE TIA 41(5), 2005', 'from memory', 1e-12);
referenceTests('band of the resonance', [
  band('ten times the network frequency', () => resonanceBand(50, 8000).low, 500),
  band('half the switching frequency', () => resonanceBand(50, 8000).high, 4000),
]);

// 500 kVA, 400 V, 50 Hz with 0.10, 0.05 and 0.05 per unit of 0.32 Ω.
const synthetic = group('hand calculation, no publication', 'recomputed independently', 1e-5);
referenceTests('500 kVA by hand', [
  synthetic('resonance', () => resonanceFrequency(101.859e-6, 50.93e-6, 497.359e-6), 1224.745),
  synthetic('capacitor reactive power', () => capacitorReactivePower(400, 50, 497.359e-6), 25e3),
  synthetic('its share of the rating', () => capacitorShare(25e3, 500e3), 0.05),
  synthetic('the same bank in delta', () => starCapacitance(497.359e-6 / 3, 'delta'), 497.359e-6),
]);

// f_res/f1 = √((l1 + l2)/(l1·l2·c)) and Q/S = c, in per-unit figures of any plant.
const identity = group('per-unit identity', 'recomputed independently', 1e-9);
const plants = [
  { rating: 300e3, voltage: 360, frequency: 50, l1: 0.12, l2: 0.07, c: 0.03 },
  { rating: 2e6, voltage: 690, frequency: 60, l1: 0.09, l2: 0.11, c: 0.06 },
];
referenceTests(
  'per-unit identities',
  plants.flatMap(({ rating, voltage, frequency, l1, l2, c }) => {
    const impedance = (voltage * voltage) / rating;
    const angular = 2 * Math.PI * frequency;
    const [henry, farad] = [impedance / angular, 1 / (angular * impedance)];
    const resonance = () => resonanceFrequency(l1 * henry, l2 * henry, c * farad)!;
    return [
      identity(`resonance over ${frequency} Hz`, () => resonance() / frequency, Math.sqrt((l1 + l2) / (l1 * l2 * c))),
      identity(
        `capacitor power over ${rating} VA`,
        () => capacitorReactivePower(voltage, frequency, c * farad) / rating,
        c,
      ),
    ];
  }),
);
