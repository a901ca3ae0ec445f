// A discharge at constant power from one state of charge towards another, until a limit ends it.
import { atCharge, type StateOfChargeCurve } from './battery.ts';
import { type RunPoint, type TrackPoint, walk } from './socwalk.ts';

export interface Discharge {
  /** Open-circuit voltage (V) and resistance (Ω) of the whole battery. */
  readonly emf: StateOfChargeCurve;
  readonly resistance: StateOfChargeCurve;
  /** Capacity of the whole battery (C = A·s) at its state of health. */
  readonly capacity: number;
  /** Constant power at the battery terminals (W); a negative one counts as none. */
  readonly power: number;
  readonly socFrom: number;
  readonly socTo: number;
  /** Least terminal voltage (V), and largest current (A) at a state of charge. */
  readonly voltageMin: number | StateOfChargeCurve;
  readonly currentMax: StateOfChargeCurve;
  readonly timeLimit?: number;
  /** States of charge at which a curve has a kink. */
  readonly knots?: readonly number[];
  /** Also give the run point by point. */
  readonly track?: boolean;
}

/** What ended a discharge: the wanted depth, a limit, more power than the resistance lets through, or the clock. */
export type DischargeStop = 'soc' | 'voltage' | 'current' | 'power' | 'time';

export interface DischargeResult {
  /** s; without bound where the power is zero. */
  readonly time: number;
  /** At the terminals, J; chemicalEnergy = energy + losses. */
  readonly energy: number;
  readonly chemicalEnergy: number;
  readonly losses: number;
  readonly socEnd: number;
  readonly stopped: DischargeStop;
  readonly lowestVoltage: number;
  readonly highestCurrent: number;
  /** Empty unless asked for. */
  readonly track: readonly TrackPoint[];
}

type Limit = 'voltage' | 'current' | 'power';

/** Limits are met to this relative tolerance, so that a battery sized exactly to its limit is not refused. */
const slack = 1e-9;

/**
 * Runs a battery down at constant power: dsoc/dt = −I/C with I = (E − √(E² − 4·R·P)) / (2·R), as a quadrature over the
 * state of charge. It stops at the first state of charge that a limit forbids; a run forbidden at its start has time 0.
 * Where several limits forbid the same place, power is named before voltage, and voltage before current.
 * At the start of a run that can't begin because of its power, voltage and current are given as at the power peak.
 */
export function discharge(facts: Discharge): DischargeResult {
  const power = Math.max(0, facts.power);
  const run = walk<Limit>({
    at: soc => pointAt(facts, power, soc),
    capacity: facts.capacity,
    socFrom: facts.socFrom,
    socTo: Math.min(facts.socTo, facts.socFrom),
    knots: facts.knots ?? [],
    timeLimit: facts.timeLimit ?? Number.POSITIVE_INFINITY,
    track: facts.track ?? false,
  });
  return {
    time: run.time,
    energy: run.chemicalEnergy - run.losses,
    chemicalEnergy: run.chemicalEnergy,
    losses: run.losses,
    socEnd: run.socEnd,
    stopped: run.stopped,
    lowestVoltage: run.lowestVoltage,
    highestCurrent: run.highestCurrent,
    track: run.track,
  };
}

function pointAt(facts: Discharge, power: number, soc: number): RunPoint<Limit> {
  const emf = facts.emf(soc);
  const resistance = facts.resistance(soc);
  const { current, voltage, discriminant, collapsed } = loaded(emf, resistance, power);
  const stop = collapsed ? 'power' : limitAt(voltage, current, atCharge(facts.voltageMin, soc), facts.currentMax(soc));
  return { soc, emf, resistance, current, voltage, stop, regime: 0, distance: Math.max(discriminant, slack) };
}

function loaded(emf: number, resistance: number, power: number) {
  const discriminant = 1 - (4 * resistance * power) / (emf * emf);
  const root = Math.sqrt(Math.max(0, discriminant));
  const current = (2 * power) / (emf * (1 + root));
  const collapsed = !(emf > 0) || !(discriminant >= -slack);
  return { current, voltage: emf - current * resistance, discriminant, collapsed };
}

function limitAt(voltage: number, current: number, voltageMin: number, currentMax: number): Limit | undefined {
  if (voltage < voltageMin * (1 - slack)) return 'voltage';
  if (current > currentMax * (1 + slack)) return 'current';
  return undefined;
}

/** The worst that a battery shows anywhere on a span of its state of charge. */
export interface WorstOnSpan {
  /** Least open-circuit voltage and greatest lower limit of the voltage (V), greatest resistance (Ω), all strings. */
  readonly emf: number;
  readonly voltageMin: number;
  readonly resistance: number;
  /** Least current limit (A) and least capacity (C) of all strings. */
  readonly currentMax: number;
  readonly capacity: number;
}

/**
 * A time (s) that a discharge at constant power (W) lasts at least: that at the current which the worst voltage and the
 * worst resistance together would ask for, all along the span of this depth. 0 where a limit might end it.
 */
export function leastDischargeTime(worst: WorstOnSpan, power: number, depth: number): number {
  const { current, voltage, collapsed } = loaded(worst.emf, worst.resistance, power);
  if (collapsed || limitAt(voltage, current, worst.voltageMin, worst.currentMax) !== undefined) return 0;
  return (worst.capacity * depth) / current;
}
