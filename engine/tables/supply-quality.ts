// How far voltage, frequency and symmetry of a supply may stray, by standard.

import type { Citation } from './evidence.ts';

/** Ratios of the nominal value, the lower one negative. */
export type Band = { readonly low: number; readonly high: number };

export type BandRow = {
  readonly band: Band;
  /** When it holds: the share of time, or for how long, in plain words. */
  readonly holds: string;
  readonly source: Citation;
};

const either = (ratio: number): Band => ({ low: -ratio, high: ratio });
const en50160 = (evidence: Citation['evidence']): Citation => ({
  source: evidence === 'seen in source' ? 'EN 50160, low voltage; read in a discussion of the standard' : 'EN 50160',
  evidence,
});
const industrial: Citation = { source: 'IEC 61000-2-4', evidence: 'from memory' };
const shipboard: Citation = { source: 'IACS UR E5 (Rev.1 2005)', evidence: 'from memory' };

/** Public low-voltage network. */
export const publicSupply = {
  voltage: { band: either(0.1), holds: '95 % of the 10-minute means of a week', source: en50160('seen in source') },
  voltageAlways: { band: { low: -0.15, high: 0.1 }, holds: 'always', source: en50160('seen in source') },
  frequency: {
    band: either(0.01),
    holds: '99.5 % of a year, means of 10 s, interconnected network',
    source: en50160('from memory'),
  },
} as const satisfies Readonly<Record<string, BandRow>>;

export type IndustrialSupply = {
  readonly voltage: Band;
  /** Negative- over positive-sequence voltage. */
  readonly unbalance: number;
  readonly frequency: Band;
  readonly source: Citation;
};

/** Industrial networks by class; the third's frequency band widens to 4 % where it is isolated from public networks. */
export const industrialSupply: Readonly<Record<1 | 2 | 3, IndustrialSupply>> = {
  1: { voltage: either(0.08), unbalance: 0.02, frequency: either(0.01), source: industrial },
  2: { voltage: either(0.1), unbalance: 0.02, frequency: either(0.01), source: industrial },
  3: { voltage: { low: -0.15, high: 0.1 }, unbalance: 0.03, frequency: either(0.01), source: industrial },
};
export const isolatedIndustrialFrequency: Band = either(0.04);

/** On board a ship. */
export const shipSupply = {
  voltage: { band: { low: -0.1, high: 0.06 }, holds: 'permanently', source: shipboard },
  voltageTransient: { band: either(0.2), holds: 'for 1.5 s', source: shipboard },
  frequency: { band: either(0.05), holds: 'permanently', source: shipboard },
  frequencyTransient: { band: either(0.1), holds: 'for 5 s', source: shipboard },
  directVoltage: { band: either(0.1), holds: 'continuously', source: shipboard },
  batteryWhileCharging: {
    band: { low: -0.25, high: 0.3 },
    holds: 'fed by a battery that stays connected during charge',
    source: shipboard,
  },
  batteryNotCharging: {
    band: { low: -0.25, high: 0.2 },
    holds: 'fed by a battery that is not connected during charge',
    source: shipboard,
  },
} as const satisfies Readonly<Record<string, BandRow>>;

/** Cyclic variation and ripple of a ship's direct voltage, ratios of its mean. */
export const shipDirectVoltage = { cyclic: 0.05, ripple: 0.1, source: shipboard } as const;
