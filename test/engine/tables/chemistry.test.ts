// The curves that are taken where only the chemistry is known are sound curves, and say how sure they are.

import { describe, expect, test } from 'vitest';
import { resistanceGrowth, restVoltages } from '../../../engine/tables/chemistry.ts';
import { type CurveSpec, curveAt, direction, type LineCurve, makeCurve } from '../../../engine/units/curve.ts';

const chemistries = ['lfp', 'nmc', 'lead_acid'] as const;

const lineOf = (spec: CurveSpec): LineCurve => {
  const made = makeCurve(spec);
  if (!made.ok || made.curve.shape === 'surface') throw new Error('expected a curve over one axis');
  return made.curve;
};

describe.each(chemistries)('%s', chemistry => {
  const rest = lineOf(restVoltages[chemistry].curve);
  const growth = lineOf(resistanceGrowth[chemistry].curve);

  test('the voltage at rest rises from empty to full', () => {
    expect(direction(rest)).toBe('rising');
    expect([rest.x[0], rest.x.at(-1)]).toEqual([0, 1]);
  });

  test('the resistance is one at 25 °C and falls with warmth', () => {
    expect(curveAt(growth, 298.15)).toBe(1);
    expect(direction(growth)).toBe('falling');
  });

  test('it says where it comes from, and what is wrong with it', () => {
    expect(resistanceGrowth[chemistry].citation.evidence).toBe('common practice, no source');
    expect(restVoltages[chemistry].caveats.length).toBeGreaterThan(0);
  });
});

test('the lithium cells are published, lead-acid is not', () => {
  expect(restVoltages.lfp.citation.evidence).toBe('seen in source');
  expect(restVoltages.nmc.citation.evidence).toBe('seen in source');
  expect(restVoltages.lead_acid.citation.evidence).toBe('common practice, no source');
  expect(restVoltages.lfp.caveats.join(' ')).toContain('Below 20 %');
});
