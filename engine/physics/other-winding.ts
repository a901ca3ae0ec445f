// What arrives at a converter when the transformer before it has another secondary voltage than its plate says, the power
// at the network connection and the per-cent impedance staying the same.
//
// With t times the winding's turns the ideal ratio divides by t, so V behind it is t times and J the t-th part of what it
// was; the series impedance in ohm grows with t². Behind the winding there is thus t·v and j/t, v and j being those of
// the stated winding, and at the converter, through the chain A, B, C, D of what stands between,
// V = A·v·t + B·j/t and J = C·v·t + D·j/t: their squares and the power are sums of a term with t², one with 1/t² and one
// without.
import { add, type Complex, multiply } from './complex.ts';
import { chainOf, type LadderElement, type LadderSolution } from './ladder.ts';

/** Voltage line to line, V; current of a line, A; active power of three phases, W, positive towards the network. */
export type Terminals = Pick<LadderSolution, 'terminalVoltage' | 'terminalCurrent' | 'terminalActivePower'>;

const nothingKnown: Terminals = {
  terminalVoltage: Number.NaN,
  terminalCurrent: Number.NaN,
  terminalActivePower: Number.NaN,
};

/** x·t² + y/t² + z. */
type BySquare = readonly [x: number, y: number, z: number];

/**
 * The converter terminals by the factor on the secondary voltage. `winding`: the boundary behind the transformer;
 * voltage (V) and power (W, var; towards the network positive) at the network connection. NaN where the ladder holds a
 * number that no plant can have.
 */
export function terminalsByWinding(
  elements: readonly LadderElement[],
  winding: number,
  networkVoltage: number,
  activePower: number,
  reactivePower: number,
): (factor: number) => Terminals {
  if (!(networkVoltage > 0)) return () => nothingKnown;
  const ahead = chainOf(elements, winding);
  const behind = chainOf(elements.slice(winding));
  const current = { re: activePower / networkVoltage, im: -reactivePower / networkVoltage };
  const v = add(times(networkVoltage, ahead.a), multiply(ahead.b, current));
  const j = add(times(networkVoltage, ahead.c), multiply(ahead.d, current));
  const [p, q] = [multiply(behind.a, v), multiply(behind.b, j)];
  const [r, s] = [multiply(behind.c, v), multiply(behind.d, j)];
  const voltage: BySquare = [inner(p, p), inner(q, q), 2 * inner(p, q)];
  const phase: BySquare = [inner(r, r), inner(s, s), 2 * inner(r, s)];
  const power: BySquare = [inner(p, r), inner(q, s), inner(p, s) + inner(q, r)];
  return factor => {
    const square = factor * factor;
    return {
      terminalVoltage: Math.sqrt(notNegative(at(voltage, square))),
      terminalCurrent: Math.sqrt(notNegative(at(phase, square)) / 3),
      terminalActivePower: at(power, square),
    };
  };
}

const at = ([x, y, z]: BySquare, square: number): number => x * square + y / square + z;

/** A square that rounding has brought just below nothing. */
const notNegative = (square: number): number => Math.max(square, 0);

/** Re(a·b*). */
const inner = (a: Complex, b: Complex): number => a.re * b.re + a.im * b.im;
const times = (factor: number, a: Complex): Complex => ({ re: factor * a.re, im: factor * a.im });
