// The diode bridge behind a source, a filter capacitor and an inductor: exact Taylor series of the linear circuit.
import {
  type BridgeCircuit,
  type BridgePoint,
  type BridgeState,
  carried,
  cosine,
  type Network,
  none,
  type Phase,
  phaseAngles,
  phaseWith,
  root,
  type Stretch,
  sharing,
  sine,
  type Triple,
} from './bridgecircuit.ts';

/** Per unit like the circuit, whose reactance and resistance are those between the capacitor and the bridge. */
export interface FilterCircuit extends BridgeCircuit {
  readonly sourceReactance: number;
  readonly sourceResistance: number;
  /** Of the capacitor in star, ω·C, and of the resistance in series with it. */
  readonly susceptance: number;
  readonly damping: number;
}

const phases = [0, 1, 2] as const;
const order = 22;
const widest = Math.PI / 30;

/**
 * State: bridge currents (three), source currents (three), capacitor voltages (three). Each stretch is one step, short
 * against the fastest oscillation, in which the series of the given order is exact to rounding.
 */
export function filterNetwork(circuit: FilterCircuit): Network {
  const step = Math.min(widest, 2 / fastestRate(circuit));
  return { circuit, solve: (state, start) => solveStep(circuit, state, start, step) };
}

/** Source currents and capacitor voltages at an angle in the steady state without conduction. */
export function atRest(circuit: FilterCircuit, angle: number): readonly [Triple, Triple] {
  const re = circuit.sourceResistance + circuit.damping;
  const im = circuit.sourceReactance - 1 / circuit.susceptance;
  const amplitude = root / Math.hypot(re, im);
  const lag = Math.atan2(im, re);
  const at = (size: number, shift: number): Triple => {
    const value = (phase: Phase) => size * Math.sin(angle + phaseAngles[phase] - shift);
    return [value(0), value(1), value(2)];
  };
  return [at(amplitude, lag), at(amplitude / circuit.susceptance, lag + Math.PI / 2)];
}

/** Peak line voltage at the bridge without conduction, over that of the source. */
export function riseAtRest(circuit: FilterCircuit): number {
  const im = circuit.sourceReactance - 1 / circuit.susceptance;
  const across = Math.hypot(circuit.damping, 1 / circuit.susceptance);
  return across / Math.hypot(circuit.sourceResistance + circuit.damping, im);
}

function fastestRate(circuit: FilterCircuit): number {
  const { reactance: x, sourceReactance: xs, damping } = circuit;
  const oscillation = Math.sqrt((1 / x + 1 / xs) / circuit.susceptance);
  const decay = Math.max(
    (circuit.sourceResistance + damping) / xs,
    (circuit.resistance + damping) / x,
    (2 * (circuit.resistance + damping) + circuit.dcResistance) / (2 * x + circuit.dcReactance),
  );
  return 1 + oscillation + decay;
}

function solveStep(circuit: FilterCircuit, state: BridgeState, start: number, step: number): Stretch {
  const series = taylor(circuit, state, start);
  const slopes = new Float64Array(9);
  const count = state.roles.filter(role => role !== 0).length;
  const at = (angle: number): BridgePoint => {
    const values = evaluate(series, angle - start);
    derivative(circuit, state.roles, values, Math.sin(angle), Math.cos(angle), 1, slopes);
    const currents: Triple = [values[0]!, values[1]!, values[2]!];
    const behind: readonly Triple[] = [
      [values[3]!, values[4]!, values[5]!],
      [values[6]!, values[7]!, values[8]!],
    ];
    const dc = (Math.abs(currents[0]) + Math.abs(currents[1]) + Math.abs(currents[2])) / 2;
    const volts = terminalVoltages(circuit, values);
    if (count === 0) return pointOfNone(circuit, volts, behind);
    if (count === 2) return pointOfTwo(circuit, state.roles, { currents, behind, volts, slopes });
    const { side, lone } = sharing(state.roles);
    const slope = -side * slopes[lone]!;
    const dcVoltage = circuit.emf + circuit.dcResistance * dc + circuit.dcReactance * slope;
    return { currents, behind, dc, room: carried(currents, state.roles), dcVoltage, outer: [lone, lone] };
  };
  return { at, until: start + step };
}

function pointOfNone(circuit: FilterCircuit, volts: Triple, behind: readonly Triple[]): BridgePoint {
  const upper = volts.indexOf(Math.max(...volts));
  const lower = volts.indexOf(Math.min(...volts));
  const blocking = circuit.emf + circuit.drop - (volts[upper]! - volts[lower]!);
  const room: Triple = [blocking, blocking, blocking];
  return { currents: none, behind, dc: 0, room, dcVoltage: circuit.emf, outer: [upper, lower] };
}

function pointOfTwo(
  circuit: FilterCircuit,
  roles: Triple,
  found: { currents: Triple; behind: readonly Triple[]; volts: Triple; slopes: Float64Array },
): BridgePoint {
  const { currents, behind, volts, slopes } = found;
  const upper = phaseWith(roles, 1);
  const lower = phaseWith(roles, -1);
  const other = (3 - upper - lower) as Phase;
  const dc = currents[upper];
  const slope = slopes[upper]!;
  const inside = circuit.reactance * slope + circuit.resistance * dc;
  const room: Triple = [dc, volts[upper] - inside - volts[other], volts[other] - volts[lower] - inside];
  const dcVoltage = circuit.emf + circuit.dcResistance * dc + circuit.dcReactance * slope;
  return { currents, behind, dc, room, dcVoltage, outer: [upper, lower] };
}

/** Coefficients of the series of all nine values, one row of nine after the other. */
function taylor(circuit: FilterCircuit, state: BridgeState, start: number): Float64Array {
  const series = new Float64Array(9 * (order + 1));
  const [source, capacitor] = state.behind;
  series.set(state.currents, 0);
  series.set(source ?? none, 3);
  series.set(capacitor ?? none, 6);
  const row = series.slice(0, 9);
  const next = new Float64Array(9);
  // Derivative by derivative of sin θ and cos θ, over the factorial.
  let s = Math.sin(start);
  let c = Math.cos(start);
  for (let power = 0; power < order; power++) {
    derivative(circuit, state.roles, row, s, c, power === 0 ? 1 : 0, next);
    const divisor = power + 1;
    for (let index = 0; index < 9; index++) {
      row[index] = next[index]! / divisor;
      series[9 * divisor + index] = row[index]!;
    }
    [s, c] = [c / divisor, -s / divisor];
  }
  return series;
}

function evaluate(series: Float64Array, distance: number): Float64Array {
  const values = series.slice(9 * order, 9 * order + 9);
  for (let power = order - 1; power >= 0; power--) {
    for (let index = 0; index < 9; index++) values[index] = values[index]! * distance + series[9 * power + index]!;
  }
  return values;
}

function terminalVoltages(circuit: FilterCircuit, values: Float64Array): Triple {
  const value = (phase: Phase) => values[6 + phase]! + circuit.damping * (values[3 + phase]! - values[phase]!);
  return [value(0), value(1), value(2)];
}

/**
 * d/dθ of the nine values for a source of sine·sin + cosine·cos; `constant` is 1 for the values themselves and 0 for
 * their derivatives.
 */
function derivative(
  circuit: FilterCircuit,
  roles: Triple,
  values: Float64Array,
  s: number,
  c: number,
  constant: number,
  out: Float64Array,
): void {
  const volts = terminalVoltages(circuit, values);
  for (const phase of phases) {
    const source = values[3 + phase]!;
    out[phase] = 0;
    const drive = sine[phase] * s + cosine[phase] * c;
    out[3 + phase] = (drive - volts[phase] - circuit.sourceResistance * source) / circuit.sourceReactance;
    out[6 + phase] = (source - values[phase]!) / circuit.susceptance;
  }
  const count = Math.abs(roles[0]) + Math.abs(roles[1]) + Math.abs(roles[2]);
  const level = constant * (circuit.emf + circuit.drop);
  if (count === 2) slopeOfTwo(circuit, roles, values, volts, level, out);
  if (count === 3) slopesOfThree(circuit, roles, values, volts, level, out);
}

function slopeOfTwo(
  circuit: FilterCircuit,
  roles: Triple,
  values: Float64Array,
  volts: Triple,
  level: number,
  out: Float64Array,
): void {
  const upper = phaseWith(roles, 1);
  const lower = phaseWith(roles, -1);
  const resistance = 2 * circuit.resistance + circuit.dcResistance;
  const reactance = 2 * circuit.reactance + circuit.dcReactance;
  const slope = (volts[upper] - volts[lower] - level - resistance * values[upper]!) / reactance;
  out[upper] = slope;
  out[lower] = -slope;
}

function slopesOfThree(
  circuit: FilterCircuit,
  roles: Triple,
  values: Float64Array,
  volts: Triple,
  level: number,
  out: Float64Array,
): void {
  const { side, lone, first, second } = sharing(roles);
  const dc = -side * values[lone]!;
  const resistance = 1.5 * circuit.resistance + circuit.dcResistance;
  const sum = (-1.5 * side * volts[lone] - level - resistance * dc) / (1.5 * circuit.reactance + circuit.dcReactance);
  const apart = values[first]! - values[second]!;
  const difference = (volts[first] - volts[second] - circuit.resistance * apart) / circuit.reactance;
  out[lone] = -side * sum;
  out[first] = (side * sum + difference) / 2;
  out[second] = (side * sum - difference) / 2;
}
