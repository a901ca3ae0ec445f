// Hand rules by which sound plants are sized from a seed: circuit theory rounded to the safe side, none of the engine's modules.
//
// Reserves and densities without a standard behind them are common practice, no source. All data are invented.
import type { Design, Words } from './plant-design.ts';

/** Rest voltage of a cell over the state of charge, limits under load, span, hours of the usual discharge current. */
export const chemistries = {
  lfp: {
    rest: [
      [0, 2.6],
      [5, 3.05],
      [10, 3.2],
      [50, 3.29],
      [90, 3.34],
      [100, 3.4],
    ],
    limits: [2.5, 3.65],
    span: [10, 90],
    rate: 1,
  },
  nmc: {
    rest: [
      [0, 3.3],
      [10, 3.5],
      [30, 3.62],
      [50, 3.7],
      [80, 3.95],
      [100, 4.15],
    ],
    limits: [3, 4.2],
    span: [10, 85],
    rate: 1.5,
  },
  lead_acid: {
    rest: [
      [0, 1.94],
      [30, 2.01],
      [60, 2.06],
      [100, 2.13],
    ],
    limits: [1.75, 2.4],
    span: [30, 95],
    rate: 0.5,
  },
} as const;

type Chemistry = keyof typeof chemistries;

const preferred = [10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80];

/** Every preferred rating (ISO 3, series R10, from memory), VA. */
export const ratings: readonly number[] = [1e3, 1e4, 1e5, 1e6].flatMap(decade =>
  preferred.map(value => Math.round(value * decade)),
);

/** One of a list, by seed and salt: the same in every run, and without a pattern (integer mixing by shifts and odd factors). */
export function one<T>(list: readonly T[], seed: number, salt: number): T {
  let state = Math.imul(seed + 1, 0x9e3779b1) ^ Math.imul(salt + 1, 0x85ebca6b);
  for (const factor of [0x7feb352d, 0x846ca68b]) state = Math.imul(state ^ (state >>> 15), factor);
  return list[((state ^ (state >>> 16)) >>> 0) % list.length]!;
}

/** Share of its voltage that a battery loses at full discharge while warm and new; a cable's may come on top. */
const sagNew = 0.02;

const cold: Words = { temperature: '15 °C' };
const worn: Words = { state_of_health: '80 %', resistance: '1.5 * @.resistance' };

/** Sets of cases, each with how often the resistance counts in the worst of them: 1.35 in the cold, 1.5 when worn. */
const caseSets: readonly { readonly cases: Design['cases']; readonly factor: number }[] = [
  { cases: {}, factor: 1 },
  { cases: { worn }, factor: 1.5 },
  { cases: { winter: cold, worn }, factor: 1.5 },
  { cases: { worn_winter: { ...cold, ...worn } }, factor: 2.05 },
];

/** Sag in the worst case; a lower voltage than in the middle of the span needs more current, some per cent. */
function sagOf(frame: Frame): number {
  return sagNew * frame.cases.factor * 1.1 + (frame.cables ? 0.008 : 0);
}

interface Choice {
  readonly network: number;
  readonly tolerance: number;
  readonly frequency: number;
  readonly power: number;
  readonly powerFactor: number;
  readonly chemistry: Chemistry;
  readonly units: number;
  /** Batteries side by side on the one converter of a line. */
  readonly packs: number;
  readonly arrangement: Design['arrangement'];
  readonly transformer: boolean;
  readonly ratio: number;
  readonly tap: number;
  /** The transformer's primary looks to the converter; a tap would then be on that side, and is left out. */
  readonly backwards: boolean;
  readonly overvoltage: number;
  readonly unbalance: number;
  readonly altitude: number;
  readonly modulation: 'space_vector' | 'third_harmonic' | 'sine' | undefined;
  readonly impedance: number;
  readonly cables: boolean;
  /** Cooling air up to 50 °C, at which the converter's maker leaves four fifths of the current. */
  readonly hot: boolean;
  readonly cases: (typeof caseSets)[number];
}

function choose(seed: number): Choice {
  const arrangement = one(['line', 'line', 'units', 'one_battery', 'branches'] as const, seed, 1);
  const transformer = arrangement === 'branches' || one([true, true, true, false], seed, 2);
  const backwards = transformer && one([true, false, false, false, false], seed, 27);
  const frequency = one([50, 60], seed, 3);
  return {
    network: one(frequency === 50 ? [230, 400, 415, 500, 690, 1000] : [230, 440, 480, 600, 690, 1000], seed, 4),
    tolerance: one([5, 6, 8, 10], seed, 5),
    frequency,
    power: one([30e3, 60e3, 120e3, 250e3, 400e3, 750e3, 1.2e6, 2.5e6, 5e6], seed, 6),
    powerFactor: one([1, 0.98, 0.95, 0.9], seed, 7),
    chemistry: one(['lfp', 'nmc', 'lead_acid'] as const, seed, 8),
    arrangement,
    units: arrangement === 'line' ? 1 : one([2, 3, 4], seed, 9),
    packs: arrangement === 'line' ? one([1, 1, 2, 3], seed, 31) : 1,
    transformer,
    ratio: one([0.45, 0.7, 0.85, 0.9, 1], seed, 10),
    tap: transformer && !backwards ? one([0, 0, -2.5, 2.5], seed, 11) : 0,
    backwards,
    overvoltage: one([0, 0, 112, 115], seed, 12),
    unbalance: one([0, 0, 1, 2], seed, 13),
    altitude: one([0, 300, 900, 1400, 1920], seed, 14),
    modulation: one([undefined, 'space_vector', 'third_harmonic', 'sine'] as const, seed, 15),
    impedance: one([0.04, 0.05, 0.06, 0.08], seed, 16),
    cables: one([true, true, false], seed, 17),
    hot: one([true, false, false, false], seed, 18),
    cases: one(caseSets, seed, 30),
  };
}

export function restOf(chemistry: Chemistry, percent: number): number {
  const { rest } = chemistries[chemistry];
  const index = Math.max(
    1,
    rest.findIndex(([soc]) => soc >= percent),
  );
  const [from, low] = rest[index - 1]!;
  const [to, high] = rest[index]!;
  return low + ((high - low) * (percent - from)) / (to - from);
}

/** What all rules are made of. */
export interface Frame extends Choice {
  readonly reactive: number;
  readonly apparent: number;
  readonly winding: number;
  readonly lowest: number;
  readonly highest: number;
  readonly faultPower: number;
  readonly xOverR: number;
  readonly rating: number;
  readonly neededRating: number;
  readonly lineCurrent: number;
  readonly derating: number;
  readonly ratedCurrent: number;
}

function frameOf(choice: Choice, seed: number): Frame {
  const { network, power, powerFactor, tolerance, units, tap, ratio, transformer } = choice;
  const apparent = power / powerFactor;
  const reactive = Math.sqrt(Math.max(0, apparent ** 2 - power ** 2));
  const lowest = 1 - tolerance / 100;
  const winding = (transformer ? Math.round(network * ratio) : network) / (1 + tap / 100);
  // ΔU = (R·ΔP + X·ΔQ) / U², to be 2.2 % at most: the network's sine and cosine at the connection.
  const xOverR = one([3, 5, 8, 10], seed, 20);
  const size = Math.hypot(1, xOverR);
  const faultPower =
    Math.max(15 * apparent, (power / size + (reactive * xOverR) / size) / 0.022) * one([1, 1.5, 3], seed, 21);
  const transformers = choice.arrangement === 'branches' ? units : 1;
  const neededRating = ((apparent / transformers) * (1 + Math.max(0, tap / 100))) / lowest;
  const rating = ratings.find(value => value >= 1.07 * neededRating)!;
  const lineCurrent = apparent / units / (Math.sqrt(3) * winding * lowest);
  const derating = (1 - Math.max(0, choice.altitude - 1000) / 10_000) * (choice.hot ? 0.8 : 1);
  // The capacitor's current, up to 4 % of the rating, may add to the line's.
  const ratedCurrent = Math.ceil((1.08 * lineCurrent) / 0.95 / derating);
  const highest = Math.max(1 + tolerance / 100, choice.overvoltage / 100) * (1 + choice.unbalance / 100);
  return {
    ...choice,
    apparent,
    reactive,
    lowest,
    winding,
    xOverR,
    faultPower,
    neededRating,
    rating,
    lineCurrent,
    derating,
    ratedCurrent,
    highest,
  };
}

export interface Filter {
  readonly switching: number;
  readonly capacitorShare: number;
  readonly choke: number;
  readonly networkChoke: number;
  readonly capacitance: number;
  readonly resonance: readonly [number, number];
  readonly active: boolean;
}

/** Reactances between network and capacitor as one converter sees them, ohm: of the transformer and of the network. */
function reactances(frame: Frame): { transformer: number; network: number } {
  const { winding, units, faultPower, rating, impedance, arrangement, transformer } = frame;
  const passing = arrangement === 'branches' ? 1 : units;
  return {
    transformer: transformer ? (impedance * winding ** 2 * passing) / rating : 0,
    network: (winding ** 2 * units) / faultPower,
  };
}

/** Choke for a quarter of ripple, then switching frequency and capacitor until the resonance lies well inside its band. */
function filterFor(frame: Frame, highestDirect: number): Filter {
  const { winding, frequency, ratedCurrent, transformer, units, apparent } = frame;
  const omega = 2 * Math.PI * frequency;
  const before = reactances(frame);
  const networkChoke = transformer ? 0 : (0.03 * winding ** 2 * units) / apparent / omega;
  let last: Filter | undefined;
  for (const switching of [4e3, 3e3, 5e3, 6e3, 8e3, 10e3, 12e3])
    for (const capacitorShare of [0.025, 0.03, 0.02, 0.035, 0.015]) {
      const choke = highestDirect / (6 * switching * 0.25 * Math.SQRT2 * ratedCurrent);
      const capacitance = (capacitorShare * Math.sqrt(3) * ratedCurrent) / (omega * winding);
      const at = (network: number): number => {
        const behind = (before.transformer + network) / omega + networkChoke;
        return Math.sqrt((choke + behind) / (choke * behind * capacitance)) / (2 * Math.PI);
      };
      const resonance = [at(before.network), at(before.network / 2)] as const;
      const inside = resonance[0] > 11.5 * frequency && resonance[1] < 0.46 * switching;
      last = { switching, capacitorShare, choke, networkChoke, capacitance, resonance, active: !inside };
      if (inside) return last;
    }
  return last!;
}

/** Crest at the blocked converter, all tolerances together: ratio half a per cent low, impedance a tenth high. */
function crestOf(frame: Frame, filter: Filter): number {
  const omega = 2 * Math.PI * frame.frequency;
  const { transformer, network } = reactances(frame);
  const reactance = 1.1 * transformer + network + omega * filter.networkChoke;
  const rise = 1 / (1 - reactance * omega * filter.capacitance);
  return (Math.SQRT2 * frame.winding * frame.highest * rise * 1.005) / (frame.transformer ? 0.995 : 1);
}

/** Voltage that a converter must make at the highest network voltage, delivering all reactive power. */
function neededVoltage(frame: Frame, filter: Filter): number {
  const { winding, tolerance, units, apparent, powerFactor, frequency } = frame;
  const voltage = 1 + tolerance / 100;
  const base = (winding ** 2 * units) / apparent;
  const omega = 2 * Math.PI * frequency;
  const x = (reactances(frame).transformer + omega * (filter.networkChoke + filter.choke)) / base;
  const sine = Math.sqrt(1 - powerFactor ** 2);
  const r = 0.03;
  const along = voltage + (x * sine + r * powerFactor) / voltage;
  const across = (x * powerFactor) / voltage;
  return winding * (Math.hypot(along, across) + 0.01);
}

export interface BatterySize {
  readonly batteries: number;
  readonly duration: number;
  /** Lowest voltage under load, V, and the current of one battery there. */
  readonly least: number;
  readonly current: number;
  readonly strings: number;
  /** Of a string: A·h, ohm at 25 °C, A. */
  readonly capacity: number;
  readonly resistance: number;
  readonly stringCurrent: number;
}

export interface Sized {
  readonly frame: Frame;
  readonly filter: Filter;
  readonly battery: BatterySize;
  readonly cells: number;
  /** Per cent at which the contactors open at the latest. */
  readonly floorSoc: number;
  readonly modulation: number;
  readonly crest: number;
}

export function sized(seed: number): Sized {
  const frame = frameOf(choose(seed), seed);
  const chemistry = chemistries[frame.chemistry];
  const [bottomSoc, topSoc] = chemistry.span;
  const floorSoc = one([0, 5, bottomSoc], seed, 22);
  const k = frame.modulation === 'sine' ? Math.sqrt(3) / (2 * Math.SQRT2) : Math.SQRT1_2;
  const cell = (soc: number): number => restOf(frame.chemistry, soc);
  let cells = Math.ceil((1.2 * Math.SQRT2 * frame.winding) / cell(bottomSoc));
  let filter = filterFor(frame, 1.05 * cells * cell(topSoc));
  for (let round = 0; round < 12; round++) {
    const crest = crestOf(frame, filter);
    const loaded = cell(bottomSoc) * (1 - sagOf(frame));
    cells = Math.ceil(
      Math.max(
        (1.045 * crest) / cell(floorSoc),
        (1.02 * crest) / loaded,
        (1.045 * neededVoltage(frame, filter)) / (k * loaded),
        (1.12 * frame.winding) / (k * cell(bottomSoc)),
        (1.05 * frame.winding * (1 + frame.tolerance / 100)) / (k * cell(bottomSoc)),
      ),
    );
    filter = filterFor(frame, 1.05 * cells * cell(topSoc));
  }
  return {
    frame,
    filter,
    battery: batteryFor(frame, seed, cells),
    cells,
    floorSoc,
    modulation: k,
    crest: crestOf(frame, filter),
  };
}

function batteryFor(frame: Frame, seed: number, cells: number): BatterySize {
  const chemistry = chemistries[frame.chemistry];
  const [bottomSoc, topSoc] = chemistry.span;
  const batteries = frame.arrangement === 'one_battery' ? 1 : frame.units * frame.packs;
  const duration = one([10, 30, 45, 90, 180], seed, 23) * 60;
  const least = cells * restOf(frame.chemistry, bottomSoc) * (1 - sagOf(frame));
  // Losses of 6 % on the way, at the lowest voltage.
  const current = (1.07 * frame.power) / batteries / least;
  const health = 0.8;
  const needed = Math.max(
    (1.1 * current * (duration / 3600)) / (((topSoc - bottomSoc) / 100) * health),
    current / chemistry.rate,
  );
  const usual = one([60, 120, 280, 400], seed, 24);
  const strings = Math.ceil(needed / usual);
  const capacity = Math.ceil(needed / strings);
  const middle = cells * restOf(frame.chemistry, 50);
  const resistance = (sagNew * middle) / (current / strings);
  return { batteries, duration, least, current, strings, capacity, resistance, stringCurrent: current / strings };
}
