// The battery at one instant: current at constant power, the power that its limits leave, the state of charge of a voltage.

/** A characteristic of the battery over its state of charge (0…1). */
export type StateOfChargeCurve = (soc: number) => number;

/** A limit that is one for all states of charge, or varies with them. */
export function atCharge(limit: number | StateOfChargeCurve, soc: number): number {
  return typeof limit === 'number' ? limit : limit(soc);
}

/** Current (A) and terminal voltage (V) at a power, or the largest power (W) that the resistance lets through. */
export type ConstantPower =
  | { readonly ok: true; readonly current: number; readonly voltage: number }
  | { readonly ok: false; readonly largestPower: number };

/** What holds the power down: the current limit, the voltage limit, or the peak of I·(E − I·R) itself. */
export type PowerBinding = 'current' | 'voltage' | 'collapse';

/** The most that a battery gives or takes at one state of charge. Power (W) and current (A) are magnitudes. */
export interface AvailablePower {
  readonly power: number;
  readonly current: number;
  readonly voltage: number;
  readonly binding: PowerBinding;
}

/** A state of charge, or on which side of the curve the voltage lies. */
export type StateOfChargeAtVoltage =
  | { readonly ok: true; readonly soc: number }
  | { readonly ok: false; readonly side: 'below' | 'above' };

/**
 * Current (A) and terminal voltage (V) of a source E (V) behind R (Ω ≥ 0) at a power (W): discharge positive, charge
 * negative, the current with the same sign. I = (E − √(E² − 4·R·P)) / (2·R), the branch of the smaller current,
 * written as 2·P / (E + √(E² − 4·R·P)) so that R = 0 needs no case of its own. Derived from P = I·(E − I·R).
 * Not ok above E² / (4·R), and for an E that is not positive.
 */
export function constantPower(emf: number, resistance: number, power: number): ConstantPower {
  const current = currentAtPower(emf, resistance, power);
  if (Number.isNaN(current)) return { ok: false, largestPower: largestPower(emf, resistance) };
  return { ok: true, current, voltage: emf - current * resistance };
}

/** The current (A) alone, as `constantPower` has it; NaN where no current delivers the power. */
export function currentAtPower(emf: number, resistance: number, power: number): number {
  const discriminant = emf * emf - 4 * resistance * power;
  return emf > 0 && discriminant >= 0 ? (2 * power) / (emf + Math.sqrt(discriminant)) : Number.NaN;
}

/** E² / (4·R) (W), without bound where R = 0, zero for an E (V) that is not positive. */
export function largestPower(emf: number, resistance: number): number {
  if (!(emf > 0)) return 0;
  return resistance > 0 ? (emf * emf) / (4 * resistance) : Number.POSITIVE_INFINITY;
}

/** Largest discharge power (W) at one instant within the current limit (A) and the least terminal voltage (V). */
export function availableDischargePower(facts: {
  readonly emf: number;
  readonly resistance: number;
  readonly voltageMin: number;
  readonly currentLimit: number;
}): AvailablePower {
  const { emf, resistance, currentLimit } = facts;
  const byVoltage = currentAtDrop(emf - facts.voltageMin, resistance);
  const byCollapse = currentAtDrop(emf / 2, resistance);
  const current = Math.max(0, Math.min(currentLimit, byVoltage, byCollapse));
  const binding = bindingOf(currentLimit, byVoltage, byCollapse);
  const voltage = emf - flow(current, resistance);
  return { power: flow(current, voltage), current, voltage, binding };
}

/**
 * The lowest state of charge (0…1) whose open-circuit voltage reaches `volts`, for a curve that never falls.
 * Not ok where the voltage lies below the curve's value at 0 or above that at 1.
 */
export function socAtVoltage(emf: StateOfChargeCurve, volts: number): StateOfChargeAtVoltage {
  const empty = emf(0);
  if (!(volts >= empty)) return { ok: false, side: 'below' };
  if (volts > emf(1)) return { ok: false, side: 'above' };
  if (volts === empty) return { ok: true, soc: 0 };
  let low = 0;
  let high = 1;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (emf(middle) < volts) low = middle;
    else high = middle;
  }
  return { ok: true, soc: high };
}

/** The current that drops `drop` volts over the resistance; none if there is nothing to drop. */
function currentAtDrop(drop: number, resistance: number): number {
  if (!(drop > 0)) return 0;
  return resistance > 0 ? drop / resistance : Number.POSITIVE_INFINITY;
}

function bindingOf(current: number, byVoltage: number, byCollapse: number): PowerBinding {
  if (current <= byVoltage && current <= byCollapse) return 'current';
  return byVoltage <= byCollapse ? 'voltage' : 'collapse';
}

/** A product in which nothing times without bound is nothing. */
function flow(current: number, factor: number): number {
  return current === 0 || factor === 0 ? 0 : current * factor;
}
