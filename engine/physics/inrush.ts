// The current rush of a transformer that is switched on, how it dies away, and the voltage dip that it makes.
//
// An order of magnitude: the true figure hangs on remanence, the instant of switching and the core. The maker's wins.

import type { Citation } from '../tables/evidence.ts';
import type { Impedance } from './ladder.ts';
import { inrushPeak } from './transformer.ts';

/** First peak over the rated current's peak where nothing is stated: the usual band, and what is taken. */
export const customaryPeak = {
  from: 8,
  to: 12,
  taken: 10,
  source: '8 to 12 times the peak of the rated current',
  evidence: 'common practice, no source',
} as const satisfies Citation & Readonly<Record<'from' | 'to' | 'taken', number>>;

/**
 * The fundamental of the rush over its peak. In each period the core saturates on one side only, for at most half of
 * it: a half sine, whose fundamental is half its peak. Narrower pulses have less.
 */
export const fundamentalShare = 0.5;

/** For how long a converter has to carry the rush before it has died away far enough, s. */
export const customaryRushTime = {
  taken: 1,
  source: 'dies away in tenths of a second to seconds',
  evidence: 'common practice, no source',
} as const satisfies Citation & Readonly<Record<'taken', number>>;

export type InrushFacts = {
  /** VA. */
  readonly ratedPower: number;
  /** Line-to-line voltage of the winding that is switched on, V. */
  readonly voltage: number;
  /** First peak behind a stiff network over the peak of the rated current; 10 if not given. */
  readonly multiple?: number;
  /** Network on the side that is switched, ohm per phase; none means stiff. */
  readonly network?: Impedance;
  /** Between the connection point and the transformer, ohm per phase: lowers the rush, and keeps up the connection. */
  readonly line?: Impedance;
};

export type Inrush = {
  readonly ok: true;
  /** A, and the multiple of rated peak current that the network's impedance leaves. */
  readonly peak: number;
  readonly multiple: number;
  /** Fundamental of the first period, A rms. */
  readonly fundamental: number;
  /** Fall of the voltage's fundamental at the transformer as a ratio, at first. */
  readonly dip: number;
  /** The same at the connection point, in front of the line. */
  readonly connectionDip: number;
  /** Fall at the instant of the peak, as a ratio of the voltage's peak: distorts the half wave, hence the larger one. */
  readonly dipAtPeak: number;
};

export type InrushProblem = { readonly ok: false; readonly problem: 'impossible_input' };

/**
 * First peak and the dip at the terminals. The saturated transformer is taken as the reactance that gives its stated
 * multiple behind a stiff network, X = Z_rated/multiple; for the fundamental twice that (see `fundamentalShare`). The
 * network's impedance stands in series, so it lowers the rush and takes its share of the voltage.
 */
export function inrush(facts: InrushFacts): Inrush | InrushProblem {
  const { ratedPower, voltage, multiple = customaryPeak.taken } = facts;
  const none = { resistance: 0, reactance: 0 };
  const { network = none, line = none } = facts;
  const resistance = network.resistance + line.resistance;
  const reactance = network.reactance + line.reactance;
  const stiff = inrushPeak(ratedPower, voltage, multiple);
  const each = [network.resistance, network.reactance, line.resistance, line.reactance];
  if (stiff === undefined || !(ratedPower > 0 && multiple > 0 && each.every(value => value >= 0))) {
    return { ok: false, problem: 'impossible_input' };
  }
  const saturated = (voltage * voltage) / ratedPower / multiple;
  const atPeak = keptVoltage(saturated, resistance, reactance);
  const atFundamentalReactance = saturated / fundamentalShare;
  const atFundamental = keptVoltage(atFundamentalReactance, resistance, reactance);
  if (!Number.isFinite(saturated + stiff)) return { ok: false, problem: 'impossible_input' };
  return {
    ok: true,
    peak: stiff * atPeak,
    multiple: multiple * atPeak,
    fundamental: (stiff * fundamentalShare * atFundamental) / Math.SQRT2,
    dip: 1 - atFundamental,
    connectionDip:
      1 -
      (atFundamental * Math.hypot(line.resistance, atFundamentalReactance + line.reactance)) / atFundamentalReactance,
    dipAtPeak: 1 - atPeak,
  };
}

const keptVoltage = (saturated: number, resistance: number, reactance: number): number =>
  saturated / Math.hypot(resistance, saturated + reactance);
