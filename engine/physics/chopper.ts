// A DC/DC converter of one or more half bridges between a lower and a higher DC voltage, for both directions of power.

/** Duty ratios that can be set, where none is stated: least pulse and dead time leave so much (common practice, no source). */
export const customaryDutyLimits: Span = { from: 0.02, to: 0.98 };

export type Span = { readonly from: number; readonly to: number };

export type DutySpan =
  | { readonly ok: true; readonly from: number; readonly to: number }
  | { readonly ok: false; readonly problem: 'impossible_input' }
  /** At some voltages of the two spans the lower side is too near to the higher one, or above it. */
  | { readonly ok: false; readonly problem: 'low_too_high'; readonly duty: number; readonly allowed: number }
  /** At some voltages the lower side is too low. */
  | { readonly ok: false; readonly problem: 'low_too_low'; readonly duty: number; readonly allowed: number };

/**
 * Duty ratio of the upper switch, D = U_low/U_high, over spans of both voltages (V); it must stay within what the
 * switches can do. The same in both directions, losses left out.
 */
export function dutySpan(low: Span, high: Span, limits: Span = customaryDutyLimits): DutySpan {
  const possible = low.from > 0 && low.to >= low.from && high.from > 0 && high.to >= high.from;
  if (!(possible && Number.isFinite(low.to + high.to))) return impossibleInput;
  if (!(limits.from >= 0 && limits.to <= 1 && limits.from <= limits.to)) return impossibleInput;
  const from = low.from / high.to;
  const to = low.to / high.from;
  if (to > limits.to) return { ok: false, problem: 'low_too_high', duty: to, allowed: limits.to };
  if (from < limits.from) return { ok: false, problem: 'low_too_low', duty: from, allowed: limits.from };
  return { ok: true, from, to };
}

export type ChopperFlow = {
  readonly ok: true;
  /** W and A at either side, positive from the lower to the higher voltage. */
  readonly lowPower: number;
  readonly highPower: number;
  readonly lowCurrent: number;
  readonly highCurrent: number;
  /** W, never negative. */
  readonly loss: number;
};

export type ChopperFacts = {
  /** V. */
  readonly low: number;
  readonly high: number;
  /** W, positive from the lower to the higher voltage, at the side that `at` names. */
  readonly power: number;
  readonly at: 'low' | 'high';
  /** Ratio of power given to power taken, above 0 up to 1, in the direction at hand. */
  readonly efficiency: number;
};

/** Powers and currents at both sides; the loss lies between them. */
export function chopperFlow(facts: ChopperFacts): ChopperFlow | typeof impossibleInput {
  const { low, high, power, at, efficiency } = facts;
  const possible = low > 0 && high > 0 && efficiency > 0 && efficiency <= 1 && Number.isFinite(low + high + power);
  if (!possible) return impossibleInput;
  // Going up, the higher side gets η of the lower; going down, the lower side gets η of the higher.
  const highOverLow = power >= 0 ? efficiency : 1 / efficiency;
  const lowPower = at === 'low' ? power : power / highOverLow;
  const highPower = at === 'high' ? power : power * highOverLow;
  const loss = Math.max(0, lowPower - highPower);
  return { ok: true, lowPower, highPower, lowCurrent: lowPower / low, highCurrent: highPower / high, loss };
}

/**
 * Power at the side of the store (W, positive out of it) for a power at the side of the DC link: the loss lies between
 * them in either direction. Undefined for an impossible efficiency.
 */
export function powerAtStore(linkPower: number, efficiency: number): number | undefined {
  if (!(efficiency > 0 && efficiency <= 1 && Number.isFinite(linkPower))) return undefined;
  return linkPower >= 0 ? linkPower / efficiency : linkPower * efficiency;
}

/** The other way round: what reaches the side of the DC link of a power at the side of the store, both in W. */
export const powerAtLink = (storePower: number, efficiency: number): number =>
  storePower >= 0 ? storePower * efficiency : storePower / efficiency;

export type ChopperChoke = {
  /** V. */
  readonly low: number;
  readonly high: number;
  /** H, of one phase. */
  readonly inductance: number;
  /** Hz, of one phase. */
  readonly frequency: number;
  /** Half bridges whose carriers are evenly staggered, each with its own choke; 1 if not given. */
  readonly phases?: number;
};

export type ChopperRipple = {
  readonly duty: number;
  /** Peak to peak, A: in one choke, and in the sum of all. */
  readonly perPhase: number;
  readonly total: number;
  /** Rms of the sum's ripple, A: peak to peak over 2·√3, for a triangle. */
  readonly totalRms: number;
};

/**
 * Ripple current towards the lower side, voltages smooth: D·(1 − D)·U_high/(L·f) in one choke. With n staggered phases
 * the sum is d·(1 − d)·U_high/(n·L·f), d the fractional part of n·D: nothing where n·D is whole. Undefined for an
 * impossible choke, or a lower voltage above the higher.
 */
export function chopperRipple(choke: ChopperChoke): ChopperRipple | undefined {
  const { low, high, inductance, frequency, phases = 1 } = choke;
  if (!(low > 0 && high >= low && inductance > 0 && frequency > 0 && Number.isInteger(phases) && phases >= 1)) {
    return undefined;
  }
  const duty = low / high;
  const scale = high / (inductance * frequency);
  const part = (phases * duty) % 1;
  const total = (scale * part * (1 - part)) / phases;
  return { duty, perPhase: scale * duty * (1 - duty), total, totalRms: total / (2 * Math.sqrt(3)) };
}

/** Largest ripple (A, peak to peak) in one choke over a span of duty ratios: at the one nearest to a half. */
export function largestRipple(duties: Span, high: number, inductance: number, frequency: number): number | undefined {
  if (!(high > 0 && inductance > 0 && frequency > 0 && duties.from >= 0 && duties.to <= 1)) return undefined;
  const duty = Math.min(Math.max(0.5, duties.from), duties.to);
  return (duty * (1 - duty) * high) / (inductance * frequency);
}

/** Inductance (H) of one phase that keeps its ripple (A, peak to peak) at the worst duty ratio of a span. */
export function inductanceForRipple(duties: Span, high: number, ripple: number, frequency: number): number | undefined {
  const atOneHenry = largestRipple(duties, high, 1, frequency);
  return atOneHenry !== undefined && ripple > 0 ? atOneHenry / ripple : undefined;
}

/** Peak (A) and rms (A) of one choke's current around its mean (A): |I| + ΔI/2, √(I² + ΔI²/12). */
export const chokeCurrent = (mean: number, ripple: number): { readonly peak: number; readonly rms: number } => ({
  peak: Math.abs(mean) + ripple / 2,
  rms: Math.hypot(mean, ripple / Math.sqrt(12)),
});

/**
 * Rms (A) of the current that the capacitor on the higher side takes from one half bridge, the choke's ripple left out:
 * I·√(D·(1 − D)). Undefined for a duty ratio outside 0 to 1.
 */
export const capacitorCurrent = (chokeMean: number, duty: number): number | undefined =>
  duty >= 0 && duty <= 1 ? Math.abs(chokeMean) * Math.sqrt(duty * (1 - duty)) : undefined;

const impossibleInput = { ok: false, problem: 'impossible_input' } as const;
