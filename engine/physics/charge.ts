// A charge at limited current or power until the voltage limit, then at constant voltage with a tapering current.
import { atCharge, type StateOfChargeCurve } from './battery.ts';
import { type RunPoint, type TrackPoint, walk } from './socwalk.ts';

export interface Charge {
  /** Open-circuit voltage (V) and resistance (Ω) of the whole battery. */
  readonly emf: StateOfChargeCurve;
  readonly resistance: StateOfChargeCurve;
  /** Capacity of the whole battery (C = A·s) at its state of health. */
  readonly capacity: number;
  /** Power asked for at the battery terminals (W, a magnitude); without it the battery takes what its limits allow. */
  readonly power?: number;
  /** Power that the source can't exceed (W, a magnitude); the smaller of the two counts. */
  readonly powerLimit?: number;
  /** Largest charge current (A) at a state of charge, and highest terminal voltage (V). */
  readonly currentLimit: StateOfChargeCurve;
  readonly voltageMax: number | StateOfChargeCurve;
  readonly socFrom: number;
  readonly socTo: number;
  /** Current (A) to which the taper may fall; default a hundredth of the capacity in one hour (common practice, no source). */
  readonly tailCurrent?: number;
  readonly timeLimit?: number;
  readonly knots?: readonly number[];
  readonly track?: boolean;
}

/** What ended a charge: full as wanted, tapered down to the tail current, no current or power allowed, or the clock. */
export type ChargeStop = 'soc' | 'tail' | 'current' | 'time';

/** Which law set the current over a stretch of the charge. */
export type ChargeLaw = 'current' | 'power' | 'voltage';

export interface ChargePhase {
  readonly law: ChargeLaw;
  readonly socFrom: number;
  readonly socTo: number;
  readonly time: number;
}

export interface ChargeResult {
  /** s. */
  readonly time: number;
  /** Taken at the terminals, J; energy = chemicalEnergy + losses. */
  readonly energy: number;
  readonly chemicalEnergy: number;
  readonly losses: number;
  readonly socEnd: number;
  readonly stopped: ChargeStop;
  /** Stretches in order; neighbouring stretches differ in law. */
  readonly phases: readonly ChargePhase[];
  /** Where the voltage limit first takes over, if it does. */
  readonly taper: { readonly soc: number; readonly time: number } | undefined;
  readonly highestVoltage: number;
  readonly highestCurrent: number;
  /** Empty unless asked for. */
  readonly track: readonly TrackPoint[];
}

type Stop = 'tail' | 'current';

const laws = ['current', 'power', 'voltage'] as const;

/**
 * Charges a battery with the least of three currents: the limit, the one that makes the power, and the one that brings
 * the terminals to the voltage limit, (Umax − E) / R. dsoc/dt = I/C as a quadrature over the state of charge. Where the
 * open-circuit voltage nears the limit the time grows without bound: the tail current ends the charge before.
 */
export function charge(facts: Charge): ChargeResult {
  const power = Math.min(facts.power ?? Number.POSITIVE_INFINITY, facts.powerLimit ?? Number.POSITIVE_INFINITY);
  const tail = facts.tailCurrent ?? facts.capacity / 360_000;
  const phases: { law: ChargeLaw; socFrom: number; socTo: number; time: number }[] = [];
  const run = walk<Stop>({
    at: soc => pointAt(facts, power, tail, soc),
    capacity: facts.capacity,
    socFrom: facts.socFrom,
    socTo: Math.max(facts.socTo, facts.socFrom),
    knots: facts.knots ?? [],
    timeLimit: facts.timeLimit ?? Number.POSITIVE_INFINITY,
    track: facts.track ?? false,
    onPiece: (start, end, time, regime) => {
      const law = laws[regime] ?? 'current';
      const last = phases.at(-1);
      if (last?.law !== law) phases.push({ law, socFrom: start, socTo: end, time });
      else phases[phases.length - 1] = { law, socFrom: last.socFrom, socTo: end, time: last.time + time };
    },
  });
  return {
    time: run.time,
    energy: run.chemicalEnergy + run.losses,
    chemicalEnergy: run.chemicalEnergy,
    losses: run.losses,
    socEnd: run.socEnd,
    stopped: run.stopped,
    phases,
    taper: taperOf(phases),
    highestVoltage: run.highestVoltage,
    highestCurrent: run.highestCurrent,
    track: run.track,
  };
}

function pointAt(facts: Charge, power: number, tail: number, soc: number): RunPoint<Stop> {
  const emf = facts.emf(soc);
  const resistance = facts.resistance(soc);
  const byLimit = Math.max(0, facts.currentLimit(soc));
  const byPower = powerCurrent(emf, resistance, power);
  const byVoltage = voltageCurrent(atCharge(facts.voltageMax, soc) - emf, resistance);
  const current = Math.min(byLimit, byPower, byVoltage);
  const regime = current === byVoltage ? 2 : current === byPower ? 1 : 0;
  const voltage = emf + current * resistance;
  const least = regime === 2 ? tail * (1 - 1e-9) : 0;
  const stop = current > least ? undefined : regime === 2 ? 'tail' : 'current';
  return { soc, emf, resistance, current, voltage, stop, regime, distance: Math.max(current, Number.MIN_VALUE) };
}

/** I = (−E + √(E² + 4·R·P)) / (2·R), in the form that holds for R = 0 too. */
function powerCurrent(emf: number, resistance: number, power: number): number {
  if (power === Number.POSITIVE_INFINITY) return Number.POSITIVE_INFINITY;
  return (2 * power) / (emf + Math.sqrt(emf * emf + 4 * resistance * power));
}

function voltageCurrent(drop: number, resistance: number): number {
  if (!(drop > 0)) return 0;
  return resistance > 0 ? drop / resistance : Number.POSITIVE_INFINITY;
}

function taperOf(phases: readonly ChargePhase[]): { soc: number; time: number } | undefined {
  let time = 0;
  for (const phase of phases) {
    if (phase.law === 'voltage') return { soc: phase.socFrom, time };
    time += phase.time;
  }
  return undefined;
}
