// Commutation of a six-pulse bridge: Gönen, Electric Power Transmission System Engineering, 2nd ed., Ex. 6.5 and 6.6.

import { commutationDrop, firingAngleFor, idealMeanVoltage, overlapAngle } from '../../engine/physics/bridge.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

// 53.418803 kV line to neutral; 125 kV no-load mean voltage as the book rounds it; 1600 A; 6.2292017 Ω a phase.
const lineVoltage = Math.sqrt(3) * 53_418.803;
const noLoad = 125e3;
const current = 1600;
const reactance = 6.2292017;
const degrees = 180 / Math.PI;

const loaded = () => noLoad - commutationDrop(reactance, current);
// The line voltage whose mean is the book's rounded 125 kV.
const rounded = noLoad / idealMeanVoltage(1);
const firing = () => firingAngleFor(100e3, rounded, reactance, current) ?? Number.NaN;
const overlap = () => overlapAngle(rounded, reactance, current, firing()) ?? Number.NaN;
const reactive = (power: number, factor: number) => power * Math.tan(Math.acos(factor));

const value = (
  example: string,
  name: string,
  actual: () => number | undefined,
  expected: number,
  tolerance = 1e-5,
): ReferenceCase => ({
  name,
  source: `Gönen, Electric Power Transmission System Engineering, 2nd ed., Ex. ${example}`,
  evidence: 'inputs seen in source, result recomputed independently',
  actual,
  expected,
  tolerance,
});

const angle = (example: string, name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  ...value(example, name, actual, expected, 0.01),
  absolute: true,
});

referenceTests('Gönen, rectifier with commutating reactance', [
  value('6.5', 'mean voltage under load', loaded, 115_482.5),
  value('6.5', 'displacement factor', () => loaded() / noLoad, 0.92386),
  value('6.5', 'reactive power', () => reactive(loaded() * current, loaded() / noLoad), 76.546e6),
  angle('6.5', 'overlap angle', () => (overlapAngle(lineVoltage, reactance, current) ?? Number.NaN) * degrees, 32.042),
  angle('6.6', 'firing angle for 100 kV', () => firing() * degrees, 28.82),
  angle('6.6', 'overlap angle at that firing angle', () => overlap() * degrees, 14.806),
]);
