// How much energy a store passes through: equivalent full cycles, throughput in a year, warranty.

/** Seconds of a day, and of a common year of 365 days (common practice, no source). */
export const day = 86_400;
export const year = 365 * day;

/**
 * Equivalent full cycles: energy delivered (J) over usable energy (J), so that one delivers the usable energy once (common
 * practice, no source); undefined without usable energy.
 */
export const equivalentCycles = (delivered: number, usable: number): number | undefined =>
  usable > 0 && delivered >= 0 ? delivered / usable : undefined;

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

const lasting = (energy: number, yearly: number): number => (yearly > 0 ? energy / yearly : Number.POSITIVE_INFINITY);
