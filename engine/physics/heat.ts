// Heat that equipment gives to its room, and the air that carries it away at an altitude.

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

/** Loss of one piece of equipment: a fixed part, and one that grows with the square of its load. */
export type HeatSource = {
  /** W, there whenever it is on. */
  readonly fixed: number;
  /** W at rated load. */
  readonly load: number;
  /** Load as a ratio of rated: its rms over the time that the room takes to warm up. */
  readonly ratio: number;
  /** Share that reaches the room; the rest leaves by water or a duct. 1 if not given. */
  readonly share?: number;
};

export type RoomHeat = {
  readonly ok: true;
  /** W: all, what is there without load, and what comes with it. */
  readonly total: number;
  readonly fixed: number;
  readonly load: number;
  /** W that leave without warming the room. */
  readonly elsewhere: number;
};

/** Heat (W) that several sources give to their room; `index` names an impossible one. */
export function roomHeat(
  sources: readonly HeatSource[],
): RoomHeat | { readonly ok: false; readonly problem: 'impossible_source'; readonly index: number } {
  const index = sources.findIndex(
    ({ fixed, load, ratio, share = 1 }) => !(fixed >= 0 && load >= 0 && ratio >= 0 && share >= 0 && share <= 1),
  );
  if (index >= 0) return { ok: false, problem: 'impossible_source', index };
  let fixed = 0;
  let load = 0;
  let elsewhere = 0;
  for (const source of sources) {
    const share = source.share ?? 1;
    const loss = source.load * source.ratio * source.ratio;
    fixed += share * source.fixed;
    load += share * loss;
    elsewhere += (1 - share) * (source.fixed + loss);
  }
  return { ok: true, total: fixed + load, fixed, load, elsewhere };
}
