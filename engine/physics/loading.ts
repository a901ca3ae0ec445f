// Apparent power, line current and power factor of a balanced three-phase connection.

const rootOfThree = Math.sqrt(3);

/** Three-phase apparent power (VA) = √3·U·I, from line-to-line voltage (V rms) and line current (A rms). */
export const apparentPower = (voltage: number, current: number): number => rootOfThree * voltage * current;

/** Apparent power (VA) = √(P² + Q²), from W and var. */
export const apparentFromParts = (activePower: number, reactivePower: number): number =>
  Math.hypot(activePower, reactivePower);

/** Line current (A rms) = S / (√3·U); undefined without a voltage. */
export const lineCurrent = (apparent: number, voltage: number): number | undefined =>
  voltage > 0 ? apparent / (rootOfThree * voltage) : undefined;

/**
 * Magnitude of the reactive power (var) that goes with an active power (W) at a power factor (0 < cos φ <= 1);
 * undefined for a power factor outside that. The sign is the caller's: delivered to the network is positive.
 */
export function reactivePowerAt(activePower: number, powerFactor: number): number | undefined {
  if (!(powerFactor > 0 && powerFactor <= 1)) return undefined;
  return (Math.abs(activePower) * Math.sqrt(1 - powerFactor * powerFactor)) / powerFactor;
}

/** Loading as a ratio, used over rated; undefined without a rating. */
export const loading = (used: number, rated: number): number | undefined => (rated > 0 ? used / rated : undefined);
