// Distortion at the connection point, and what harmonic currents cost a transformer.
import type { Component } from '../model/plant.ts';
import { distortion, type OrderAmount } from '../physics/distortion.ts';
import { harmonicLossFactor as lossFactorOf } from '../physics/harmonic-loss.ts';
import {
  type CurrentLimitCase,
  currentOrderLimit,
  type Limit,
  totalDemandLimit,
  totalVoltageLimit,
  voltageOrderLimit,
} from '../tables/distortion-limits.ts';
import { acPath } from './ac-path.ts';
import { type At, defineResult, defineStep } from './definition.ts';
import {
  countedOrder,
  type Emission,
  emissionOf,
  limitSet,
  type Reach,
  ratioOf,
  windingHarmonics,
} from './emission.ts';
import { flow } from './flow.ts';
import { faultCurrentMin } from './grid.ts';
import type { Read } from './read.ts';
import { secondaryCurrent } from './transformer.ts';

/** A harmonic beside its limit; ratios of the fundamental voltage or of the greatest demand current. */
export interface JudgedOrder {
  readonly order: number;
  readonly ratio: number;
  readonly limit: number;
}

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

function defineAtConnection(name: string, reach: Reach) {
  return defineStep<readonly Emission[] | undefined>({
    name,
    on: 'grid',
    axes: [],
    compute: read => {
      const routes = read.routes(read.self);
      const emitted: (readonly Emission[])[] = [];
      for (const route of routes) {
        const converter = read.component(route.converter);
        const of = converter === undefined ? undefined : read.step(converter, emissionOf[reach], noPoint);
        if (of === undefined) return undefined;
        emitted.push(of.map(emission => ({ ...emission, voltages: scaled(emission.voltages, route.gridShare) })));
      }
      if (emitted.length === 0) return undefined;
      return inStep(emitted, all => ({
        voltages: summed(all.map(of => of.voltages)),
        currents: summed(all.map(of => of.currents)),
      }));
    },
  });
}

/** The lowest ends of all converters together, and the highest; one that has a single end brings it to both. */
function inStep<Each, All>(emitted: readonly (readonly Each[])[], together: (all: readonly Each[]) => All): All[] {
  const last = Math.max(...emitted.map(of => of.length)) - 1;
  if (!(last >= 0)) return [];
  return (last === 0 ? [0] : [0, last]).map(end => together(emitted.map(of => of[Math.min(end, of.length - 1)]!)));
}

/**
 * All converters of a network, at the lowest and at the highest modulation index. They are taken to switch in step, so
 * that equal orders add as they are: carriers that aren't synchronised make less of it.
 */
const atConnection = {
  counted: defineAtConnection('counted_harmonics', 'counted'),
  whole: defineAtConnection('switching_harmonics', 'whole'),
};

const scaled = (amounts: readonly OrderAmount[], share: number): OrderAmount[] =>
  amounts.map(({ order, amount }) => ({ order, amount: amount * share }));

function summed(lists: readonly (readonly OrderAmount[])[]): OrderAmount[] {
  const sums = new Map<number, number>();
  for (const { order, amount } of lists.flat()) sums.set(order, (sums.get(order) ?? 0) + amount);
  return [...sums].map(([order, amount]) => ({ order, amount }));
}

/** Without fault power there is no impedance on which a current could make a voltage. */
const knowsNetwork = (read: Read): boolean => !Number.isNaN(read.number(read.self, 'fault_power', 'high'));

export const voltageDistortion = defineResult({
  name: 'voltage_distortion',
  on: 'grid',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning:
    'Total harmonic distortion of the voltage at the connection point by this plant alone, up to the order that the named limits count (else 50): the converters’ switching, all in step, and the harmonics that their makers state; each harmonic at the fault power that is worst for it. Low orders that nobody states are not in it.',
  formula: 'THD = √(Σ U_h²) / U_1, h = 2 … 40 or 50',
  source:
    'double Fourier series of pulse-width modulation (Holmes, Lipo, 2003, from memory) through the ladder at each h',
  compute: read => {
    if (!knowsNetwork(read)) return Number.NaN;
    const ends = read.step(read.self, atConnection.counted, noPoint);
    const highest = countedOrder(read, read.self);
    return most(ends?.map(end => distortion(end.voltages, 1, highest)?.total ?? Number.NaN));
  },
});

export const switchingDistortion = defineResult({
  name: 'switching_distortion',
  on: 'grid',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning:
    'Distortion of the voltage at the connection point by the switching above the orders that limits count, up to three and a half times the switching frequency. No set of limits judges it.',
  formula: '√(Σ U_h²) / U_1, h above 40 or 50',
  source:
    'double Fourier series of pulse-width modulation (Holmes, Lipo, 2003, from memory) through the ladder at each h',
  compute: read => {
    if (!knowsNetwork(read)) return Number.NaN;
    const ends = read.step(read.self, atConnection.whole, noPoint);
    const highest = countedOrder(read, read.self);
    return most(
      ends?.map(
        ({ voltages }) =>
          distortion(
            voltages.filter(({ order }) => order > highest),
            1,
          )?.total ?? Number.NaN,
      ),
    );
  },
});

export const demandCurrent = defineResult({
  name: 'demand_current',
  on: 'grid',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Line current at the connection point under the duty, fundamental, rms.',
  formula: 'I_L = S / (√3·U)',
  source: 'definition; IEEE 519 takes the greatest as reference (from memory)',
  compute: (read, at) => {
    let sum = Number.NaN;
    for (const route of read.routes(read.self)) {
      const converter = read.component(route.converter);
      const solved = converter === undefined ? undefined : read.step(converter, flow, at);
      if (solved?.ok !== true) continue;
      sum = (Number.isNaN(sum) ? 0 : sum) + solved.ladder.current[0]!;
    }
    return sum;
  },
});

export const currentDistortion = defineResult({
  name: 'current_distortion',
  on: 'grid',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning:
    'Total demand distortion: harmonic currents at the connection point as a share of the greatest demand current, with the same orders and sources as the voltage’s distortion.',
  formula: 'TDD = √(Σ I_h²) / I_L',
  source: 'IEEE 519, definition (from memory)',
  compute: read => {
    const ends = read.step(read.self, atConnection.counted, noPoint);
    const reference = read.worst(read.self, demandCurrent);
    const highest = countedOrder(read, read.self);
    return most(ends?.map(end => distortion(end.currents, reference, highest)?.total ?? Number.NaN));
  },
});

export const worstHarmonicRatio = defineResult({
  name: 'worst_harmonic_ratio',
  on: 'grid',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning: 'The single harmonic voltage at the connection point that comes nearest to its limit, as a share of it.',
  formula: 'max_h (U_h / U_1) / limit_h',
  source: 'the named set of limits',
  compute: read => shareOf(worstVoltage(read)),
});

export const worstCurrentRatio = defineResult({
  name: 'worst_harmonic_current_ratio',
  on: 'grid',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning: 'The single harmonic current at the connection point that comes nearest to its limit, as a share of it.',
  formula: 'max_h (I_h / I_L) / limit_h',
  source: 'IEEE 519-2022, where IEEE 519 is named (from memory)',
  compute: read => shareOf(worstCurrent(read)),
});

const shareOf = (judged: JudgedOrder | undefined): number =>
  judged === undefined ? Number.NaN : judged.ratio / judged.limit;

/** The single harmonic voltage nearest to its limit; undefined where no limit is named or nothing is known. */
export function worstVoltage(read: Read): JudgedOrder | undefined {
  const set = limitSet(read, read.self);
  if (set === undefined || !knowsNetwork(read)) return undefined;
  const nominal = read.number(read.self, 'voltage');
  const ends = read.step(read.self, atConnection.counted, noPoint) ?? [];
  return nearest(
    ends.flatMap(end => end.voltages),
    order => voltageOrderLimit(set, order, nominal),
  );
}

/** As `worstVoltage`, of the currents. */
export function worstCurrent(read: Read): JudgedOrder | undefined {
  const given = currentCase(read);
  const reference = given === undefined ? Number.NaN : read.worst(read.self, demandCurrent);
  if (given === undefined || !(reference > 0)) return undefined;
  const ends = read.step(read.self, atConnection.counted, noPoint) ?? [];
  return nearest(
    ends.flatMap(end => scaled(end.currents, 1 / reference)),
    order => currentOrderLimit(given, order),
  );
}

function nearest(ratios: readonly OrderAmount[], limitOf: (order: number) => Limit | undefined) {
  let worst: JudgedOrder | undefined;
  for (const { order, amount } of ratios) {
    const limit = limitOf(order)?.limit;
    if (limit === undefined) continue;
    if (worst === undefined || amount / limit > worst.ratio / worst.limit) worst = { order, ratio: amount, limit };
  }
  return worst;
}

/** Limit of the voltage's total distortion; NaN where none is named. */
export function voltageLimit(read: Read): number {
  const set = limitSet(read, read.self);
  return (
    (set === undefined ? undefined : totalVoltageLimit(set, read.number(read.self, 'voltage'))?.limit) ?? Number.NaN
  );
}

/** Limit of the total demand distortion; NaN where none is named. */
export function demandLimit(read: Read): number {
  const given = currentCase(read);
  return (given === undefined ? undefined : totalDemandLimit(given)?.limit) ?? Number.NaN;
}

/** Only IEEE 519 limits currents here. A battery that delivers counts as generation, whatever the ratio. */
function currentCase(read: Read): CurrentLimitCase | undefined {
  if (limitSet(read, read.self) !== 'ieee_519') return undefined;
  const shortCircuitRatio = read.value(read.self, faultCurrentMin, noPoint) / read.worst(read.self, demandCurrent);
  const generation = read.duties.some((duty: Component) => read.has(duty, 'discharge'));
  return { edition: '2022', shortCircuitRatio, generation };
}

export const harmonicLossFactor = defineResult({
  name: 'harmonic_loss_factor',
  on: 'transformer',
  dimension: 'count',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning:
    'By how much harmonics multiply the eddy loss of the windings, at the greatest current of the duties: the converters’ switching, and the harmonics that their makers state. The square law gives way to the skin effect’s root above order 25.',
  formula: 'F_HL = Σ h²·I_h² / Σ I_h²',
  source:
    'IEEE C57.110, definition (seen in the introduction of a paper); IEC 61378-1 (from memory); root above order 25: common practice, no source',
  compute: read => {
    const emitted: (readonly (readonly OrderAmount[])[])[] = [];
    for (const route of read.routes(read.self)) {
      const ends = windingEnds(read, route.converter);
      if (ends === undefined) return Number.NaN;
      emitted.push(ends);
    }
    const fundamental = read.worst(read.self, secondaryCurrent);
    return most(
      inStep(emitted, summed).map(end => {
        const harmonics = end.filter(({ order }) => order > 1);
        return lossFactorOf([{ order: 1, amount: fundamental }, ...harmonics]) ?? Number.NaN;
      }),
    );
  },
});

/** What one converter brings to the transformer's secondary, A, at the ends of its modulation; undefined where unknown. */
function windingEnds(read: Read, converterTag: string): readonly (readonly OrderAmount[])[] | undefined {
  const converter = read.component(converterTag);
  const route = converter === undefined ? undefined : read.route(converter);
  const path = converter === undefined ? undefined : read.step(converter, acPath, noPoint);
  const found = converter === undefined ? undefined : read.step(converter, windingHarmonics, noPoint);
  const passed = route?.ac.find(element => element.tag === read.self.tag);
  const part = path?.parts.find(candidate => candidate.tag === read.self.tag);
  const winding = found?.find(candidate => candidate.tag === read.self.tag);
  if (passed === undefined || path === undefined || part === undefined) return undefined;
  const toSecondary = passed.reversed ? 1 : ratioOf(path.elements.slice(part.from, part.to));
  return winding?.ends.map(end => scaled(end, toSecondary));
}

/** NaN where there is nothing, and where a part isn't known. */
function most(values: readonly number[] | undefined): number {
  return values === undefined || values.length === 0 ? Number.NaN : Math.max(...values);
}

export const harmonicResults = [
  demandCurrent,
  voltageDistortion,
  currentDistortion,
  worstHarmonicRatio,
  worstCurrentRatio,
  switchingDistortion,
  harmonicLossFactor,
];
