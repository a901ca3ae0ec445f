// One conduction state of the six-pulse diode bridge: which diodes carry current, and the exact currents that follow.

/**
 * The bridge per unit: voltages over the peak line-to-line voltage, impedances over any base. Angles in rad of the
 * source; phase k has the voltage sin(θ + ψk)/√3 behind x and r; the DC side is rd, xd and an emf.
 */
export interface BridgeCircuit {
  readonly reactance: number;
  readonly resistance: number;
  readonly dcReactance: number;
  readonly dcResistance: number;
  readonly emf: number;
  /** Of two diodes. */
  readonly drop: number;
}

export type Triple = readonly [number, number, number];

/** Per phase +1 (upper diode carries), −1 (lower diode) or 0 (neither), and what the circuit remembers. */
export interface BridgeState {
  readonly roles: Triple;
  /** Phase currents at the bridge. */
  readonly currents: Triple;
  /** Source currents and capacitor voltages where there is a filter capacitor; empty without. */
  readonly behind: readonly Triple[];
}

/** The bridge at an angle. */
export interface BridgePoint {
  readonly currents: Triple;
  readonly behind: readonly Triple[];
  readonly dc: number;
  /**
   * How far each condition of the conduction state is from failing; negative where it has. Three phases carrying:
   * their currents. Two: their current, the upper and the lower diode of the third. None: the blocking voltage.
   */
  readonly room: Triple;
  /** DC terminal voltage; negative where a leg would short the DC side. */
  readonly dcVoltage: number;
  /** The phases of highest and lowest voltage. */
  readonly outer: readonly [number, number];
}

/** One conduction state from an angle on; `at` may be asked up to `until`, where `next`, if given, takes over. */
export interface Stretch {
  readonly at: (angle: number) => BridgePoint;
  readonly until: number;
  readonly next?: Triple;
}

/** What drives the bridge: gives the currents of a conduction state. */
export interface Network {
  readonly circuit: BridgeCircuit;
  readonly solve: (state: BridgeState, start: number) => Stretch;
}

export type Phase = 0 | 1 | 2;

const third = (2 * Math.PI) / 3;
export const phaseAngles: Triple = [0, -third, third];
/** Amplitude of a phase voltage per unit. */
export const root = 1 / Math.sqrt(3);
/** Phase voltage = sine[k]·sin θ + cosine[k]·cos θ. */
export const sine: Triple = [root, root * Math.cos(third), root * Math.cos(third)];
export const cosine: Triple = [0, -root * Math.sin(third), root * Math.sin(third)];

export const none: Triple = [0, 0, 0];

/** The bridge behind nothing but inductance and resistance: closed forms, valid as long as their conditions hold. */
export function inductiveNetwork(circuit: BridgeCircuit): Network {
  return {
    circuit,
    solve: (state, start) => {
      const count = state.roles.filter(role => role !== 0).length;
      if (count === 3) return solveThree(circuit, state, start);
      if (count === 2) return solveTwo(circuit, state, start);
      return solveNone(circuit, start);
    },
  };
}

/** Upper and lower phase of the line voltage that peaks at k·60°. */
const peaks = [
  [2, 1],
  [0, 1],
  [0, 2],
  [1, 2],
  [1, 0],
  [2, 0],
] as const;

/** No diode carries until the first line voltage exceeds the DC side. */
function solveNone(circuit: BridgeCircuit, start: number): Stretch {
  const level = circuit.emf + circuit.drop;
  const sixth = Math.PI / 3;
  const width = level < 1 ? Math.acos(Math.max(-1, level)) : 0;
  const nearest = Math.round(start / sixth);
  const within = Math.abs(start - nearest * sixth) < width;
  const peak = within || start < nearest * sixth ? nearest : nearest + 1;
  const outer = peaks[((peak % 6) + 6) % 6]!;
  const idle: BridgePoint = { currents: none, behind: [], dc: 0, room: none, dcVoltage: circuit.emf, outer };
  if (level >= 1) return { at: () => idle, until: Number.POSITIVE_INFINITY };
  // A hair late, so that rounding can't put the start before the crossing.
  const until = within ? start : Math.max(start, peak * sixth - width + 1e-9);
  return { at: () => idle, until, next: rolesOf(outer) };
}

/** The two diodes between the phases of highest and lowest voltage. */
export function rolesOf(outer: readonly [number, number]): Triple {
  const roles: [number, number, number] = [0, 0, 0];
  roles[outer[0]] = 1;
  roles[outer[1]] = -1;
  return roles;
}

/** One upper and one lower diode: a single loop. */
function solveTwo(circuit: BridgeCircuit, state: BridgeState, start: number): Stretch {
  const { reactance: x, resistance: r } = circuit;
  const upper = phaseWith(state.roles, 1);
  const lower = phaseWith(state.roles, -1);
  const other = (3 - upper - lower) as Phase;
  const loop = {
    reactance: 2 * x + circuit.dcReactance,
    resistance: 2 * r + circuit.dcResistance,
    sine: sine[upper] - sine[lower],
    cosine: cosine[upper] - cosine[lower],
    constant: circuit.emf + circuit.drop,
  };
  const current = branch(loop, start, state.currents[upper]);
  const at = (angle: number): BridgePoint => {
    const s = Math.sin(angle);
    const c = Math.cos(angle);
    const dc = current(angle, s, c);
    const slope = slopeOf(loop, dc, s, c);
    const inside = x * slope + r * dc;
    const e = (phase: Phase) => sine[phase] * s + cosine[phase] * c;
    const room: Triple = [dc, e(upper) - inside - e(other), e(other) - e(lower) - inside];
    const dcVoltage = circuit.emf + circuit.dcResistance * dc + circuit.dcReactance * slope;
    const currents: [number, number, number] = [0, 0, 0];
    currents[upper] = dc;
    currents[lower] = -dc;
    return { currents, behind: [], dc, room, dcVoltage, outer: [upper, lower] };
  };
  return { at, until: Number.POSITIVE_INFINITY };
}

/** Two diodes of one side share the current of the third phase: sum and difference of the two are independent. */
function solveThree(circuit: BridgeCircuit, state: BridgeState, start: number): Stretch {
  const { reactance: x, resistance: r } = circuit;
  const { side, lone, first, second } = sharing(state.roles);
  const loop = {
    reactance: 1.5 * x + circuit.dcReactance,
    resistance: 1.5 * r + circuit.dcResistance,
    sine: -1.5 * side * sine[lone],
    cosine: -1.5 * side * cosine[lone],
    constant: circuit.emf + circuit.drop,
  };
  const across = {
    reactance: x,
    resistance: r,
    sine: sine[first] - sine[second],
    cosine: cosine[first] - cosine[second],
    constant: 0,
  };
  const sum = branch(loop, start, -side * state.currents[lone]);
  const difference = branch(across, start, state.currents[first] - state.currents[second]);
  const at = (angle: number): BridgePoint => {
    const s = Math.sin(angle);
    const c = Math.cos(angle);
    const dc = sum(angle, s, c);
    const apart = difference(angle, s, c);
    const currents: [number, number, number] = [0, 0, 0];
    currents[lone] = -side * dc;
    currents[first] = (side * dc + apart) / 2;
    currents[second] = (side * dc - apart) / 2;
    const dcVoltage = circuit.emf + circuit.dcResistance * dc + circuit.dcReactance * slopeOf(loop, dc, s, c);
    return { currents, behind: [], dc, room: carried(currents, state.roles), dcVoltage, outer: [lone, lone] };
  };
  return { at, until: Number.POSITIVE_INFINITY };
}

/** Of three carrying phases: +1 where two are upper diodes, the phase alone on its side, and the two that share. */
export function sharing(roles: Triple): { side: number; lone: Phase; first: Phase; second: Phase } {
  const side = roles[0] + roles[1] + roles[2];
  const lone = phaseWith(roles, -side);
  return { side, lone, first: ((lone + 1) % 3) as Phase, second: ((lone + 2) % 3) as Phase };
}

/** Currents in the direction of their diodes. */
export function carried(currents: Triple, roles: Triple): Triple {
  return [currents[0] * roles[0], currents[1] * roles[1], currents[2] * roles[2]];
}

/** x·dy/dθ + r·y = sine·sin θ + cosine·cos θ − constant. */
interface Loop {
  readonly reactance: number;
  readonly resistance: number;
  readonly sine: number;
  readonly cosine: number;
  readonly constant: number;
}

/** The closed-form solution of a loop, in a form that stays exact as the resistance goes to zero. */
function branch(loop: Loop, start: number, initial: number): (angle: number, s: number, c: number) => number {
  const { reactance: x, resistance: r } = loop;
  const square = x * x + r * r;
  const inPhase = (r * loop.sine + x * loop.cosine) / square;
  const quadrature = (r * loop.cosine - x * loop.sine) / square;
  const free = initial - inPhase * Math.sin(start) - quadrature * Math.cos(start);
  const decay = r / x;
  const ramp = loop.constant / x;
  return (angle, s, c) => {
    const steady = inPhase * s + quadrature * c;
    const passed = angle - start;
    if (decay * passed < 1e-12) return steady + free - ramp * passed;
    const gone = -Math.expm1(-decay * passed);
    return steady + free * (1 - gone) - (ramp / decay) * gone;
  };
}

function slopeOf(loop: Loop, current: number, s: number, c: number): number {
  return (loop.sine * s + loop.cosine * c - loop.constant - loop.resistance * current) / loop.reactance;
}

export function phaseWith(roles: Triple, role: number): Phase {
  return roles[0] === role ? 0 : roles[1] === role ? 1 : 2;
}
