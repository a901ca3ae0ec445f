// Six-pulse bridge with smooth current, from an open course on power electronics (University of Siegen, ex. 6, task 2).

import { bridgeThreshold } from '../../engine/physics/bridge.ts';
import { conductUncontrolled } from '../../engine/physics/conduction.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';

const source = 'Power Electronics course, University of Siegen, ex. 6 task 2 (github.com/IAS-Uni-Siegen/PE_course)';
const lineVoltage = Math.sqrt(3) * 230;

// 20 A through a large inductance: one ohm less 20 V below the mean of the ideal bridge.
const smooth = () =>
  conductUncontrolled({
    lineVoltage,
    frequency: 50,
    sourceInductance: 0,
    sourceResistance: 0,
    dcEmf: 517.992,
    dcResistance: 1,
    dcInductance: 0.5,
  });

const recomputed = (name: string, actual: () => number | undefined, expected: number, tolerance: number) =>
  ({
    name,
    source,
    evidence: 'inputs seen in source, result recomputed independently',
    actual,
    expected,
    tolerance,
  }) satisfies ReferenceCase;

referenceTests('diode bridge on 230 V a phase', [
  recomputed('peak of the line voltage', () => bridgeThreshold(lineVoltage), 563.38, 1e-5),
  recomputed('mean voltage', () => 517.992 + smooth().meanCurrent, 537.99, 1e-5),
  recomputed('mean current', () => smooth().meanCurrent, 20, 1e-4),
  // 2·√3/π·20 A; the course prints 22 A.
  recomputed('amplitude of the fundamental', () => smooth().fundamentalRms * Math.SQRT2, 22.053, 1e-3),
  recomputed('fundamental apparent power', () => 3 * 230 * smooth().fundamentalRms, 10_760, 1e-3),
  // The true distortion factor of the block current, 3/π; the course divides by the direct current instead.
  recomputed('distortion factor', () => smooth().fundamentalRms / smooth().phaseRms, 0.955, 1e-3),
]);

referenceTests('threshold of the ideal bridge, √2·U', [
  constant('at 400 V', () => bridgeThreshold(400), 565.685),
  constant('at 690 V', () => bridgeThreshold(690), 975.807),
  constant('at 400 V and ten per cent more', () => bridgeThreshold(440), 622.254),
  constant('at 690 V and ten per cent more', () => bridgeThreshold(759), 1073.388),
]);

function constant(name: string, actual: () => number, expected: number): ReferenceCase {
  return { name, source: 'the same relation', evidence: 'recomputed independently', actual, expected, tolerance: 2e-6 };
}
