// Least short-circuit impedance of transformers with two separate windings, by rated power.

import type { Citation } from './evidence.ts';

export const minimumImpedanceSource: Citation = { source: 'IEC 60076-5, Table 1', evidence: 'from memory' };

/** Rated power up to and including (VA), least impedance (ratio). */
export const minimumImpedances: readonly { readonly upTo: number; readonly impedance: number }[] = [
  { upTo: 630e3, impedance: 0.04 },
  { upTo: 1250e3, impedance: 0.05 },
  { upTo: 2500e3, impedance: 0.06 },
  { upTo: 6300e3, impedance: 0.07 },
  { upTo: 25e6, impedance: 0.08 },
  { upTo: 40e6, impedance: 0.1 },
  { upTo: 63e6, impedance: 0.11 },
  { upTo: 100e6, impedance: 0.125 },
];

/** Least impedance (ratio) for a rated power (VA); above 100 MVA the table only says "more than 12.5 %": undefined. */
export const minimumImpedance = (ratedPower: number): number | undefined =>
  ratedPower > 0 ? minimumImpedances.find(row => ratedPower <= row.upTo)?.impedance : undefined;
