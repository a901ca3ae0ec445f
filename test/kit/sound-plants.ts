// Sound plants by the dozen, sized by hand rules of their own: what the engine must have nothing to say against.
import {
  type BatterySize,
  chemistries,
  type Filter,
  type Frame,
  one,
  restOf,
  type Sized,
  sized,
} from './hand-rules.ts';
import type { Design, Words } from './plant-design.ts';

/** What the hand rules found, for tests that put a mistake in: SI, `per unit` of converters where it says so. */
export interface Hand {
  readonly network: number;
  /** Ratios to nominal. */
  readonly lowest: number;
  readonly highest: number;
  readonly frequency: number;
  /** No-load voltage at the converters at nominal network voltage, tap included. */
  readonly winding: number;
  /** Converter volts (line to line, rms) for one volt of direct current. */
  readonly modulation: number;
  readonly power: number;
  readonly reactive: number;
  readonly chargePower: number;
  readonly duration: number;
  readonly units: number;
  readonly batteries: number;
  /** Crest at the blocked converter. */
  readonly crest: number;
  readonly cells: number;
  /** Battery at rest at the contactors' limit, at the bottom and at the top of its span. */
  readonly floor: number;
  readonly bottom: number;
  readonly top: number;
  readonly span: readonly [number, number];
  readonly strings: number;
  /** Of a string: A·h and ohm at 25 °C. */
  readonly capacity: number;
  readonly resistance: number;
  /** Of a string, at the bottom of the span. */
  readonly stringCurrent: number;
  /** Line current of the winding per converter at the lowest network voltage, and what is left of a converter's rating. */
  readonly lineCurrent: number;
  readonly derating: number;
  readonly ratedCurrent: number;
  /** VA of one transformer at the lowest network voltage. */
  readonly neededRating: number;
  readonly rating: number;
  readonly impedance: number;
  readonly choke: number;
  readonly capacitance: number;
  readonly capacitorShare: number;
  readonly resonance: readonly [number, number];
  readonly switching: number;
}

export interface SoundPlant {
  readonly seed: number;
  readonly design: Design;
  readonly hand: Hand;
}

const count = 48;

export const soundPlants: readonly SoundPlant[] = Array.from({ length: count }, (_, seed) => soundPlant(seed));

export function number(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/** How many conductors of a cross-section (mm²) a run needs: by 1.2 A/mm² and by its drop; copper at 90 °C, 0.0225 Ω·mm²/m. */
function conductors(
  current: number,
  voltage: number,
  length: number,
  section: number,
  ways: number,
  share: number,
): number {
  const perMetre = Math.hypot(0.0225 / section, ways === 2 ? 0 : 0.00008);
  const drop = (ways * current * length * perMetre) / voltage;
  return Math.ceil(Math.max(current / (1.2 * section), drop / share));
}

function soundPlant(seed: number): SoundPlant {
  const size = sized(seed);
  const { frame, filter, battery, cells, floorSoc, modulation, crest } = size;
  const { chemistry, units } = frame;
  const [bottomSoc, topSoc] = chemistries[chemistry].span;
  const at = (soc: number): number => cells * restOf(chemistry, soc);
  const chargePower = frame.power * one([0.3, 0.5, 0.6], seed, 25);
  const hand: Hand = {
    network: frame.network,
    lowest: frame.lowest,
    highest: 1 + frame.tolerance / 100,
    frequency: frame.frequency,
    winding: frame.winding,
    modulation,
    power: frame.power,
    reactive: frame.reactive,
    chargePower,
    duration: battery.duration,
    units,
    batteries: battery.batteries,
    crest,
    cells,
    floor: at(lowestConnected(size, seed) === undefined ? bottomSoc : floorSoc),
    bottom: at(bottomSoc),
    top: at(topSoc),
    span: [bottomSoc / 100, topSoc / 100],
    strings: battery.strings,
    capacity: battery.capacity,
    resistance: battery.resistance,
    stringCurrent: battery.stringCurrent,
    lineCurrent: frame.lineCurrent,
    derating: frame.derating,
    ratedCurrent: frame.ratedCurrent,
    neededRating: frame.neededRating,
    rating: frame.rating,
    impedance: frame.impedance,
    choke: filter.choke,
    capacitance: filter.capacitance,
    capacitorShare: filter.capacitorShare,
    resonance: filter.resonance,
    switching: filter.switching,
  };
  const picked = frame.transformer && one([true, false, false, false], seed, 26);
  const { backwards } = frame;
  const discharging = dutyWords(frame, seed, hand);
  const sections = {
    site: { altitude: `${frame.altitude} m`, ambient: ambientWords(frame) },
    ...(seed % 3 === 0 && { rules: { transformer_loading: '100 %' } }),
    grid: { ...gridWords(frame), ...(seed % 4 === 0 && { distortion_limit: 'en_50160' }) },
    ...(frame.cables && { networkCable: networkCable(frame, seed), batteryCable: batteryCable(frame, battery, seed) }),
    ...(frame.transformer && { transformer: transformerWords(frame, seed, picked) }),
    filter: filterWords(filter, seed),
    converter: converterWords(frame, seed, filter, battery, at(topSoc)),
    battery: batteryWords(size, seed, chargePower),
    discharging,
    charging: { charge: `${number(chargePower / 1000)} kW${seed % 2 === 0 ? ' for 5 min every 30 min' : ''}` },
  };
  const design: Design = {
    name: `Station${seed}`,
    sections,
    arrangement: frame.arrangement,
    units,
    packs: frame.packs,
    backwards,
    throughParts: one([true, false, false], seed, 29),
    cases: frame.cases.cases,
    demands: frame.transformer ? ['require T1.loading <= 100 %'] : ['require K1.loading <= 100 %'],
  };
  return { seed, design, hand };
}

/** Where a winter case says how warm the cells are kept, the air outside may be colder than their data. */
function ambientWords({ cases, hot }: Frame): string {
  return `${'winter' in cases.cases ? -20 : 5} °C .. ${hot ? 50 : 40} °C`;
}

function gridWords(frame: Frame): Words {
  const { network, tolerance, frequency, faultPower, xOverR, overvoltage, unbalance } = frame;
  return {
    voltage: `${network} V ± ${tolerance} %`,
    frequency: `${frequency} Hz ± 1 %`,
    fault_power: `${number(faultPower / 1e6)} MVA .. ${number((2 * faultPower) / 1e6)} MVA`,
    x_over_r: String(xOverR),
    ...(overvoltage > 0 && { temporary_overvoltage: `${overvoltage} %` }),
    ...(unbalance > 0 && { unbalance: `${unbalance} %` }),
  };
}

function networkCable(frame: Frame, seed: number): Words {
  const length = one([15, 30, 50], seed, 31);
  const section = one([95, 150, 240], seed, 32);
  const current = frame.apparent / (Math.sqrt(3) * frame.network * frame.lowest);
  const parallel = conductors(current, frame.network * frame.lowest, length, section, Math.sqrt(3), 0.012);
  return { length: `${length} m`, cross_section: `${section} mm²`, parallel: String(parallel) };
}

function batteryCable(frame: Frame, battery: BatterySize, seed: number): Words {
  const length = one([5, 12, 20], seed, 33);
  const section = one([70, 120, 185], seed, 34);
  const current = (battery.current * battery.batteries) / frame.units;
  const parallel = conductors(current, battery.least, length, section, 2, 0.008);
  return { length: `${length} m`, cross_section: `${section} mm²`, parallel: String(parallel), conductor: 'copper' };
}

function transformerWords(frame: Frame, seed: number, picked: boolean): Words {
  const { network, winding, tap, rating, impedance, backwards } = frame;
  const stated = winding * (1 + tap / 100);
  const [primary, secondary] = backwards ? [stated, network] : [network, stated];
  return {
    rated_power: picked ? 'pick' : `${number(rating / 1000)} kVA`,
    primary_voltage: `${number(primary)} V`,
    secondary_voltage: `${number(secondary)} V`,
    impedance: `${number(100 * impedance)} % ± 10 %`,
    ...(picked || seed % 2 === 0
      ? { load_loss: '1.2 %', no_load_loss: '0.2 %' }
      : { load_loss: `${number(0.011 * rating)} W`, no_load_loss: `${number(0.0018 * rating)} W` }),
    ...(tap !== 0 && { tap: `${tap} %` }),
  };
}

function filterWords(filter: Filter, seed: number): Words {
  const delta = seed % 4 === 1;
  return {
    converter_inductance: `${number(1e6 * filter.choke)} µH`,
    capacitance: `${number((1e6 * filter.capacitance) / (delta ? 3 : 1))} µF`,
    ...(delta && { connection: 'delta' }),
    ...(filter.networkChoke > 0 && { network_inductance: `${number(1e6 * filter.networkChoke)} µH` }),
    ...(filter.active && { damping: 'active' }),
  };
}

function converterWords(frame: Frame, seed: number, filter: Filter, battery: BatterySize, top: number): Words {
  const rated = frame.power / frame.units;
  const direct = (battery.current * battery.batteries) / frame.units;
  const losses: readonly Words[] = [
    {},
    { efficiency: '97.5 %' },
    { efficiency: 'curve load { 0 % 70 %, 5 % 92 %, 50 % 98.2 %, 120 % 97.6 % }' },
    {
      fixed_loss: `${number(0.003 * rated)} W`,
      linear_loss: `${number((0.006 * rated) / frame.lineCurrent)} V`,
      quadratic_loss: `${number((0.009 * rated) / frame.lineCurrent ** 2)} Ω`,
    },
  ];
  return {
    ac_current: `${frame.ratedCurrent} A`,
    dc_voltage: `${Math.floor(0.97 * battery.least)} V .. ${Math.ceil(1.06 * top)} V`,
    ...(seed % 2 === 1 && { dc_trip: `${Math.ceil(1.1 * top)} V` }),
    ...(seed % 3 === 1 && { dc_current: `${Math.ceil(1.1 * direct)} A` }),
    switching_frequency: `${filter.switching / 1000} kHz`,
    ...(frame.modulation !== undefined && { modulation: frame.modulation }),
    ...(frame.arrangement === 'one_battery' && { carriers: 'synchronised' }),
    ...(frame.hot && { ambient_derating: 'curve temperature { 40 °C 100 %, 50 °C 80 % }' }),
    // Half a per cent of the fifth makes a sixth of a per cent of voltage behind a fifteenth, where 6 % is allowed.
    ...(seed % 4 === 0 && { harmonics: 'curve order { 5 0.5 %, 7 0.4 %, 11 0.1 %, 13 0.1 % }' }),
    ...one(losses, seed, 35),
  };
}

/** Not stated where no state of charge lets the diodes conduct. */
function lowestConnected({ frame, cells, floorSoc, crest }: Sized, seed: number): string | undefined {
  if (seed % 2 === 0 && cells * restOf(frame.chemistry, 0) > 1.02 * crest) return undefined;
  return seed % 5 === 2 ? `${number(cells * restOf(frame.chemistry, floorSoc))} V` : `${floorSoc} %`;
}

function batteryWords(size: Sized, seed: number, chargePower: number): Words {
  const { frame, cells, battery } = size;
  const lowest = lowestConnected(size, seed);
  const { rest, limits, span } = chemistries[frame.chemistry];
  const perCell = seed % 2 === 0;
  const points = rest.map(([soc, volts]) => `${soc} % ${number(perCell ? volts : volts * cells)} V`).join(', ');
  const ohms = (factor: number): string => `${number(factor * battery.resistance)} Ω`;
  const charge = Math.ceil(
    (1.15 * chargePower) / battery.batteries / battery.strings / (cells * restOf(frame.chemistry, span[0])),
  );
  const amperes = battery.stringCurrent;
  const byRate = `curve current { ${number(amperes / 20)} A ${number(1.25 * battery.capacity)} Ah, ${number(amperes)} A ${battery.capacity} Ah, ${number(3 * amperes)} A ${number(0.7 * battery.capacity)} Ah }`;
  return {
    chemistry: frame.chemistry,
    cells_in_series: String(cells),
    strings: String(battery.strings),
    capacity: frame.chemistry === 'lead_acid' ? byRate : `${battery.capacity} Ah`,
    open_circuit_voltage: `curve soc${perCell ? ' per cell' : ''} { ${points} }`,
    voltage_limits: `${limits[0]} V .. ${limits[1]} V per cell`,
    resistance: one(
      [
        `curve temperature { 0 °C ${ohms(1.9)}, 15 °C ${ohms(1.35)}, 25 °C ${ohms(1)}, 45 °C ${ohms(0.9)} }`,
        `curve soc, temperature { columns 0 °C, 25 °C, 45 °C   0 % ${ohms(1.9)}, ${ohms(1.05)}, ${ohms(1)}   100 % ${ohms(1.8)}, ${ohms(1)}, ${ohms(0.9)} }`,
      ],
      seed,
      36,
    ),
    soc: `${span[0]} % .. ${span[1]} %`,
    ...(lowest !== undefined && { lowest_connected: lowest }),
    discharge_current: `${Math.ceil(1.1 * battery.stringCurrent)} A`,
    charge_current:
      seed % 2 === 0
        ? `${charge} A`
        : `curve temperature { 0 °C 0 A, 15 °C ${charge} A, 25 °C ${charge} A, 45 °C ${charge} A }`,
  };
}

/** The discharge duty: its reactive power in every way of writing it, measured at the network or nearer. */
function dutyWords(frame: Frame, seed: number, hand: Hand): Words {
  const { power, powerFactor, reactive } = frame;
  const pause = 2 * ((hand.power * hand.duration) / hand.chargePower) + 3600;
  const every = seed % 3 === 2 ? ` every ${number((hand.duration + pause) / 3600)} h` : '';
  const factor: readonly Words[] = [
    { power_factor: `${powerFactor}` },
    { power_factor: `${powerFactor} delivering` },
    { power_factor: `${powerFactor} absorbing` },
    { reactive: `${number(reactive / 1000)} kvar` },
  ];
  return {
    discharge: `${number(power / 1000)} kW for ${number(hand.duration / 60)} min${every}`,
    ...one(factor, seed, 37),
    ...(seed % 4 === 3 && { at: 'MAIN' }),
  };
}
