// The star point on the converter's side, by which the modulation is limited: who earths it, if anybody does.
import type { Component } from '../model/plant.ts';
import type { StarPoint } from '../physics/modulation.ts';
import type { Read } from './read.ts';

export interface EarthedBy {
  readonly component: Component;
  readonly property: 'neutral' | 'earthing';
}

/** The fact that earths or loads the star point that the converter sees; undefined where it floats or nobody says. */
export function earthedBy(read: Read): EarthedBy | undefined {
  const route = read.route(read.self);
  const nearest = route?.ac.findLast(({ kind }) => kind === 'transformer');
  if (nearest !== undefined) {
    const transformer = read.component(nearest.tag);
    if (transformer === undefined || read.word(transformer, 'neutral') !== 'earthed') return undefined;
    return { component: transformer, property: 'neutral' };
  }
  const grid = route?.grid === undefined ? undefined : read.component(route.grid);
  const earthing = grid === undefined ? undefined : read.word(grid, 'earthing');
  if (grid === undefined || (earthing !== 'tn' && earthing !== 'tt')) return undefined;
  return { component: grid, property: 'earthing' };
}

/** A common-mode voltage needs a star point that floats on the converter's side. */
export const starPointOf = (read: Read): StarPoint =>
  earthedBy(read) === undefined ? 'floating' : 'earthed_or_loaded';
