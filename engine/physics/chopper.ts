// A DC/DC converter between a lower and a higher DC voltage, for both directions of power.

/** Duty ratios that can be set, where none is stated: least pulse and dead time leave so much (common practice, no source). */
export const customaryDutyLimits: Span = { from: 0.02, to: 0.98 };

export type Span = { readonly from: number; readonly to: number };

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

const impossibleInput = { ok: false, problem: 'impossible_input' } as const;
