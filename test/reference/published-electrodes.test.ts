// Open-circuit voltage of two lithium cells from published electrode functions, carried through the battery.

import { describe, expect, test } from 'vitest';
import { cellToBattery, socAtVoltage } from '../../engine/physics/battery.ts';
import { charge } from '../../engine/physics/charge.ts';
import { discharge } from '../../engine/physics/discharge.ts';
import { comparedByDifference, comparedWith } from '../kit/reference.ts';

// Functions and parameters seen in pybamm-team/PyBaMM (BSD-3-Clause), commit 7c9f5bd8, Prada2013.py and Chen2020.py.
// Graphite and NMC811: Chen et al., J. Electrochem. Soc. 167 (2020) 080534. LFP: Afshar et al., arXiv:1709.03970.
// The table: recomputed independently from those functions, full-cell balance, to 0.05 mV.
const { exp, tanh } = Math;
const graphite = (x: number) =>
  1.9793 * exp(-39.3631 * x) +
  0.2482 -
  0.0909 * tanh(29.8538 * (x - 0.1234)) -
  0.04478 * tanh(14.9159 * (x - 0.2769)) -
  0.0205 * tanh(30.4444 * (x - 0.6103));
const nmc = (y: number) =>
  -0.809 * y +
  4.4875 -
  0.0428 * tanh(18.5138 * (y - 0.5542)) -
  17.7326 * tanh(15.789 * (y - 0.3117)) +
  17.5842 * tanh(15.9308 * (y - 0.312));
const lfp = (y: number) => 3.4077 - 0.020269 * y + 0.5 * exp(-150 * y) - 0.9 * exp(-30 * (1 - y));

interface Cell {
  readonly positive: (y: number) => number;
  readonly negative: (x: number) => number;
  /** Ah. */
  readonly positiveCapacity: number;
  readonly negativeCapacity: number;
  /** Lithium in both electrodes, Ah. */
  readonly lithium: number;
  readonly limits: readonly [number, number];
}

const faraday = 96_485.33212;
const electrode = (area: number, share: number, thickness: number, concentration: number) =>
  (faraday * share * thickness * area * concentration) / 3600;

const ironPhosphate: Cell = balanced(
  lfp,
  [0.18, 0.374, 80e-6, 22_806],
  [0.18, 0.58, 34e-6, 30_555],
  0.0038,
  0.81,
  [2, 3.6],
);
const nickel: Cell = balanced(
  nmc,
  [0.1027, 0.665, 75.6e-6, 63_104],
  [0.1027, 0.75, 85.2e-6, 33_133],
  17_038 / 63_104,
  29_866 / 33_133,
  [2.5, 4.2],
);

type Electrode = readonly [number, number, number, number];

function balanced(
  positive: (y: number) => number,
  positiveSize: Electrode,
  negativeSize: Electrode,
  y: number,
  x: number,
  limits: readonly [number, number],
): Cell {
  const positiveCapacity = electrode(...positiveSize);
  const negativeCapacity = electrode(...negativeSize);
  const lithium = y * positiveCapacity + x * negativeCapacity;
  return { positive, negative: graphite, positiveCapacity, negativeCapacity, lithium, limits };
}

/** Voltage with x of the negative electrode filled, the rest of the lithium in the positive one. */
function voltageAt(cell: Cell, x: number): number {
  return cell.positive((cell.lithium - x * cell.negativeCapacity) / cell.positiveCapacity) - cell.negative(x);
}

function fillingAt(cell: Cell, volts: number): number {
  let low = Math.max(0, (cell.lithium - cell.positiveCapacity) / cell.negativeCapacity);
  let high = Math.min(1, cell.lithium / cell.negativeCapacity);
  for (let step = 0; step < 80; step++) {
    const middle = (low + high) / 2;
    if (voltageAt(cell, middle) < volts) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The cell between its limits: open-circuit voltage over state of charge, and capacity in Ah. */
function window(cell: Cell) {
  const empty = fillingAt(cell, cell.limits[0]);
  const full = fillingAt(cell, cell.limits[1]);
  return {
    emf: (soc: number) => voltageAt(cell, empty + soc * (full - empty)),
    capacity: (full - empty) * cell.negativeCapacity,
  };
}

const states = [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1];
const chemistries = [
  {
    name: 'LFP/graphite',
    cell: ironPhosphate,
    capacity: 2.30345,
    volts: [2, 2.7853, 2.9781, 3.1685, 3.2058, 3.2525, 3.266, 3.2688, 3.274, 3.3097, 3.3142, 3.3164, 3.6],
  },
  {
    name: 'NMC811/graphite',
    cell: nickel,
    capacity: 5.1532,
    volts: [2.5, 3.1094, 3.2959, 3.4852, 3.5814, 3.667, 3.7509, 3.8406, 3.9479, 4.0421, 4.0967, 4.1236, 4.2],
  },
];

const published = {
  source: 'electrode functions of Chen et al. 2020 and Afshar et al. 2017',
  evidence: 'inputs seen in source, result recomputed independently',
} as const;
const nearVoltage = comparedByDifference({ ...published, quantity: 'open-circuit voltage of LFP and NMC cells, V' });
const nearCapacity = comparedWith({ ...published, quantity: 'capacity from the balance of the electrodes' });
const nearEnergy = comparedWith({ ...published, quantity: 'chemical energy of a discharge and of a charge' });

describe.each(chemistries)('$name', ({ cell, capacity, volts }) => {
  const found = window(cell);
  const pack = cellToBattery({
    emf: found.emf,
    resistance: () => 0.5e-3,
    capacity: found.capacity * 3600,
    series: 240,
    parallel: 60,
  });

  test('the balance of the electrodes gives the capacity', () => {
    nearCapacity(found.capacity, capacity, 1e-4);
  });

  test.each(states.map((soc, index) => ({ soc, millivolts: volts[index]! * 1000 })))(
    'a pack of 240 in series rests at 240 × $millivolts mV at $soc',
    ({ soc, millivolts }) => {
      nearVoltage(pack.emf(soc) / 240, millivolts / 1000, 1e-3);
    },
  );

  test('the state of charge comes back from the table of voltages', () => {
    for (const [index, soc] of states.entries()) {
      const back = socAtVoltage(pack.emf, pack.emf(soc));
      expect(back.ok && back.soc, `${volts[index]} V`).toBeCloseTo(soc, 6);
    }
  });

  test('a discharge and a charge take the integral of the open-circuit voltage as chemical energy', () => {
    // Simpson's rule over the published functions.
    const count = 4000;
    let integral = 0;
    for (let index = 0; index <= count; index++) {
      const weight = index === 0 || index === count ? 1 : index % 2 === 1 ? 4 : 2;
      integral += (weight * found.emf(0.1 + (0.8 * index) / count) * 0.8) / count / 3;
    }
    const energy = integral * 240 * pack.capacity;
    const facts = { ...pack, voltageMin: 0, currentMax: () => 1e6, socFrom: 0.9, socTo: 0.1, power: 100e3 };
    nearEnergy(discharge(facts).chemicalEnergy, energy, 1e-6);
    const filled = charge({ ...pack, currentLimit: () => 50, voltageMax: 1200, socFrom: 0.1, socTo: 0.9 });
    nearEnergy(filled.chemicalEnergy, energy, 1e-6);
  });
});

test('240 LFP cells in series at half charge rest at 783.8 V', () => {
  const { emf } = window(ironPhosphate);
  const pack = cellToBattery({ emf, resistance: () => 0, capacity: 1, series: 240, parallel: 1 });
  nearVoltage(pack.emf(0.5), 783.8, 0.1);
});
