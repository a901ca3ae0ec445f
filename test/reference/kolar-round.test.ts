// Rms current of the link's capacitor: Kolar and Round's closed form. The formula is from memory; the figures were worked
// out apart from this code, four of them also by switched simulation, and are integrated once more here.

import { capacitorCurrent } from '../../engine/physics/dc-link.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { reference, thirdOfTurn } from '../kit/switched.ts';

const source = 'Kolar and Round, dc-link capacitor current stress, 2006 (formula from memory)';
const cosines = [0, 0.5, 0.8, 0.9, 1];
/** Capacitor over line current, by modulation index and by cos φ as above. */
const rows: readonly (readonly [index: number, ratios: readonly number[]])[] = [
  [0.2, [0.2348, 0.3147, 0.4092, 0.4442, 0.4803]],
  [0.4, [0.3321, 0.419, 0.5266, 0.5672, 0.6094]],
  [0.8, [0.4696, 0.5109, 0.5695, 0.5932, 0.6186]],
  [1, [0.525, 0.5197, 0.5112, 0.5075, 0.5033]],
  [1.15, [0.563, 0.5119, 0.42, 0.3728, 0.3119]],
];

/**
 * The same with a carrier that is infinitely fast: at each angle the legs leave the upper rail one after the other, and
 * the link carries the sum of the currents of those still there for the time between.
 */
function integrated(index: number, cosPhi: number): number {
  const steps = 3600;
  let square = 0,
    mean = 0;
  for (let step = 0; step < steps; step++) {
    const angle = (2 * Math.PI * (step + 0.5)) / steps;
    const legs = [0, 1, 2].map(leg => ({
      until: (1 + reference(angle, leg, index, 'space_vector')) / 2,
      current: Math.SQRT2 * Math.cos(angle - leg * thirdOfTurn - Math.acos(cosPhi)),
    }));
    const ends = legs.map(({ until }) => until).sort((left, right) => left - right);
    let before = 0;
    for (const end of ends) {
      const link = legs.reduce((sum, { until, current }) => sum + (until >= end ? current : 0), 0);
      square += (end - before) * link * link;
      mean += (end - before) * link;
      before = end;
    }
  }
  return Math.sqrt(square / steps - (mean / steps) ** 2);
}

referenceTests(
  'capacitor over line current',
  rows.flatMap(([index, ratios]) =>
    ratios.flatMap((expected, column): ReferenceCase[] => {
      const cosPhi = cosines[column]!;
      const actual = () => capacitorCurrent(1, index, cosPhi);
      return [
        {
          name: `M = ${index}, cos φ = ${cosPhi}`,
          source,
          evidence: 'recomputed independently',
          actual,
          expected,
          tolerance: 1e-3,
        },
        {
          name: `M = ${index}, cos φ = ${cosPhi}, integrated`,
          source: 'numeric integral of the switched link current',
          evidence: 'recomputed independently',
          actual,
          expected: integrated(index, cosPhi),
          tolerance: 1e-4,
        },
      ];
    }),
  ),
);

// Where the load is worst at cos φ = 1: the root of the derivative is M = (8/9)·√3/π·(1 + 1/4).
referenceTests('the worst ratio at cos φ = 1', [
  {
    name: 'ratio',
    source,
    evidence: 'recomputed independently',
    actual: () => capacitorCurrent(1, 0.61259, 1),
    expected: 0.64975,
    tolerance: 1e-4,
  },
]);
