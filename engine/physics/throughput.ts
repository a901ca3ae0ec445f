// How much energy a store passes through: equivalent full cycles, throughput in a year, warranty, balance of a day.

/** Seconds of a day, and of a common year of 365 days (common practice, no source). */
export const day = 86_400;
export const year = 365 * day;

/**
 * Equivalent full cycles: energy delivered (J) over usable energy (J), so that one delivers the usable energy once (common
 * practice, no source); undefined without usable energy.
 */
export const equivalentCycles = (delivered: number, usable: number): number | undefined =>
  usable > 0 && delivered >= 0 ? delivered / usable : undefined;

/**
 * Equivalent full cycles of a course of the state of charge (ratios): half the sum of all its movements, over the span
 * that counts as full (1 if not given). A fall that is never made good counts half.
 */
export function cyclesOfCourse(socs: readonly number[], span = 1): number | undefined {
  if (!(span > 0)) return undefined;
  const moved = socs.reduce((sum, soc, index) => sum + Math.abs(soc - (socs[index - 1] ?? soc)), 0);
  return moved / (2 * span);
}

export type RepeatedDischarge = {
  /** Delivered in one go, J. */
  readonly energy: number;
  /** From start to start, s. */
  readonly period: number;
  /** Share of the year in which it comes at all (a season, the hours of operation); 1 if not given. */
  readonly share?: number;
};

/** Energy (J) that discharges deliver in a year; undefined for an impossible one. */
export function yearlyThroughput(discharges: readonly RepeatedDischarge[]): number | undefined {
  let sum = 0;
  for (const { energy, period, share = 1 } of discharges) {
    if (!(energy >= 0 && period > 0 && share >= 0 && share <= 1)) return undefined;
    sum += (energy * share * year) / period;
  }
  return sum;
}

/** What the maker warrants: energy (J), or a number of full cycles, or both; and years, if they end it too. */
export type Warranty = {
  readonly energy?: number;
  readonly cycles?: number;
  readonly years?: number;
};

export type WarrantyLife = {
  /** Until the first of them ends it; without end where nothing is used or nothing is limited. */
  readonly years: number;
  readonly endedBy: 'energy' | 'cycles' | 'years' | undefined;
};

/** Years until a warranty ends with a yearly throughput (J) of a store with usable energy (J). */
export function warrantyLife(warranty: Warranty, yearly: number, usable: number): WarrantyLife | undefined {
  if (!(yearly >= 0 && usable > 0)) return undefined;
  const { energy, cycles, years } = warranty;
  const ends = [
    { endedBy: 'energy' as const, years: energy === undefined ? undefined : lasting(energy, yearly) },
    { endedBy: 'cycles' as const, years: cycles === undefined ? undefined : lasting(cycles * usable, yearly) },
    { endedBy: 'years' as const, years },
  ];
  let first: WarrantyLife = { years: Number.POSITIVE_INFINITY, endedBy: undefined };
  for (const end of ends) {
    if (end.years === undefined) continue;
    if (!(end.years >= 0)) return undefined;
    if (end.years < first.years) first = { years: end.years, endedBy: end.endedBy };
  }
  return first;
}

export type DayFacts = {
  /** Delivered to the network in a day, J. */
  readonly delivered: number;
  /** Ratios between store and network while discharging and while charging, above 0 up to 1. */
  readonly dischargeEfficiency: number;
  readonly chargeEfficiency: number;
  /** Lost inside the store, ratio of what goes in that comes out: 1 for none. */
  readonly storeEfficiency?: number;
  /** Power taken all day, running or not, W: controls, cooling, magnetising. */
  readonly standbyPower: number;
  /** Share of the store's content (J) that leaks away in a day. */
  readonly content?: number;
  readonly selfDischarge?: number;
};

export type DayBalance = {
  readonly ok: true;
  /** J in a day: taken from the network for the store, and for standby. */
  readonly charged: number;
  readonly standby: number;
  /** J: lost on the way in, inside and out, and leaked. */
  readonly conversionLoss: number;
  readonly leaked: number;
  /** Delivered over charged, standby and leak left out; undefined where nothing is delivered. */
  readonly roundTrip: number | undefined;
  /** Delivered over all that is taken; undefined where nothing is taken. */
  readonly net: number | undefined;
};

/** A day that ends as full as it began: charged + standby = delivered + conversion loss + leaked + standby. */
export function dayBalance(facts: DayFacts): DayBalance | { readonly ok: false; readonly problem: 'impossible_input' } {
  const { delivered, dischargeEfficiency, chargeEfficiency, storeEfficiency = 1, standbyPower } = facts;
  const { content = 0, selfDischarge = 0 } = facts;
  const shares = [dischargeEfficiency, chargeEfficiency, storeEfficiency].every(each => each > 0 && each <= 1);
  const possible = delivered >= 0 && standbyPower >= 0 && content >= 0 && selfDischarge >= 0 && selfDischarge <= 1;
  if (!shares || !possible || !Number.isFinite(delivered + standbyPower + content)) {
    return { ok: false, problem: 'impossible_input' };
  }
  const through = chargeEfficiency * storeEfficiency * dischargeEfficiency;
  const leaked = content * selfDischarge;
  const refilled = leaked / (chargeEfficiency * storeEfficiency);
  const charged = delivered / through + refilled;
  const standby = standbyPower * day;
  const taken = charged + standby;
  return {
    ok: true,
    charged,
    standby,
    conversionLoss: charged - delivered - leaked,
    leaked,
    roundTrip: delivered > 0 ? through : undefined,
    net: taken > 0 ? delivered / taken : undefined,
  };
}

const lasting = (energy: number, yearly: number): number => (yearly > 0 ? energy / yearly : Number.POSITIVE_INFINITY);
