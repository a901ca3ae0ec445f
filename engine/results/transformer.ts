// Results of a transformer under the duties: current, rating, regulation, losses.

import { networkImpedance } from '../physics/grid.ts';
import { apparentPower } from '../physics/loading.ts';
import { faultCurrentBehind, seriesImpedance } from '../physics/transformer.ts';
import { type At, defineResult } from './definition.ts';
import { flow } from './flow.ts';
import type { Read } from './read.ts';
import { lossInWatts } from './transformer-facts.ts';

interface Ends {
  /** Line currents and line-to-line voltages of the whole transformer on the network's and the converter's side. */
  readonly networkCurrent: number;
  readonly converterCurrent: number;
  readonly networkVoltage: number;
  readonly converterVoltage: number;
  readonly networkPower: number;
  readonly converterPower: number;
  readonly reversed: boolean;
  /** Network volts for one converter volt. */
  readonly ratio: number;
}

/** All its routes carry their share alike, so the first that has a solution tells all. */
function endsOf(read: Read, at: At): Ends | undefined {
  for (const route of read.routes(read.self)) {
    const converter = read.component(route.converter);
    const solved = converter === undefined ? undefined : read.step(converter, flow, at);
    const passed = route.ac.find(element => element.tag === read.self.tag);
    if (solved?.ok !== true || passed === undefined) continue;
    const { ladder, path } = solved;
    const part = path.parts.find(candidate => candidate.tag === read.self.tag)!;
    const ratio = path.elements
      .slice(part.from, part.to)
      .reduce((product, element) => (element.kind === 'ratio' ? product * element.ratio : product), 1);
    return {
      networkCurrent: ladder.current[part.from]! / passed.share,
      converterCurrent: ladder.current[part.to]! / passed.share,
      networkVoltage: ladder.voltage[part.from]!,
      converterVoltage: ladder.voltage[part.to]!,
      networkPower: ladder.activePower[part.from]! / passed.share,
      converterPower: ladder.activePower[part.to]! / passed.share,
      reversed: passed.reversed,
      ratio,
    };
  }
  return undefined;
}

export const secondaryCurrent = defineResult({
  name: 'secondary_current',
  on: 'transformer',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Line current of the secondary winding under the duty, rms.',
  formula: 'I_2 = |ladder current at the secondary|',
  source: 'circuit theory: cascaded two-ports',
  compute: (read, at) => {
    const ends = endsOf(read, at);
    if (ends === undefined) return Number.NaN;
    return ends.reversed ? ends.networkCurrent : ends.converterCurrent;
  },
});

export const requiredRating = defineResult({
  name: 'required_rating',
  on: 'transformer',
  dimension: 'apparent_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Rated power at which the duty’s current is just the rated current of the secondary.',
  formula: 'S = √3 · U_2 · I_2, U_2 the rated no-load voltage',
  source: 'IEC 60076-1, definition of rated power (from memory)',
  compute: (read, at) =>
    apparentPower(read.number(read.self, 'secondary_voltage'), read.value(read.self, secondaryCurrent, at)),
});

export const loading = defineResult({
  name: 'loading',
  on: 'transformer',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Current under the duty as a share of rated current.',
  formula: 'S / S_r',
  source: 'definition',
  compute: (read, at) => read.value(read.self, requiredRating, at) / read.number(read.self, 'rated_power'),
});

export const spare = defineResult({
  name: 'spare',
  on: 'transformer',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Part of the rating that the duty leaves free.',
  formula: '1 − S / S_r',
  source: 'definition',
  compute: (read, at) => 1 - read.value(read.self, loading, at),
});

export const regulation = defineResult({
  name: 'regulation',
  on: 'transformer',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Fall of the voltage from the side that power enters to the side that it leaves, as a share of the no-load voltage there; negative: it rises.',
  formula: '(U_0 − U) / U_0, phasors',
  source: 'IEC 60076-1, voltage drop (from memory)',
  compute: (read, at) => {
    const ends = endsOf(read, at);
    if (ends === undefined) return Number.NaN;
    const referred = ends.networkVoltage / ends.ratio;
    const [entering, leaving] =
      ends.networkPower >= 0 ? [ends.converterVoltage, referred] : [referred, ends.converterVoltage];
    return (entering - leaving) / entering;
  },
});

export const loss = defineResult({
  name: 'loss',
  on: 'transformer',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'No-load and load loss under the duty.',
  formula: 'P = P_0·(U/U_r)² + P_k·(I/I_r)²',
  source: 'IEC 60076-1, equivalent circuit (from memory)',
  compute: (read, at) => {
    const ends = endsOf(read, at);
    return ends === undefined ? Number.NaN : ends.converterPower - ends.networkPower;
  },
});

export const efficiency = defineResult({
  name: 'efficiency',
  on: 'transformer',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Power that leaves as a share of power that enters, under the duty.',
  formula: 'η = P_out / P_in',
  source: 'definition',
  compute: (read, at) => {
    const ends = endsOf(read, at);
    if (ends === undefined) return Number.NaN;
    return ends.networkPower >= 0 ? ends.networkPower / ends.converterPower : ends.converterPower / ends.networkPower;
  },
});

export const secondaryFaultCurrent = defineResult({
  name: 'secondary_fault_current',
  on: 'transformer',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning:
    'Three-phase fault current at the secondary from the network alone: lowest impedance, highest fault power, no voltage factor.',
  formula: 'I_k = U_2 / (√3 · |Z_network/ratio² + Z_T|)',
  source: 'circuit theory; IEC 60909-0 adds its voltage factor c (from memory), which is left to the protection study',
  compute: read => {
    const secondary = read.number(read.self, 'secondary_voltage');
    const series = seriesImpedance({
      ratedPower: read.number(read.self, 'rated_power'),
      secondaryVoltage: secondary,
      impedance: read.number(read.self, 'impedance', 'low'),
      loadLoss: lossInWatts(read, read.self, 'load_loss'),
    });
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    if (!series.ok || grid === undefined) return Number.NaN;
    const network = networkImpedance(
      secondary,
      read.number(grid, 'fault_power', 'high'),
      read.number(grid, 'x_over_r'),
    );
    const source = network.ok ? network : { resistance: 0, reactance: 0 };
    return (
      faultCurrentBehind(secondary, {
        resistance: series.resistance + source.resistance,
        reactance: series.reactance + source.reactance,
      }) ?? Number.NaN
    );
  },
});

export const transformerResults = [
  secondaryCurrent,
  requiredRating,
  loading,
  spare,
  regulation,
  loss,
  efficiency,
  secondaryFaultCurrent,
];
