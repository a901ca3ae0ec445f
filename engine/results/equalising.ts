// What batteries side by side drive through each other at one state of charge, because they rest at different voltages.
import { bankAtRest, type Pack } from './bank.ts';
import { defineResult, defineStep } from './definition.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export interface Unequal {
  /** Where it is worst, of both spans. */
  readonly soc: number;
  /** Side by side on one pair of conductors, by their tags. */
  readonly batteries: readonly string[];
  /** In their order: V at rest, A out of each. */
  readonly voltages: readonly number[];
  readonly currents: readonly number[];
}

/** Undefined for a single battery, and where one is not known. */
export const unequalBatteries = defineStep<Unequal | undefined>({
  name: 'unequal_batteries',
  on: 'converter',
  axes: [],
  compute: read => {
    const bank = (read.route(read.self)?.batteries.length ?? 0) > 1 ? bankAtRest(read, read.self) : undefined;
    if (bank === undefined) return undefined;
    const found = bank.groups.flatMap(({ members, idle }) => {
      const packs = members.map(member => bank.packs[member]!);
      if (packs.length < 2) return [];
      return socsOf(read, packs).map(soc => ({
        soc,
        batteries: packs.map(({ battery }) => battery.tag),
        voltages: packs.map(({ model }) => model.emf(soc)),
        currents: idle(bank.packs.map(() => soc)),
      }));
    });
    return found.reduce<Unequal | undefined>(
      (worst, next) => (worst === undefined || largest(next) > largest(worst) ? next : worst),
      undefined,
    );
  },
});

/** The ends of what all spans share, and the bends between them: curves and their differences are straight in between. */
function socsOf(read: Read, packs: readonly Pack[]): readonly number[] {
  const bottom = Math.max(...packs.map(({ battery }) => read.number(battery, 'soc', 'low')));
  const top = Math.min(...packs.map(({ battery }) => read.number(battery, 'soc', 'high')));
  const bends = packs.flatMap(({ model }) => model.knots).filter(soc => soc > bottom && soc < top);
  return bottom <= top ? [bottom, ...bends, top] : [];
}

function largest({ currents }: Unequal): number {
  return Math.max(...currents.map(Math.abs));
}

export const equalisingCurrent = defineResult({
  name: 'equalising_current',
  on: 'converter',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Largest current that batteries side by side on the converter drive through each other at the moment at which they are joined, all at one state of charge inside their spans.',
  formula: 'I_k = (E_k − E) / R_k with E = Σ(E_k/R_k) / Σ(1/R_k), R_k with the cables of each',
  source: 'Kirchhoff',
  compute: read => {
    const found = read.step(read.self, unequalBatteries, noPoint);
    return found === undefined ? Number.NaN : largest(found);
  },
});

export const equalisingResults = [equalisingCurrent];
