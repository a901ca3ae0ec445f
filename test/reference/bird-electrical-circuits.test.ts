// Referred impedance and efficiency of transformers: problems of Bird, Electrical Circuit Theory and Technology.

import { divide } from '../../engine/physics/complex.ts';
import { chainOf, type LadderElement } from '../../engine/physics/ladder.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { efficiencyAtLoad } from '../kit/transformer-load.ts';

// Seen as worked solutions in a mirror of the Scilab Textbook Companion (github.com/Lavitha/Scilab_TBC); the book itself was
// not opened.
const value = (problem: string, name: string, actual: () => number | undefined, expected: number): ReferenceCase => ({
  name,
  source: `Bird, Electrical Circuit Theory and Technology, Prob. ${problem}`,
  evidence: 'inputs seen in source, result recomputed independently',
  actual,
  expected,
  tolerance: 1e-5,
});

// 20.13: 600 and 150 turns; 0.25 + j1.0 Ω and 0.01 + j0.04 Ω.
const ratio = 600 / 150;
const secondary = { resistance: 0.01, reactance: 0.04 };
const windings: readonly LadderElement[] = [
  { kind: 'series', resistance: 0.25, reactance: 1 },
  { kind: 'ratio', ratio },
  { kind: 'series', ...secondary },
];
// Shorted secondary: the network sees b/a.
const chain = () => chainOf(windings);
const equivalent = () => {
  const { re, im } = divide(chain().b, chain().a)!;
  return { resistance: re, reactance: im };
};
const shorted = () => Math.hypot(chain().b.re, chain().b.im) / Math.hypot(chain().a.re, chain().a.im);

// 20.16, 20.17: 200 kVA, 1.5 kW copper, 1 kW iron. 20.18: 400 kVA, 5 kV/320 V, 0.5 Ω, 0.001 Ω, 2.5 kW iron.
const first = { ratedPower: 200e3, noLoadLoss: 1000, loadLoss: 1500 };
const copper = 80 ** 2 * 0.5 + 1250 ** 2 * 0.001;
const second = { ratedPower: 400e3, noLoadLoss: 2500, loadLoss: copper };

referenceTests('Bird', [
  value('20.13', 'equivalent resistance', () => equivalent().resistance, 0.41),
  value('20.13', 'equivalent reactance', () => equivalent().reactance, 1.64),
  value('20.13', 'equivalent impedance', () => Math.hypot(equivalent().resistance, equivalent().reactance), 1.69047),
  value('20.13', 'equivalent impedance by the chain matrix', shorted, 1.69047),
  value(
    '20.13',
    'its angle',
    () => (Math.atan2(equivalent().reactance, equivalent().resistance) * 180) / Math.PI,
    75.964,
  ),
  value('20.16', 'efficiency at full load, power factor 0.85', () => efficiencyAtLoad(first, 1, 0.85), 0.985507),
  value('20.17', 'efficiency at half load', () => efficiencyAtLoad(first, 0.5, 0.85), 0.984081),
  value('20.18', 'efficiency at full load', () => efficiencyAtLoad(second, 1, 0.85), 0.979086),
  value('20.18', 'efficiency at half load', () => efficiencyAtLoad(second, 0.5, 0.85), 0.978752),
]);
