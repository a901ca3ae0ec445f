// What the converters' harmonics make of the ladder: spectra, carried to the connection point and to the transformers.
import type { Component } from '../model/plant.ts';
import { complex, conjugate, magnitude, multiply } from '../physics/complex.ts';
import { byOrder, type OrderAmount } from '../physics/distortion.ts';
import {
  backgroundAmplification,
  carryHarmonics,
  type HarmonicCircuit,
  inductiveNetwork,
} from '../physics/harmonics.ts';
import { chainOf, type Impedance, type LadderElement, sourceImpedanceSeenFromConverter } from '../physics/ladder.ts';
import { pwmSpectrum } from '../physics/spectrum.ts';
import { highestOrder, type VoltageLimitSet } from '../tables/distortion-limits.ts';
import { acPath, sourceImpedance } from './ac-path.ts';
import { type At, defineStep } from './definition.ts';
import { modulationEnds, modulationOf } from './modulation.ts';
import type { Read } from './read.ts';

/** Amounts by order: voltages as ratios of the network's, currents in A. */
export interface Emission {
  readonly voltages: readonly OrderAmount[];
  readonly currents: readonly OrderAmount[];
}

/** At the lowest and the highest modulation index: relative to the fundamental each line is at its worst at one of them. */
export type Emissions = readonly Emission[];

interface Line {
  readonly frequency: number;
  readonly voltage: number;
  readonly sign: 1 | -1;
}

interface Spectrum {
  readonly networkVoltage: number;
  readonly lines: readonly Line[];
}

/** `counted`: the orders that limits count; `whole`: all that switching makes, as far as it matters. */
export type Reach = 'counted' | 'whole';

const limitSets: readonly VoltageLimitSet[] = [
  'en_50160',
  'iec_61000_2_4_class_1',
  'iec_61000_2_4_class_2',
  'iec_61000_2_4_class_3',
  'ieee_519',
  'iacs_ur_e24',
];

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

/** Lines below this share of the direct voltage are left out; the smallest limit is twenty times as large. */
const negligible = 1e-4;
/** Up to here the whole spectrum is taken, in switching frequencies: the sidebands of the first three multiples. */
const carriers = 3.5;
/** Where no set of limits is named: as most of them count (from memory). */
const usualHighestOrder = 50;

/** The set of limits that the network names. */
export function limitSet(read: Read, grid: Component): VoltageLimitSet | undefined {
  const word = read.word(grid, 'distortion_limit');
  return limitSets.find(set => set === word);
}

/** Order up to which limits count distortion. */
export function countedOrder(read: Read, grid: Component): number {
  const set = limitSet(read, grid);
  return set === undefined ? usualHighestOrder : highestOrder(set);
}

function gridOf(read: Read): Component | undefined {
  const tag = read.route(read.self)?.grid;
  return tag === undefined ? undefined : read.component(tag);
}

const frequencyOf = (read: Read, grid: Component): number => read.number(grid, 'frequency');

const spectra = {
  counted: defineSpectra('counted_spectra', (read, grid) => (countedOrder(read, grid) + 0.5) * frequencyOf(read, grid)),
  whole: defineSpectra('switching_spectra', read => carriers * read.number(read.self, 'switching_frequency')),
};

/** Harmonics of the converter's voltage by the switching; undefined where they aren't known. */
function defineSpectra(name: string, upTo: (read: Read, grid: Component) => number) {
  return defineStep<readonly Spectrum[] | undefined>({
    name,
    on: 'converter',
    axes: [],
    compute: read => {
      const grid = gridOf(read);
      const ends = read.step(read.self, modulationEnds, noPoint) ?? [];
      if (grid === undefined || ends.length === 0) return undefined;
      const made: Spectrum[] = [];
      for (const { index, dcVoltage: direct, networkVoltage: network } of ends) {
        const converter = {
          dcVoltage: direct,
          modulationIndex: index,
          modulation: modulationOf(read),
          switchingFrequency: read.number(read.self, 'switching_frequency'),
          frequency: frequencyOf(read, grid),
        };
        const spectrum = pwmSpectrum(converter, upTo(read, grid), negligible);
        if (!spectrum.ok) return undefined;
        made.push({ networkVoltage: network, lines: spectrum.lines.map(({ order: _, ...line }) => line) });
      }
      return made;
    },
  });
}

/** What one converter brings to the connection point, currents as its own share, voltages as if all did as it does. */
function defineEmission(name: string, reach: Reach) {
  return defineStep<Emissions | undefined>({
    name,
    on: 'converter',
    axes: [],
    compute: read => {
      const grid = gridOf(read);
      const made = read.step(read.self, spectra[reach], noPoint);
      const circuits = circuitsOf(read);
      if (grid === undefined || made === undefined || circuits === undefined) return undefined;
      const { voltage: forVoltage, current: forCurrent } = circuits;
      const frequency = frequencyOf(read, grid);
      const low = lowOrders(read, frequency);
      const emissions: Emission[] = [];
      for (const { networkVoltage: reference, lines } of made) {
        const voltages = carryHarmonics(lines, forVoltage.ofVoltages);
        const currents = carryHarmonics(lines, forCurrent.ofVoltages);
        if (!voltages.ok || !currents.ok) return undefined;
        const lowVoltages = low.map(({ order, amount }) => {
          const { resistance, reactance } = forVoltage.ofCurrents.networkAt(order * frequency);
          const passed = currentPassed(forVoltage.ofCurrents, order * frequency);
          return { order, amount: Math.sqrt(3) * amount * passed * Math.hypot(resistance, reactance) };
        });
        const lowCurrents = low.map(({ order, amount }) => ({
          order,
          amount: amount * currentPassed(forCurrent.ofCurrents, order * frequency),
        }));
        emissions.push({
          voltages: together(
            byOrder(voltages.lines, frequency, line => line.connectionVoltage),
            lowVoltages,
          ).map(({ order, amount }) => ({ order, amount: amount / reference })),
          currents: together(
            byOrder(currents.lines, frequency, line => line.connectionCurrent),
            lowCurrents,
          ),
        });
      }
      return emissions;
    },
  });
}

/** By how far the spectrum reaches. */
export const emissionOf = {
  counted: defineEmission('counted_emission', 'counted'),
  whole: defineEmission('switching_emission', 'whole'),
};

/** The maker's harmonic currents, A, at the orders that are stated: between them a curve of orders says nothing. */
function lowOrders(read: Read, frequency: number): OrderAmount[] {
  const stated = read.reading(read.self, 'harmonics');
  const rated = read.number(read.self, 'ac_current');
  if (stated === undefined || !(frequency > 0)) return [];
  return stated.knots.filter(order => order > 1).map(order => ({ order, amount: stated.of(order) * rated }));
}

/**
 * Current at the connection point for one of a current source at the converter's terminals. By reciprocity it is what the
 * network's source would raise the voltage there to with no current, but for the ratio.
 */
function currentPassed(circuit: HarmonicCircuit, frequency: number): number {
  const ratio = ratioOf(circuit.elementsAt(frequency));
  return (backgroundAmplification(circuit, frequency, 'no_current')?.terminal ?? Number.NaN) / Math.abs(ratio);
}

/** Two lists by order, squares adding. */
function together(a: readonly OrderAmount[], b: readonly OrderAmount[]): OrderAmount[] {
  const squares = new Map<number, number>();
  for (const { order, amount } of [...a, ...b]) {
    const whole = Math.round(order);
    squares.set(whole, (squares.get(whole) ?? 0) + amount * amount);
  }
  return sortedOrders(squares).map(({ order, amount }) => ({ order, amount: Math.sqrt(amount) }));
}

const sortedOrders = (amounts: ReadonlyMap<number, number>): OrderAmount[] =>
  [...amounts].map(([order, amount]) => ({ order, amount })).sort((a, b) => a.order - b.order);

interface Circuits {
  /** For a source of voltage at the converter, and for one of current. */
  readonly ofVoltages: HarmonicCircuit;
  readonly ofCurrents: HarmonicCircuit;
}

/** The ladder at any frequency, with the network at the fault power of its span that is worst at each for either. */
function circuitsOf(read: Read): Readonly<Record<'voltage' | 'current', Circuits>> | undefined {
  const grid = gridOf(read);
  const path = read.step(read.self, acPath, noPoint);
  const weakest = sourceImpedance(read, 'weakest');
  const strongest = sourceImpedance(read, 'strongest');
  if (grid === undefined || path === undefined || weakest === undefined || strongest === undefined) return undefined;
  const frequency = frequencyOf(read, grid);
  const least = size(weakest) > 0 ? size(strongest) / size(weakest) : 1;
  // The same frequency is asked for again and again, by each circuit for the ladder and for its network.
  const known = new Map<number, readonly LadderElement[]>();
  const ladderAt = (at: number): readonly LadderElement[] => {
    const made = known.get(at) ?? elementsAt(path.elements, at / frequency);
    known.set(at, made);
    return made;
  };
  const network = inductiveNetwork(weakest, frequency);
  const circuit = (source: 'voltage' | 'current', worst: 'voltage' | 'current'): HarmonicCircuit => ({
    elementsAt: ladderAt,
    networkAt: at => {
      const full = network(at);
      const share = worstShare(ladderAt(at), full, least, source, worst);
      return { resistance: share * full.resistance, reactance: share * full.reactance };
    },
  });
  const both = (worst: 'voltage' | 'current'): Circuits => {
    return { ofVoltages: circuit('voltage', worst), ofCurrents: circuit('current', worst) };
  };
  return { voltage: both('voltage'), current: both('current') };
}

export const ratioOf = (elements: readonly LadderElement[]): number =>
  elements.reduce((product, element) => (element.kind === 'ratio' ? product * element.ratio : product), 1);

const size = ({ resistance, reactance }: Impedance): number => Math.hypot(resistance, reactance);

/**
 * Share t of the weakest network's impedance Z, from `least` to one, at which current or voltage at the connection point
 * is greatest. The current is 1/(p·Z·t + q) of the source, with a and b of the chain for a source of voltage, c and d for
 * one of current; the voltage is t·Z times it. Either way the square below is a parabola with one lowest point, so that
 * a resonance in the middle of the span isn't missed.
 */
function worstShare(
  elements: readonly LadderElement[],
  impedance: Impedance,
  least: number,
  source: 'voltage' | 'current',
  worst: 'voltage' | 'current',
): number {
  if (!(least < 1)) return 1;
  const chain = chainOf(elements);
  const [p, q] = source === 'voltage' ? [chain.a, chain.b] : [chain.c, chain.d];
  const pz = multiply(p, complex(impedance.resistance, impedance.reactance));
  const overlap = -multiply(pz, conjugate(q)).re;
  if (worst === 'current') return within(least, overlap / magnitude(pz) ** 2, 1);
  return 1 / within(1, overlap / magnitude(q) ** 2, 1 / least);
}

/** Without a lowest point (nothing in parallel, or nothing in series) every share is as good. */
const within = (low: number, value: number, high: number): number =>
  Number.isNaN(value) ? high : Math.min(high, Math.max(low, value));

/**
 * The ladder at a multiple of its own frequency. Chokes, cables and windings keep their resistance, which damps too
 * little rather than too much; a magnetising branch is resistance beside inductance, a capacitor stands in series with
 * its resistor.
 */
export function elementsAt(elements: readonly LadderElement[], order: number): readonly LadderElement[] {
  return elements.map(element => {
    if (element.kind === 'ratio') return element;
    if (element.kind === 'series') return { ...element, reactance: element.reactance * order };
    const { conductance, susceptance } = element;
    if (susceptance <= 0) return { ...element, susceptance: susceptance / order };
    const square = conductance * conductance + susceptance * susceptance;
    const [resistance, reactance] = [conductance / square, susceptance / square / order];
    const below = resistance * resistance + reactance * reactance;
    return { kind: 'shunt', conductance: resistance / below, susceptance: reactance / below };
  });
}

/** Harmonic currents of one transformer's network side, A, this converter's share. */
export interface WindingHarmonics {
  readonly tag: string;
  readonly ends: readonly (readonly OrderAmount[])[];
}

/** What of the whole spectrum and of the maker's harmonics flows through each transformer on the way. */
export const windingHarmonics = defineStep<readonly WindingHarmonics[] | undefined>({
  name: 'winding_harmonics',
  on: 'converter',
  axes: [],
  compute: read => {
    const grid = gridOf(read);
    const path = read.step(read.self, acPath, noPoint);
    const made = read.step(read.self, spectra.whole, noPoint);
    const circuits = circuitsOf(read)?.current;
    if (grid === undefined || path === undefined || made === undefined || circuits === undefined) return undefined;
    const frequency = frequencyOf(read, grid);
    const low = lowOrders(read, frequency);
    const found: WindingHarmonics[] = [];
    for (const { tag, from } of path.parts) {
      if (read.component(tag)?.kind.name !== 'transformer') continue;
      const seen = { ofVoltages: behind(circuits.ofVoltages, from), ofCurrents: behind(circuits.ofCurrents, from) };
      const passed = low.map(({ order, amount }) => ({
        order,
        amount: amount * currentPassed(seen.ofCurrents, order * frequency),
      }));
      const ends = made.map(({ lines }) => {
        const carried = carryHarmonics(lines, seen.ofVoltages);
        return carried.ok
          ? together(
              carried.lines.map(line => ({ order: line.frequency / frequency, amount: line.connectionCurrent })),
              passed,
            )
          : [];
      });
      if (ends.some(end => end.length === 0)) return undefined;
      found.push({ tag, ends });
    }
    return found;
  },
});

/** The circuit from an element on, what stands on its network side counted to the network. */
function behind(circuit: HarmonicCircuit, from: number): HarmonicCircuit {
  return {
    elementsAt: at => circuit.elementsAt(at).slice(from),
    networkAt: at => {
      const seen = sourceImpedanceSeenFromConverter(circuit.elementsAt(at).slice(0, from), 1, circuit.networkAt(at));
      return seen.ok ? seen : { resistance: Number.NaN, reactance: Number.NaN };
    },
  };
}
