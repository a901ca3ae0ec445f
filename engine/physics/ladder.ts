// Steps voltage and current phasors through the elements between the network and the converter.
//
// Inside, a phasor pair is the line-to-line voltage V and J = sqrt(3) * line current: then three-phase power is V·J*,
// the drop along a per-phase impedance is Z·J and the current of a per-phase admittance is Y·V, with no other factor.
// J flows from the converter towards the network, so power towards the network is positive.

import { type Complex, divide, magnitude, multiply } from './complex.ts';

/** Per-phase impedance in the line, ohm, on its own side of every ratio. */
export type SeriesElement = { readonly kind: 'series'; readonly resistance: number; readonly reactance: number };
/** Per-phase star admittance across the line, siemens; a capacitor's susceptance is positive. */
export type ShuntElement = { readonly kind: 'shunt'; readonly conductance: number; readonly susceptance: number };
/** Ideal transformer: volts on the network side for one volt on the converter side. */
export type RatioElement = { readonly kind: 'ratio'; readonly ratio: number };
export type LadderElement = SeriesElement | ShuntElement | RatioElement;

export type Impedance = { readonly resistance: number; readonly reactance: number };

/**
 * What the ladder carries. Boundary 0 is the network connection, boundary n the converter terminals; element i lies
 * between boundaries i and i + 1. Voltages line to line (V rms), currents of a line (A rms), powers three-phase
 * (W, var), positive towards the network; losses in W.
 */
export type LadderSolution = {
  readonly ok: true;
  readonly voltage: readonly number[];
  readonly current: readonly number[];
  readonly activePower: readonly number[];
  readonly reactivePower: readonly number[];
  /** One a element, not one a boundary. */
  readonly loss: readonly number[];
  readonly totalLoss: number;
  readonly terminalVoltage: number;
  readonly terminalCurrent: number;
  readonly terminalActivePower: number;
  readonly terminalReactivePower: number;
  /** Active over apparent power, negative while charging; undefined where no current flows. */
  readonly terminalCosPhi: number | undefined;
};

/** A number that no plant can have: not finite, a ratio of zero, no voltage. */
export type ImpossibleInput = { readonly ok: false; readonly problem: 'impossible_input' };

/** The ladder can't carry the power asked for: the voltage collapses before it is reached. */
export type NoSolution = {
  readonly ok: false;
  readonly problem: 'no_solution';
  /** Largest active power (W, sign as asked) that can be carried at the same power factor. */
  readonly largestActivePower: number;
  /** The same as a share of the power asked for. */
  readonly largestShare: number;
};

/** The two-port from converter to network: V_c = a·V_n + b·J_n, J_c = c·V_n + d·J_n (see the head of this file). */
export type Chain = { readonly a: Complex; readonly b: Complex; readonly c: Complex; readonly d: Complex };

/**
 * Solves the ladder for a power demanded at the network connection, at a given voltage there: exact phasors, no
 * iteration, since voltage and current are both known at that end.
 */
export function solveLadder(
  elements: readonly LadderElement[],
  voltage: number,
  activePower: number,
  reactivePower: number,
): LadderSolution | ImpossibleInput {
  if (!(voltage > 0)) return impossibleInput;
  return step(elements, voltage, activePower / voltage, -reactivePower / voltage);
}

/**
 * Solves the ladder for a power demanded at the converter terminals, or at the given boundary, with the voltage at the
 * network connection given. Everything on the network side of the boundary is a linear two-port, so the voltage there
 * is the upper root of a quadratic (the stable branch): exact, no iteration.
 */
export function solveLadderFromConverter(
  elements: readonly LadderElement[],
  networkVoltage: number,
  activePower: number,
  reactivePower: number,
  boundary: number = elements.length,
): LadderSolution | NoSolution | ImpossibleInput {
  if (!(networkVoltage > 0)) return impossibleInput;
  const chain = chainOf(elements, boundary);
  const open = divide({ re: networkVoltage, im: 0 }, chain.d);
  const inner = divide(chain.b, chain.d);
  if (open === undefined || inner === undefined) return impossibleInput;

  // v = |V|² solves v² - (2a + e)·v + a² + b² = 0 with S·Z* = a + jb and e = |E|².
  const a = activePower * inner.re + reactivePower * inner.im;
  const b = reactivePower * inner.re - activePower * inner.im;
  const e = open.re * open.re + open.im * open.im;
  const discriminant = e * e + 4 * a * e - 4 * b * b;
  if (!Number.isFinite(discriminant)) return impossibleInput;
  if (discriminant < 0) return collapse(e, a, b, activePower);
  const square = (2 * a + e + Math.sqrt(discriminant)) / 2;

  // The phasor itself, from V·E* = v - S·Z*.
  const atBoundary = divide({ re: square - a, im: -b }, { re: open.re, im: -open.im });
  if (atBoundary === undefined) return impossibleInput;
  const current = divide({ re: activePower, im: -reactivePower }, { re: atBoundary.re, im: -atBoundary.im });
  if (current === undefined) return impossibleInput;
  const fed = multiply(chain.c, { re: networkVoltage, im: 0 });
  const atNetwork = divide({ re: current.re - fed.re, im: current.im - fed.im }, chain.d);
  if (atNetwork === undefined) return impossibleInput;
  return step(elements, networkVoltage, atNetwork.re, atNetwork.im);
}

/**
 * Solves the ladder with the converter's gates blocked and its diodes not conducting: no current at the converter
 * terminals. The network stands behind its own impedance, so the rise by the filter capacitor comes out by itself;
 * boundary 0 of the solution is the network's source, boundary 1 the connection point.
 */
export function solveBlockedLadder(
  elements: readonly LadderElement[],
  networkVoltage: number,
  sourceImpedance: Impedance,
): LadderSolution | ImpossibleInput {
  if (!(networkVoltage > 0)) return impossibleInput;
  const whole = [seriesOf(sourceImpedance), ...elements];
  const chain = chainOf(whole);
  const fed = divide({ re: -chain.c.re * networkVoltage, im: -chain.c.im * networkVoltage }, chain.d);
  if (fed === undefined) return impossibleInput;
  return step(whole, networkVoltage, fed.re, fed.im);
}

/** Line-to-line voltage (V rms) at the converter terminals with the gates blocked and no current there. */
export function noLoadVoltage(
  elements: readonly LadderElement[],
  networkVoltage: number,
  sourceImpedance: Impedance,
): { readonly ok: true; readonly voltage: number } | ImpossibleInput {
  const source = sourceImpedanceSeenFromConverter(elements, networkVoltage, sourceImpedance);
  return source.ok ? { ok: true, voltage: source.openCircuitVoltage } : source;
}

/**
 * The network as the converter terminals see it at the frequency of the elements: open-circuit voltage (V line to
 * line) and inner impedance (ohm per phase), shunts included. For commutation, which is far faster than the network's
 * cycle, `seriesImpedanceReferredToConverter` may be the better figure.
 */
export function sourceImpedanceSeenFromConverter(
  elements: readonly LadderElement[],
  networkVoltage: number,
  sourceImpedance: Impedance,
): (Impedance & { readonly ok: true; readonly openCircuitVoltage: number }) | ImpossibleInput {
  if (!(networkVoltage > 0)) return impossibleInput;
  const chain = chainOf([seriesOf(sourceImpedance), ...elements]);
  const open = divide({ re: networkVoltage, im: 0 }, chain.d);
  const inner = divide(chain.b, chain.d);
  if (open === undefined || inner === undefined) return impossibleInput;
  const openCircuitVoltage = magnitude(open);
  if (!Number.isFinite(openCircuitVoltage + inner.re + inner.im)) return impossibleInput;
  return { ok: true, openCircuitVoltage, resistance: inner.re, reactance: inner.im };
}

/** Sum of the series impedances (ohm per phase) brought to the converter's side, shunts left out. */
export function seriesImpedanceReferredToConverter(
  elements: readonly LadderElement[],
  sourceImpedance: Impedance,
): (Impedance & { readonly ok: true }) | ImpossibleInput {
  let { resistance, reactance } = sourceImpedance;
  for (const element of elements) {
    if (element.kind === 'series') {
      resistance += element.resistance;
      reactance += element.reactance;
    } else if (element.kind === 'ratio') {
      resistance /= element.ratio * element.ratio;
      reactance /= element.ratio * element.ratio;
    }
  }
  return Number.isFinite(resistance + reactance) ? { ok: true, resistance, reactance } : impossibleInput;
}

/**
 * The chain matrix of the elements up to a boundary (all of them by default). With elements made for another frequency
 * it carries harmonics just as well. Its determinant is one.
 */
export function chainOf(elements: readonly LadderElement[], boundary: number = elements.length): Chain {
  let aRe = 1,
    aIm = 0,
    bRe = 0,
    bIm = 0,
    cRe = 0,
    cIm = 0,
    dRe = 1,
    dIm = 0;
  for (let i = 0; i < boundary && i < elements.length; i++) {
    const element = elements[i]!;
    if (element.kind === 'series') {
      const { resistance: r, reactance: x } = element;
      aRe += r * cRe - x * cIm;
      aIm += r * cIm + x * cRe;
      bRe += r * dRe - x * dIm;
      bIm += r * dIm + x * dRe;
    } else if (element.kind === 'shunt') {
      const { conductance: g, susceptance: y } = element;
      cRe += g * aRe - y * aIm;
      cIm += g * aIm + y * aRe;
      dRe += g * bRe - y * bIm;
      dIm += g * bIm + y * bRe;
    } else {
      const { ratio } = element;
      aRe /= ratio;
      aIm /= ratio;
      bRe /= ratio;
      bIm /= ratio;
      cRe *= ratio;
      cIm *= ratio;
      dRe *= ratio;
      dIm *= ratio;
    }
  }
  return { a: { re: aRe, im: aIm }, b: { re: bRe, im: bIm }, c: { re: cRe, im: cIm }, d: { re: dRe, im: dIm } };
}

/** An element that n converters share, each with the same share 1/n, as one of them sees it: n times as large. */
export function sharedElement(element: LadderElement, share: number): LadderElement {
  if (share === 1) return element;
  if (element.kind === 'series')
    return { kind: 'series', resistance: element.resistance / share, reactance: element.reactance / share };
  if (element.kind === 'shunt')
    return { kind: 'shunt', conductance: element.conductance * share, susceptance: element.susceptance * share };
  return element;
}

const impossibleInput: ImpossibleInput = { ok: false, problem: 'impossible_input' };
const rootOfThree = Math.sqrt(3);

const seriesOf = (impedance: Impedance): SeriesElement => ({
  kind: 'series',
  resistance: impedance.resistance,
  reactance: impedance.reactance,
});

/**
 * Scaling the demand by t turns the discriminant into e² + 4·a·e·t - 4·b²·t²; its positive root is the limit, written
 * in the form that loses no digits for the sign of a (and needs no b where a is negative).
 */
function collapse(e: number, a: number, b: number, activePower: number): NoSolution {
  const reach = Math.hypot(a, b);
  const largestShare = a > 0 ? (e * (a + reach)) / (2 * b * b) : e / (2 * (reach - a));
  return { ok: false, problem: 'no_solution', largestShare, largestActivePower: largestShare * activePower };
}

const blank: number[][] = [];

/** As many fractions, in a list that holds no more: one that grows would take twice the room. */
function numbers(count: number): number[] {
  blank[count] ??= Array.from({ length: count }, () => 0.5);
  return blank[count].slice();
}

/** The walk itself: hot, so it keeps plain numbers and allocates nothing but what it returns. */
function step(
  elements: readonly LadderElement[],
  networkVoltage: number,
  networkJRe: number,
  networkJIm: number,
): LadderSolution | ImpossibleInput {
  let vRe = networkVoltage,
    vIm = 0,
    jRe = networkJRe,
    jIm = networkJIm;
  let vSquare = vRe * vRe,
    jSquare = jRe * jRe + jIm * jIm;
  let active = vRe * jRe,
    reactive = -vRe * jIm;
  const voltage = numbers(elements.length + 1),
    current = numbers(elements.length + 1),
    activePower = numbers(elements.length + 1),
    reactivePower = numbers(elements.length + 1),
    loss = numbers(elements.length);
  voltage[0] = networkVoltage;
  current[0] = Math.sqrt(jSquare) / rootOfThree;
  activePower[0] = active;
  reactivePower[0] = reactive;
  let totalLoss = 0;
  for (let i = 0; i < elements.length; i++) {
    const element = elements[i]!;
    let lost = 0;
    if (element.kind === 'series') {
      const { resistance: r, reactance: x } = element;
      lost = r * jSquare;
      vRe += r * jRe - x * jIm;
      vIm += r * jIm + x * jRe;
      vSquare = vRe * vRe + vIm * vIm;
    } else if (element.kind === 'shunt') {
      const { conductance: g, susceptance: y } = element;
      lost = g * vSquare;
      jRe += g * vRe - y * vIm;
      jIm += g * vIm + y * vRe;
      jSquare = jRe * jRe + jIm * jIm;
    } else {
      vRe /= element.ratio;
      vIm /= element.ratio;
      jRe *= element.ratio;
      jIm *= element.ratio;
      vSquare = vRe * vRe + vIm * vIm;
      jSquare = jRe * jRe + jIm * jIm;
    }
    active = vRe * jRe + vIm * jIm;
    reactive = vIm * jRe - vRe * jIm;
    totalLoss += lost;
    voltage[i + 1] = Math.sqrt(vSquare);
    current[i + 1] = Math.sqrt(jSquare) / rootOfThree;
    activePower[i + 1] = active;
    reactivePower[i + 1] = reactive;
    loss[i] = lost;
  }
  const terminalVoltage = Math.sqrt(vSquare),
    terminalJ = Math.sqrt(jSquare);
  if (!Number.isFinite(terminalVoltage + terminalJ + totalLoss)) return impossibleInput;
  const apparent = terminalVoltage * terminalJ;
  return {
    ok: true,
    voltage,
    current,
    activePower,
    reactivePower,
    loss,
    totalLoss,
    terminalVoltage,
    terminalCurrent: terminalJ / rootOfThree,
    terminalActivePower: active,
    terminalReactivePower: reactive,
    terminalCosPhi: apparent > 0 ? active / apparent : undefined,
  };
}
