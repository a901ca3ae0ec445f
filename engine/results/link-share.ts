// Which part of a DC link's power each of several choppers carries: commanded, since none of them shares passively.
import type { RouteCell } from '../model/cells.ts';
import { defineResult } from './definition.ts';
import type { Read } from './read.ts';
import { spanEnergy } from './span-energy.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** By how much stated shares may miss the whole, for thirds that are written with three digits: a bound of our own. */
export const roundedShares = 0.005;

/** What is stated of the shares of one link. */
export interface StatedShares {
  /** In the order of the choppers; NaN where nothing is stated. */
  readonly shares: readonly number[];
  readonly sum: number;
  /** Whether every chopper has a part, and all parts make one. */
  readonly possible: boolean;
}

export function statedShares(read: Read, cells: readonly RouteCell[]): StatedShares {
  const shares = cells.map(({ chopper }) => {
    const component = read.component(chopper);
    return component === undefined ? Number.NaN : read.number(component, 'share');
  });
  const known = shares.filter(share => !Number.isNaN(share));
  const sum = known.reduce((total, share) => total + share, 0);
  const possible = known.length < shares.length ? sum < 1 : Math.abs(sum - 1) <= roundedShares;
  return { shares, sum, possible };
}

export const linkShare = defineResult({
  name: 'link_share',
  on: 'chopper',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Part of the power of the DC link that this chopper carries. Choppers keep the voltages of their batteries apart, so that no resistances share the power: a control commands it. By the energy in the spans of their batteries, all of them are empty, and full, at the same time; with any other parts one is empty while the others still hold energy.',
  formula: 'as stated by share; else (1 − Σ stated) · W_span / Σ W_span of those that state none',
  source: 'definition; in proportion to energy: common practice, no source',
  compute: read => {
    const cells = read.route(read.self)?.cells ?? [];
    const own = cells.findIndex(({ chopper }) => chopper === read.self.tag);
    const { shares, sum, possible } = statedShares(read, cells);
    if (own < 0 || !possible) return Number.NaN;
    const stated = shares[own]!;
    if (shares.every(share => !Number.isNaN(share))) return stated / sum;
    if (!Number.isNaN(stated)) return stated;
    if (cells.length === 1) return 1;
    const energies = cells.map((cell, index) => (Number.isNaN(shares[index]!) ? energyBehind(read, cell) : 0));
    return ((1 - sum) * energies[own]!) / energies.reduce((total, energy) => total + energy, 0);
  },
});

function energyBehind(read: Read, { batteries }: RouteCell): number {
  return batteries.reduce((sum, tag) => {
    const battery = read.component(tag);
    return sum + (battery === undefined ? Number.NaN : read.value(battery, spanEnergy, noPoint));
  }, 0);
}

export const linkShareResults = [linkShare];
