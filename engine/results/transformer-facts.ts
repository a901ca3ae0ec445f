// What follows from a transformer's facts alone: its losses where nobody states them, and its ratio at the tapping.
import type { Component } from '../model/plant.ts';
import { customaryLeastDeadBand, ratioSpan, regulatedRatio } from '../physics/taps.ts';
import { ratioTolerance, voltageRatio } from '../physics/transformer.ts';
import { type Construction, ecodesignLosses } from '../tables/ecodesign.ts';
import { defineResult } from './definition.ts';
import type { Read } from './read.ts';

type LossName = 'load_loss' | 'no_load_loss';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** A loss that is stated in watts, or as a share of the rated power; W. Not stated: what the regulation permits. */
export function lossInWatts(read: Read, transformer: Component, property: LossName): number {
  return (
    statedLoss(read, transformer, property) ??
    read.value(transformer, property === 'load_loss' ? ratedLoadLoss : ratedNoLoadLoss, noPoint)
  );
}

function statedLoss(read: Read, transformer: Component, property: LossName): number | undefined {
  const fact = read.numberFact(transformer, property);
  if (fact === undefined) return undefined;
  return fact.dimension.unit === 'W' ? fact.nominal : fact.nominal * read.number(transformer, 'rated_power');
}

export const constructionOf = (read: Read, transformer: Component): Construction =>
  read.word(transformer, 'construction') === 'liquid' ? 'liquid' : 'dry';

/** The ends of the regulation's table, VA: beyond them the ratio of loss to rating is kept (common practice, no source). */
const tableEnds = { dry: { first: 50e3, last: 3150e3 }, liquid: { first: 25e3, last: 3150e3 } } as const;
/** Tier 2, on-load tap changers: the regulation, seen in source. */
const onLoadExtra = 1.1;
/**
 * An assumption must not contradict what is stated: impedance and no-load current are more than their losses. How much
 * more is a choice of our own, no source.
 */
const mostOfWhole = 0.9;

function permittedLoss(read: Read, property: LossName): number {
  const rating = read.number(read.self, 'rated_power');
  const construction = constructionOf(read, read.self);
  const { first, last } = tableEnds[construction];
  const tabled = Math.min(last, Math.max(first, rating));
  const found = ecodesignLosses(tabled, construction, 2);
  if (!found.ok) return Number.NaN;
  const scale = rating / tabled;
  if (property === 'load_loss')
    return Math.min(found.loadLoss * scale, mostOfWhole * read.number(read.self, 'impedance', 'low') * rating);
  const onLoad = read.word(read.self, 'tap_changer') === 'on_load' ? onLoadExtra : 1;
  const most = mostOfWhole * read.number(read.self, 'no_load_current') * rating;
  const loss = found.noLoadLoss * scale * onLoad;
  return Number.isNaN(most) ? loss : Math.min(loss, most);
}

const lossSource =
  'as stated; else the greatest that Regulation (EU) No 548/2014 as amended by (EU) 2019/1783 permits, Annex I, tier 2 (seen in source); the rating’s proportion beyond its table, and 90 % of what impedance or no-load current leave: common practice, no source';

export const ratedLoadLoss = defineResult({
  name: 'rated_load_loss',
  on: 'transformer',
  dimension: 'active_power',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Load loss at rated current: as stated, or the greatest that the ecodesign regulation permits.',
  formula:
    'P_k, between two ratings of the table in a straight line, beyond its ends in proportion to the rating; at most 90 % of u_k·S_r',
  source: lossSource,
  compute: read => statedLoss(read, read.self, 'load_loss') ?? permittedLoss(read, 'load_loss'),
});

export const ratedNoLoadLoss = defineResult({
  name: 'rated_no_load_loss',
  on: 'transformer',
  dimension: 'active_power',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'No-load loss at rated voltage: as stated, or the greatest that the ecodesign regulation permits.',
  formula:
    'P_0, between two ratings of the table in a straight line, beyond its ends in proportion to the rating; 10 % more with an on-load tap changer; at most 90 % of i_0·S_r',
  source: lossSource,
  compute: read => statedLoss(read, read.self, 'no_load_loss') ?? permittedLoss(read, 'no_load_loss'),
});

/** Network voltage (V) at the transformer with no load, and which end of what a regulator leaves is asked for. */
export interface Regulated {
  readonly network: number;
  readonly end: 'low' | 'nominal' | 'high';
}

export const isOnLoad = (read: Read, transformer: Component): boolean =>
  read.word(transformer, 'tap_changer') === 'on_load';

/**
 * Network-side volts for one converter-side volt at no load, by the rated voltages (V) of the two sides: at a fixed tapping
 * or regulated on load; the tappings are on the winding called primary.
 */
export function ratiosAtTapping(
  read: Read,
  transformer: Component,
  reversed: boolean,
  deviation: number,
  regulated: Regulated | undefined,
): (networkSide: number, converterSide: number) => number | undefined {
  if (regulated === undefined) {
    const stated = read.number(transformer, 'tap');
    const turns = Number.isNaN(stated) ? 0 : stated;
    const tap = reversed ? 1 / (1 + turns) - 1 : turns;
    return (networkSide, converterSide) => voltageRatio(networkSide, converterSide, tap, deviation);
  }
  const range = read.number(transformer, 'tap_range');
  const step = read.number(transformer, 'tap_step');
  if (!(range >= 0 && step > 0)) return () => undefined;
  const positions = Math.round(range / step);
  const half = customaryLeastDeadBand({ step, above: positions, below: positions }) / 2;
  const beside = regulated.end === 'low' ? -half : regulated.end === 'high' ? half : 0;
  const side = reversed ? 'converter' : 'network';
  return (networkSide, converterSide) => {
    const principal = voltageRatio(networkSide, converterSide, 0, deviation);
    if (principal === undefined) return undefined;
    return regulatedRatio(regulated.network, converterSide * (1 + beside), ratioSpan(principal, range, side));
  };
}

export const transformerFactResults = [ratedLoadLoss, ratedNoLoadLoss];

/** Greatest deviation of the no-load ratio, each way: as stated, else by the standard. */
export function ratioToleranceOf(read: Read, transformer: Component): number {
  const stated = read.number(transformer, 'ratio_tolerance', 'high');
  return Number.isNaN(stated) ? ratioTolerance(read.number(transformer, 'impedance')) : stated;
}

/** Deviation of the no-load ratio at a corner: −1, 0 or 1 times the greatest. */
export const ratioDeviation = (read: Read, transformer: Component, corner: number): number =>
  corner === 0 ? 0 : corner * ratioToleranceOf(read, transformer);
