// A transformer as elements of a ladder, at a corner of its facts and for any voltage of its secondary winding.
import type { Component } from '../model/plant.ts';
import type { LadderElement } from '../physics/ladder.ts';
import { magnetisingShunt, seriesImpedance } from '../physics/transformer.ts';
import type { PathCorner, Tapping } from './path-corner.ts';
import type { Read } from './read.ts';
import { isOnLoad, lossInWatts, type Regulated, ratioDeviation, ratiosAtTapping } from './transformer-facts.ts';

/** Something of a transformer by its secondary voltage, V: the stated one unless another is given. */
type BySecondary<T> = (secondary?: number) => T;

/**
 * Its facts are read once for all voltages; the impedance stays the same in per cent. `before`: the product of the ratios
 * on its network side.
 */
export function transformerLadders(
  read: Read,
  transformer: Component,
  reversed: boolean,
  corner: PathCorner,
  before: number,
): BySecondary<readonly LadderElement[] | undefined> {
  const ratedPower = read.number(transformer, 'rated_power');
  const sides = sidesOf(read, transformer, reversed);
  const impedance = read.number(transformer, 'impedance', corner.impedance);
  const loadLoss = lossInWatts(read, transformer, 'load_loss');
  const deviation = ratioDeviation(read, transformer, corner.ratio);
  const ratioAt = ratiosOf(read, transformer, reversed, corner, before);
  const stated = read.number(transformer, 'no_load_current');
  const noLoadCurrent = Number.isNaN(stated) ? undefined : stated;
  const noLoadLoss = lossInWatts(read, transformer, 'no_load_loss');
  return secondary => {
    const [networkSide, converterSide] = sides(secondary);
    const series = seriesImpedance({ ratedPower, secondaryVoltage: converterSide, impedance, loadLoss });
    const ratio = ratioAt(secondary);
    if (ratio === undefined || !Number.isFinite(ratio)) return undefined;
    // Its core sees volts per turn: a tapping on this winding takes rated voltage and rated flux along.
    const voltage = reversed ? networkSide : (ratio / (1 + deviation)) * converterSide;
    const shunt = magnetisingShunt({ ratedPower, voltage, noLoadLoss, noLoadCurrent });
    if (!series.ok || !shunt.ok) return undefined;
    return [shunt, { kind: 'ratio', ratio }, series];
  };
}

/** Network-side volts for one converter-side volt at no load. */
export function ratiosOf(
  read: Read,
  transformer: Component,
  reversed: boolean,
  corner: PathCorner,
  before: number,
): BySecondary<number | undefined> {
  const sides = sidesOf(read, transformer, reversed);
  const regulated = isOnLoad(read, transformer) ? regulatedAt(read, corner.tapping, before) : undefined;
  const deviation = ratioDeviation(read, transformer, corner.ratio);
  const ratioAt = ratiosAtTapping(read, transformer, reversed, deviation, regulated);
  return secondary => ratioAt(...sides(secondary));
}

/** Rated voltages, V: of the network's side and of the converter's. */
function sidesOf(read: Read, transformer: Component, reversed: boolean): BySecondary<readonly [number, number]> {
  const primary = read.number(transformer, 'primary_voltage');
  const stated = read.number(transformer, 'secondary_voltage');
  return (secondary = stated) => (reversed ? [secondary, primary] : [primary, secondary]);
}

/** What a regulator on the way has before it, behind transformers of a ratio; undefined where no network is known. */
function regulatedAt(read: Read, tapping: Tapping, before: number): Regulated | undefined {
  if (typeof tapping === 'object') return { network: tapping.network / before, end: tapping.end };
  const tag = read.route(read.self)?.grid;
  const grid = tag === undefined ? undefined : read.component(tag);
  if (grid === undefined) return undefined;
  const [corner, end] = tapping === 'worst' ? (['low', 'high'] as const) : (['nominal', 'nominal'] as const);
  return { network: read.number(grid, 'voltage', corner) / before, end };
}
