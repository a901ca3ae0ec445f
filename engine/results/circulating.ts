// What may circulate between converters that share a winding and a battery, where nothing separates them.
import type { Component } from '../model/plant.ts';
import type { Route } from '../model/topology.ts';
import { circulatingRipple } from '../physics/circulating.ts';
import { dcVoltageMax } from './converter-voltage.ts';
import { defineResult } from './definition.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** Converters joined with this one on both sides: behind the same winding (or none), on the same battery. */
export function joinedWith(routes: readonly Route[], converter: string): readonly Route[] {
  const own = routes.find(route => route.converter === converter);
  if (own?.battery === undefined || own.grid === undefined) return [];
  return routes.filter(
    other =>
      other !== own &&
      other.grid === own.grid &&
      other.batteries.some(tag => own.batteries.includes(tag)) &&
      windingOf(other) === windingOf(own),
  );
}

/** Only a transformer separates: its windings carry no zero-sequence current across. */
function windingOf(route: Route): string | undefined {
  return route.ac.findLast(element => element.kind === 'transformer')?.tag;
}

export const loopInductance = defineResult({
  name: 'circulating_inductance',
  on: 'converter',
  dimension: 'inductance',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Least inductance of a phase between the converter and another one on the same winding and the same battery: the converter-side chokes that each has for itself. It holds for chokes whose phases have a core each; on one three-limb core next to nothing is left.',
  formula: 'L = L_1 + L_2',
  source: 'circuit theory',
  compute: read => {
    const others = joinedWith(read.allRoutes(), read.self.tag);
    if (others.length === 0) return Number.NaN;
    const own = ownChoke(read, read.self);
    return Math.min(...others.map(other => own + ownChoke(read, read.component(other.converter)!)));
  },
});

/** Chokes of filters that no other converter shares. */
function ownChoke(read: Read, converter: Component): number {
  let sum = 0;
  for (const passed of read.route(converter)?.ac ?? []) {
    const filter = passed.kind === 'filter' && passed.share === 1 ? read.component(passed.tag) : undefined;
    if (filter !== undefined) sum += read.number(filter, 'converter_inductance');
  }
  return sum;
}

export const circulatingCurrent = defineResult({
  name: 'circulating_current',
  on: 'converter',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Largest peak-to-peak zero-sequence ripple that can circulate in each phase between the converter and another one on the same winding and the same battery; nothing where their carriers run in step.',
  formula: 'ΔI = U_dc,max / (2·f_sw·L), carriers in opposition',
  source: 'circuit theory: volt-seconds of the chokes',
  compute: read => {
    const others = joinedWith(read.allRoutes(), read.self.tag).flatMap(route => read.component(route.converter) ?? []);
    if (others.length === 0) return Number.NaN;
    if (others.every(other => inStep(read, read.self, other))) return 0;
    const voltage = read.value(read.self, dcVoltageMax, noPoint);
    const frequency = read.number(read.self, 'switching_frequency');
    return circulatingRipple(voltage, frequency, read.value(read.self, loopInductance, noPoint)) ?? Number.NaN;
  },
});

function inStep(read: Read, one: Component, other: Component): boolean {
  const stated = [one, other].every(converter => read.word(converter, 'carriers') === 'synchronised');
  return stated && read.number(one, 'switching_frequency') === read.number(other, 'switching_frequency');
}

export const circulatingResults = [loopInductance, circulatingCurrent];
