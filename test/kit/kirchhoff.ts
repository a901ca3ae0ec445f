// Kirchhoff's and Ohm's laws for a diode bridge: how far a solution misses them, its slopes taken by differences.
import type { BridgeCircuit, BridgePoint, Phase, Stretch, Triple } from '../../engine/physics/bridgecircuit.ts';
import type { FilterCircuit } from '../../engine/physics/bridgefilter.ts';

export const phases: readonly Phase[] = [0, 1, 2];

/** Conduction states by their diodes, phase by phase: +1 the upper, −1 the lower, 0 neither. */
export const pairs: readonly Triple[] = [
  [1, -1, 0],
  [1, 0, -1],
  [0, 1, -1],
  [-1, 1, 0],
  [-1, 0, 1],
  [0, -1, 1],
];
export const threes: readonly Triple[] = [
  [1, -1, -1],
  [-1, 1, -1],
  [-1, -1, 1],
  [-1, 1, 1],
  [1, -1, 1],
  [1, 1, -1],
];

/** Voltage of a phase of the source at an angle: a third of a turn after each other, line voltage of amplitude one. */
export const sourceVoltage = (phase: Phase, angle: number): number =>
  Math.sin(angle + ([0, -2, 2][phase]! * Math.PI) / 3) / Math.sqrt(3);

/** Largest miss of any law at an angle inside a stretch of one conduction state, per unit. */
export function missOfLaws(circuit: BridgeCircuit, { at }: Stretch, roles: Triple, angle: number): number {
  const point = at(angle);
  const { currents, room } = point;
  const terminal = phases.map(phase => {
    const slope = slopeAt(moment => at(moment).currents[phase], angle);
    return before(circuit, point, phase, angle) - circuit.reactance * slope - circuit.resistance * currents[phase];
  });
  const upper = phases.filter(phase => roles[phase] === 1);
  const lower = phases.filter(phase => roles[phase] === -1);
  const idle = phases.filter(phase => roles[phase] === 0);
  const intoBattery = (of: BridgePoint) => upper.reduce<number>((sum, phase) => sum + of.currents[phase], 0);
  const outOfBattery = lower.reduce<number>((sum, phase) => sum - currents[phase], 0);
  const dcSlope = slopeAt(moment => intoBattery(at(moment)), angle);
  const battery = circuit.emf + circuit.dcResistance * point.dc + circuit.dcReactance * dcSlope;
  const misses = [point.dc - intoBattery(point), point.dc - outOfBattery, point.dcVoltage - battery];
  for (const above of upper) {
    for (const below of lower) misses.push(terminal[above]! - terminal[below]! - battery - circuit.drop);
  }
  for (const phase of idle) {
    misses.push(currents[phase]);
    if (upper.length === 0) continue;
    misses.push(room[0] - point.dc, room[1] - (terminal[upper[0]!]! - terminal[phase]!));
    misses.push(room[2] - (terminal[phase]! - terminal[lower[0]!]!));
  }
  if (idle.length === 0) misses.push(...phases.map(phase => room[phase] - roles[phase] * currents[phase]));
  if ('susceptance' in circuit) misses.push(...missesOfFilter(circuit as FilterCircuit, at, angle));
  return Math.max(...misses.map(Math.abs));
}

/** What drives a phase of the bridge: the source, or the filter capacitor with what is in series with it. */
function before(circuit: BridgeCircuit, point: BridgePoint, phase: Phase, angle: number): number {
  const [source, capacitor] = point.behind;
  if (source === undefined || capacitor === undefined) return sourceVoltage(phase, angle);
  return capacitor[phase] + (circuit as FilterCircuit).damping * (source[phase] - point.currents[phase]);
}

function missesOfFilter(circuit: FilterCircuit, at: Stretch['at'], angle: number): number[] {
  return phases.flatMap(phase => {
    const point = at(angle);
    const slope = (index: number) => slopeAt(moment => at(moment).behind[index]![phase], angle);
    const source = point.behind[0]![phase];
    const drive = sourceVoltage(phase, angle) - before(circuit, point, phase, angle);
    return [
      circuit.sourceReactance * slope(0) + circuit.sourceResistance * source - drive,
      circuit.susceptance * slope(1) - (source - point.currents[phase]),
    ];
  });
}

/** Five-point difference. */
export function slopeAt(value: (angle: number) => number, angle: number, step = 1e-3): number {
  const near = value(angle + step) - value(angle - step);
  const far = value(angle + 2 * step) - value(angle - 2 * step);
  return (8 * near - far) / (12 * step);
}
