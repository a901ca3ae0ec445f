// Apparent power, line current and power factor of a balanced three-phase connection.

const rootOfThree = Math.sqrt(3);

/** Three-phase apparent power (VA) = √3·U·I, from line-to-line voltage (V rms) and line current (A rms). */
export const apparentPower = (voltage: number, current: number): number => rootOfThree * voltage * current;

/** Line current (A rms) = S / (√3·U); undefined without a voltage. */
export const lineCurrent = (apparent: number, voltage: number): number | undefined =>
  voltage > 0 ? apparent / (rootOfThree * voltage) : undefined;

/** Loading as a ratio, used over rated; undefined without a rating. */
export const loading = (used: number, rated: number): number | undefined => (rated > 0 ? used / rated : undefined);
