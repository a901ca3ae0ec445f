// Voltage drop of cables by the formula of IEC 60364-5-52, Annex G, its constants from memory.

import { defaultReactancePerLength, loopResistance } from '../../engine/physics/cable.ts';
import { solveLadder } from '../../engine/physics/ladder.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

const source = 'IEC 60364-5-52, Annex G';
// Resistivity of hot conductors in that formula, Ω·mm²/m.
const hot = { copper: 0.0225, aluminium: 0.036 };

type Case = {
  metal: 'copper' | 'aluminium';
  size: number;
  length: number;
  current: number;
  cosPhi: number;
  volts: number;
};
const cases: readonly Case[] = [
  { metal: 'copper', size: 95, length: 100, current: 200, cosPhi: 0.8, volts: 4.74947 },
  { metal: 'aluminium', size: 95, length: 100, current: 200, cosPhi: 0.8, volts: 7.02316 },
  { metal: 'copper', size: 240, length: 150, current: 400, cosPhi: 0.9, volts: 7.15477 },
  { metal: 'copper', size: 16, length: 50, current: 60, cosPhi: 1, volts: 4.21875 },
];

/** Through the ladder, from a load at 230 V; of the drop what lies along that voltage, which is all the formula counts. */
const drop = ({ metal, size, length, current, cosPhi }: Case): number => {
  const sinPhi = Math.sqrt(1 - cosPhi * cosPhi);
  const resistance = (hot[metal] * length) / size;
  const reactance = defaultReactancePerLength * length;
  const apparent = 3 * 230 * current;
  const element = { kind: 'series', resistance, reactance } as const;
  const { terminalVoltage } = solved(solveLadder([element], Math.sqrt(3) * 230, apparent * cosPhi, apparent * sinPhi));
  const across = current * (reactance * cosPhi - resistance * sinPhi);
  return Math.sqrt(terminalVoltage ** 2 / 3 - across ** 2) - 230;
};

referenceTests('Annex G', [
  ...cases.map(
    (given): ReferenceCase => ({
      name: `${given.metal} ${given.size} mm², ${given.length} m, ${given.current} A, ${given.cosPhi}`,
      source,
      evidence: 'inputs from memory, result recomputed independently',
      actual: () => drop(given),
      expected: given.volts,
      tolerance: 2e-6,
    }),
  ),
  {
    name: 'the first as a share of 230 V',
    source,
    evidence: 'inputs from memory, result recomputed independently',
    actual: () => drop(cases[0]!) / 230,
    expected: 0.0206499,
    tolerance: 3e-6,
  },
  {
    name: 'direct current, both poles: 185 mm², 20 m, 500 A, 70 °C',
    source: '2·L·R·I with the resistance of IEC 60228 and 0.00393 /K, which differs from (234.5 + θ) by 4e-5',
    evidence: 'inputs seen in source, result recomputed independently',
    actual: () =>
      solved(
        loopResistance({ conductor: 'copper', crossSection: 185e-6, length: 20, parallel: 1, temperature: 343.15 }),
      ).resistance * 500,
    expected: 2.37146,
    tolerance: 4e-5,
  },
]);
