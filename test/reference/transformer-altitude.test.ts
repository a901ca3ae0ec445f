// Transformers above 1000 m: what the standards leave of the rise, and what that makes of the current, against other rules.

import { currentForRise, dryTransformerRise, liquidTransformerRise } from '../../engine/physics/derating.ts';
import { referenceTests } from '../kit/reference.ts';

const dry = { source: 'IEC 60076-11, installation above 1000 m', evidence: 'from memory', tolerance: 1e-9 } as const;
const liquid = {
  source: 'IEC 60076-2, installation above 1000 m: 1 K for 400 m or 250 m, of 65 K',
  evidence: 'from memory',
  tolerance: 1e-9,
} as const;
/** Another road to the same: a rule of thumb for the rated power, not the rise. Two rules, so 1 % and 3 %. */
const american = {
  source: 'IEEE C57.96 (dry, natural air: 0.3 % of the rated power for each 100 m)',
  evidence: 'from memory',
  tolerance: 0.01,
} as const;
const americanLiquid = {
  source: 'IEEE C57.91 (liquid, natural air: 0.4 % of the rated power for each 100 m)',
  evidence: 'from memory',
  tolerance: 0.03,
} as const;

referenceTests('rise that altitude leaves', [
  { name: 'dry, 1000 m', ...dry, actual: () => dryTransformerRise(1000, 'natural'), expected: 1 },
  { name: 'dry, natural air, 1500 m', ...dry, actual: () => dryTransformerRise(1500, 'natural'), expected: 0.975 },
  { name: 'dry, forced air, 3000 m', ...dry, actual: () => dryTransformerRise(3000, 'forced'), expected: 0.8 },
  {
    name: 'liquid, natural, 3000 m',
    ...liquid,
    actual: () => liquidTransformerRise(3000, 'natural'),
    expected: 60 / 65,
  },
  { name: 'liquid, fans, 2000 m', ...liquid, actual: () => liquidTransformerRise(2000, 'forced'), expected: 61 / 65 },
]);

referenceTests('current that altitude leaves, beside a rule for the power', [
  ...[1500, 2000, 3000].map(metres => ({
    name: `dry, ${metres} m`,
    ...american,
    actual: () => currentForRise(dryTransformerRise(metres, 'natural')),
    expected: 1 - (0.003 * (metres - 1000)) / 100,
  })),
  ...[1500, 2000].map(metres => ({
    name: `liquid, ${metres} m`,
    ...americanLiquid,
    actual: () => currentForRise(liquidTransformerRise(metres, 'natural')),
    expected: 1 - (0.004 * (metres - 1000)) / 100,
  })),
]);
