// Several choppers that hold one DC link together: how its power divides, and at what voltage the link then stands.
import { constantPower } from './battery.ts';

/** One chopper at the link. Ω, V. */
export interface Feeder {
  /** What it holds at its own terminals on the link's side. */
  readonly voltage: number;
  /** The part of the link's current that it is told to carry; all parts make one. */
  readonly share: number;
  /** By how much its terminals stand above the common point for each ampere of the whole link. */
  readonly rise: number;
}

export interface Fed {
  /** At the chopper's terminals: A, V, W, positive towards the link. */
  readonly current: number;
  readonly voltage: number;
  readonly power: number;
}

export type LinkFlow =
  | {
      readonly ok: true;
      /** A and V at the end of the wires, where the power is taken. */
      readonly current: number;
      readonly voltage: number;
      /** In the order of the feeders. */
      readonly fed: readonly Fed[];
    }
  /** No current delivers this power, W; the largest that one does. */
  | { readonly ok: false; readonly largestPower: number };

/**
 * A power (W, positive out of the link) taken behind wires (Ω) from the point where several feeders meet. Their currents
 * are commanded, I_k = s_k·I, so that one of them alone settles the voltage of the common point: the one that leaves it
 * lowest, U = min(U_k − R_k·I). All others stand as much below what they could hold as their own way drops less.
 * Source: Kirchhoff; that the shares are commanded: two voltages can’t be held on one pair of conductors.
 */
export function sharedLink(feeders: readonly Feeder[], wires: number, power: number): LinkFlow {
  let lowest: { readonly current: number; readonly voltage: number } | undefined;
  let largestPower = Number.POSITIVE_INFINITY;
  for (const { voltage, rise } of feeders) {
    const found = constantPower(voltage, rise + wires, power);
    if (!found.ok) largestPower = Math.min(largestPower, found.largestPower);
    else if (lowest === undefined || found.voltage < lowest.voltage) lowest = found;
  }
  if (Number.isFinite(largestPower)) return { ok: false, largestPower };
  if (lowest === undefined) return { ok: false, largestPower: 0 };
  const { current, voltage } = lowest;
  const common = voltage + current * wires;
  const fed = feeders.map(({ share, rise }): Fed => {
    const own = { current: share * current, voltage: common + rise * current };
    return { ...own, power: own.current * own.voltage };
  });
  return { ok: true, current, voltage, fed };
}
