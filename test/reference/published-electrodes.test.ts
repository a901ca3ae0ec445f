// Open-circuit voltage of two lithium cells from published electrode functions, carried through the battery.

import { describe, expect, test } from 'vitest';
import { socAtVoltage } from '../../engine/physics/battery.ts';
import { charge } from '../../engine/physics/charge.ts';
import { discharge } from '../../engine/physics/discharge.ts';
import { packOf } from '../kit/cells.ts';
import { publishedCells } from '../kit/electrodes.ts';
import { comparedByDifference, comparedWith } from '../kit/reference.ts';

// The functions stand in the kit. The table: recomputed independently from them, full-cell balance, to 0.05 mV.
const states = [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1];
const chemistries = [
  {
    name: 'LFP/graphite',
    cell: publishedCells.lfp,
    capacity: 2.30345,
    volts: [2, 2.7853, 2.9781, 3.1685, 3.2058, 3.2525, 3.266, 3.2688, 3.274, 3.3097, 3.3142, 3.3164, 3.6],
  },
  {
    name: 'NMC811/graphite',
    cell: publishedCells.nmc,
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
  const pack = packOf({ emf: cell.rest, resistance: () => 0.5e-3, capacity: cell.capacity * 3600 }, 240, 60);

  test('the balance of the electrodes gives the capacity', () => {
    nearCapacity(cell.capacity, capacity, 1e-4);
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
      integral += (weight * cell.rest(0.1 + (0.8 * index) / count) * 0.8) / count / 3;
    }
    const energy = integral * 240 * pack.capacity;
    const facts = { ...pack, voltageMin: 0, currentMax: () => 1e6, socFrom: 0.9, socTo: 0.1, power: 100e3 };
    nearEnergy(discharge(facts).chemicalEnergy, energy, 1e-6);
    const filled = charge({ ...pack, currentLimit: () => 50, voltageMax: 1200, socFrom: 0.1, socTo: 0.9 });
    nearEnergy(filled.chemicalEnergy, energy, 1e-6);
  });
});

test('240 LFP cells in series at half charge rest at 783.8 V', () => {
  const pack = packOf({ emf: publishedCells.lfp.rest, resistance: () => 0, capacity: 1 }, 240);
  nearVoltage(pack.emf(0.5), 783.8, 0.1);
});
