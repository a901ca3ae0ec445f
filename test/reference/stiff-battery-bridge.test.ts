// Diode bridge behind inductance alone into a stiff battery: closed-form pulses, and a table of an outside simulation.

import { type Conduction, conductUncontrolled } from '../../engine/physics/conduction.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

// Per unit: m = E over the peak of the line voltage, currents over that peak divided by the reactance of a phase.
const lineVoltage = 690;
const sourceInductance = 50e-6;
const peak = Math.SQRT2 * lineVoltage;
const base = peak / (2 * Math.PI * 50 * sourceInductance);

const solved = (m: number): Conduction =>
  conductUncontrolled({
    lineVoltage,
    frequency: 50,
    sourceInductance,
    sourceResistance: 0,
    dcEmf: m * peak,
    dcResistance: 0,
  });

const mean = (m: number) => solved(m).meanCurrent / base;
const rms = (m: number) => solved(m).phaseRms / base;
const fundamental = (m: number) => solved(m).fundamentalRms / base;

const pulseShape =
  'i = ½·(cos α − cos θ − m·(θ − α)), sin α = m: two-diode form of the single-phase one in the Power Electronics course, University of Siegen, lecture 4';
const simulation = 'time-domain simulation made apart from this code, no published table found';

const closed = (m: number, expected: number): ReferenceCase => ({
  name: `pulses at m = ${m}`,
  source: pulseShape,
  evidence: 'recomputed independently',
  actual: () => mean(m),
  expected,
  tolerance: 3e-6,
});

const simulated = (name: string, actual: () => number, expected: number, tolerance = 1e-3): ReferenceCase => ({
  name,
  source: simulation,
  evidence: 'recomputed independently',
  actual,
  expected,
  tolerance,
});

referenceTests('current with gaps, two diodes at a time', [
  closed(0.99, 0.00021529),
  closed(0.98, 0.0008629),
  closed(0.96, 0.00346567),
  { ...closed(0.96, pulseMean(0.96)), name: 'pulse at m = 0.96, integrated here', tolerance: 1e-6 },
  { ...closed(0.99, pulseMean(0.99)), name: 'pulse at m = 0.99, integrated here', tolerance: 1e-6 },
  {
    ...simulated('pulse width at m = 0.98, degrees', () => 60 * (1 - solved(0.98).idleShare), 34.481, 1e-4),
    source: pulseShape,
  },
  {
    ...simulated('pulse width at m = 0.99, degrees', () => 60 * (1 - solved(0.99).idleShare), 24.345, 1e-4),
    source: pulseShape,
  },
]);

referenceTests('current up to three diodes at a time', [
  simulated('phase rms at 0.98', () => rms(0.98), 0.00108839),
  simulated('fundamental at 0.98', () => fundamental(0.98), 0.00069947),
  simulated('displacement factor at 0.98', () => solved(0.98).displacementFactor, 0.98714),
  simulated('idle share at 0.98', () => solved(0.98).idleShare, 0.4252),
  simulated('mean at 0.95', () => mean(0.95), 0.00544712),
  simulated('phase rms at 0.95', () => rms(0.95), 0.00543105),
  simulated('fundamental at 0.95', () => fundamental(0.95), 0.00436287),
  simulated('displacement factor at 0.95', () => solved(0.95).displacementFactor, 0.96845),
  simulated('idle share at 0.95', () => solved(0.95).idleShare, 0.0354, 3e-3),
  simulated('mean at 0.945', () => mean(0.945), 0.00936398),
  simulated('phase rms at 0.945', () => rms(0.945), 0.00839273),
  simulated('fundamental at 0.945', () => fundamental(0.945), 0.00741813),
  simulated('displacement factor at 0.945', () => solved(0.945).displacementFactor, 0.97399),
  simulated('mean at 0.94', () => mean(0.94), 0.0136329),
  simulated('phase rms at 0.94', () => rms(0.94), 0.0117191),
  simulated('mean at 0.90', () => mean(0.9), 0.0513529),
  simulated('phase rms at 0.90', () => rms(0.9), 0.0412299),
  simulated('displacement factor at 0.90', () => solved(0.9).displacementFactor, 0.94386),
  simulated('mean at 0.85', () => mean(0.85), 0.105396),
  simulated('phase rms at 0.85', () => rms(0.85), 0.082478),
  simulated('mean at 0.70', () => mean(0.7), 0.29357),
  simulated('phase rms at 0.70', () => rms(0.7), 0.21999),
  simulated('displacement factor at 0.70', () => solved(0.7).displacementFactor, 0.7644),
  simulated('amperes at 690 V, 50 µH, m = 0.90', () => solved(0.9).meanCurrent, 3190),
  {
    ...simulated('gaps end between 0.95 and 0.945', () => solved(0.945).idleShare, 0, 1e-12),
    absolute: true,
  },
]);

/** (3/π)·∫ i dθ over one pulse, by the trapezium rule, its end found by bisection. */
function pulseMean(m: number): number {
  const start = Math.asin(m);
  const current = (angle: number) => (Math.cos(start) - Math.cos(angle) - m * (angle - start)) / 2;
  let low = Math.PI - start;
  let high = Math.PI;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (current(middle) > 0) low = middle;
    else high = middle;
  }
  const count = 20_000;
  const width = (low - start) / count;
  let sum = 0;
  for (let index = 1; index < count; index++) sum += current(start + index * width) * width;
  return (3 / Math.PI) * sum;
}
