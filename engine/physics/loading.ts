// Apparent power of a balanced three-phase connection.

/** Three-phase apparent power (VA) = √3·U·I, from line-to-line voltage (V rms) and line current (A rms). */
export const apparentPower = (voltage: number, current: number): number => Math.sqrt(3) * voltage * current;
