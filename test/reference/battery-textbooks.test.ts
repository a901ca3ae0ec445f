// Internal resistance and cells in series from two textbooks, and constant power from its closed form.

import { constantPower } from '../../engine/physics/battery.ts';
import { packOf } from '../kit/cells.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

// Seen as worked solutions in a mirror of the Scilab Textbook Companion (github.com/Lavitha/Scilab_TBC); the books themselves
// were not opened.
const robertson = 'Robertson, Fundamental Electrical and Electronic Principles';
const bird = 'Bird, Electrical Circuit Theory and Technology';

const value = (source: string, name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  name,
  source,
  evidence: 'inputs seen in source, result recomputed independently',
  actual,
  expected,
  tolerance: 1e-9,
});

/** The terminal voltage at a current, through the power that belongs to both. */
function terminalVoltage(emf: number, resistance: number, current: number): number | undefined {
  const found = constantPower(emf, resistance, current * (emf - current * resistance));
  return found.ok ? found.voltage : undefined;
}

function currentInto(emf: number, resistance: number, load: number): number | undefined {
  const current = emf / (resistance + load);
  const found = constantPower(emf, resistance, current ** 2 * load);
  return found.ok ? found.current : undefined;
}

// Ten cells of 1.5 V and 0.2 Ω in series into 58 Ω.
const tenCells = packOf({ emf: () => 1.5, resistance: () => 0.2, capacity: 1 }, 10);

referenceTests('internal resistance', [
  value(`${robertson}, Ex. 1.9`, '6 V behind 0.15 Ω at 0.5 A', () => terminalVoltage(6, 0.15, 0.5), 5.925),
  value(`${robertson}, Ex. 1.9`, '6 V behind 0.15 Ω at 2 A', () => terminalVoltage(6, 0.15, 2), 5.7),
  value(`${robertson}, Ex. 1.9`, '6 V behind 0.15 Ω at 10 A', () => terminalVoltage(6, 0.15, 10), 4.5),
  value(`${robertson}, Ex. 1.10`, '12 V behind 0.1 Ω at 5 A', () => terminalVoltage(12, 0.1, 5), 11.5),
  value(`${bird}, Prob. 4.3`, '25 V behind 0.1 Ω at 10 A', () => terminalVoltage(25, 0.1, 10), 24),
  value(
    `${bird}, Prob. 4.4`,
    'ten cells in series: current',
    () => currentInto(tenCells.emf(1), tenCells.resistance(1), 58),
    0.25,
  ),
  value(
    `${bird}, Prob. 4.4`,
    'ten cells in series: voltage',
    () => terminalVoltage(tenCells.emf(1), tenCells.resistance(1), 0.25),
    14.5,
  ),
]);

const closure = 'I = (U0 − √(U0² − 4·R·P))/(2·R), closed by P = I·(U0 − I·R)';

const closedForm = (name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  name,
  source: closure,
  evidence: 'recomputed independently',
  actual,
  expected,
  tolerance: 2e-6,
});

const solved = (emf: number, resistance: number, power: number) => {
  const found = constantPower(emf, resistance, power);
  return found.ok ? found : undefined;
};
const largest = (emf: number, resistance: number) => {
  const found = constantPower(emf, resistance, 1e12);
  return found.ok ? undefined : found.largestPower;
};

referenceTests('constant power', [
  closedForm('800 V, 50 mΩ, 250 kW: current', () => solved(800, 0.05, 250e3)?.current, 318.854),
  closedForm('800 V, 50 mΩ, 250 kW: voltage', () => solved(800, 0.05, 250e3)?.voltage, 784.057),
  closedForm('800 V, 50 mΩ: largest power', () => largest(800, 0.05), 3.2e6),
  closedForm('48 V, 20 mΩ, 5 kW: current', () => solved(48, 0.02, 5e3)?.current, 109.129),
  closedForm('48 V, 20 mΩ, 5 kW: voltage', () => solved(48, 0.02, 5e3)?.voltage, 45.8174),
  closedForm('48 V, 20 mΩ: largest power', () => largest(48, 0.02), 28.8e3),
  closedForm('700 V, 0.1 Ω, 1 MW: current', () => solved(700, 0.1, 1e6)?.current, 2000),
  closedForm('700 V, 0.1 Ω, 1 MW: voltage', () => solved(700, 0.1, 1e6)?.voltage, 500),
  // Charging: I = (−U0 + √(U0² + 4·R·P))/(2·R), with the sign of a charge.
  closedForm(
    '800 V, 50 mΩ, charged with 250 kW',
    () => solved(800, 0.05, -250e3)?.current,
    -(-800 + Math.sqrt(800 ** 2 + 4 * 0.05 * 250e3)) / 0.1,
  ),
]);
