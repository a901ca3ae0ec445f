// The air that carries heat away at an altitude.

/** Of dry air near room temperature, J/(kg·K), J/(kg·K), from memory. */
export const specificHeatOfAir = 1006;
export const gasConstantOfAir = 287.053;

// The standard atmosphere of ISO 2533, up to 11 km, from memory.
const seaLevelPressure = 101_325;
const seaLevelTemperature = 288.15;
const lapse = 0.0065;
const gravity = 9.80665;
/** The standard atmosphere changes its law here, m. */
const tropopause = 11_000;

/** Pressure (Pa) of the standard atmosphere at an altitude (m), −2000 m to 11 km; undefined outside. */
export function standardPressure(altitude: number): number | undefined {
  if (!isInLowestLayer(altitude)) return undefined;
  const exponent = gravity / (gasConstantOfAir * lapse);
  return seaLevelPressure * (1 - (lapse * altitude) / seaLevelTemperature) ** exponent;
}

/** Temperature (K) of the standard atmosphere at an altitude (m); undefined outside its lowest layer. */
export const standardTemperature = (altitude: number): number | undefined =>
  isInLowestLayer(altitude) ? seaLevelTemperature - lapse * altitude : undefined;

const isInLowestLayer = (altitude: number): boolean => altitude >= -2000 && altitude <= tropopause;

/** Density (kg/m³) of dry air at an altitude (m) and its own temperature (K): p/(R·T). */
export function airDensity(altitude: number, temperature: number): number | undefined {
  const pressure = standardPressure(altitude);
  return pressure !== undefined && temperature > 0 ? pressure / (gasConstantOfAir * temperature) : undefined;
}

export type AirStream = {
  /** m above sea level. */
  readonly altitude: number;
  /** Temperature (K) of the air where its flow is measured: at the inlet, if the fan blows in. */
  readonly temperature: number;
};

/** Flow of air (m³/s) that carries heat (W) away with a temperature rise (K): P/(ρ·c·ΔT). */
export function airFlow(heat: number, rise: number, air: AirStream): number | undefined {
  const density = airDensity(air.altitude, air.temperature);
  return density !== undefined && heat >= 0 && rise > 0 ? heat / (density * specificHeatOfAir * rise) : undefined;
}
