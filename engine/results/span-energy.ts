// The energy between the ends of a battery's span.
import { batteryModel, socSpan } from './battery-model.ts';
import { defineResult } from './definition.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** Energy at rest between the ends of the span, J: what one full use takes out of the battery. */
export const spanEnergy = defineResult({
  name: 'span_energy',
  on: 'battery',
  dimension: 'energy',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Energy between the top and the bottom of the state-of-charge span as the battery is now, before any loss.',
  formula: 'W = C · ∫ E d soc',
  source: 'definition of the open-circuit voltage',
  compute: read => {
    const model = read.step(read.self, batteryModel, noPoint);
    if (model === undefined) return Number.NaN;
    const span = socSpan(read, read.self, undefined);
    return model.capacity(0) * areaUnder(model.emf, span.bottom, span.top, model.knots);
  },
});

/** Between two states of charge, by Simpson's rule between the bends: exact where the curve is straight or cubic. */
function areaUnder(of: (x: number) => number, from: number, to: number, knots: readonly number[]): number {
  const ends = [from, ...knots.filter(knot => knot > from && knot < to), to];
  let sum = 0;
  for (const [index, end] of ends.entries()) {
    const start = ends[index - 1];
    if (start !== undefined) sum += ((end - start) * (of(start) + 4 * of((start + end) / 2) + of(end))) / 6;
  }
  return sum;
}
