// The largest power of a battery through its converter at one state of charge, and which of all limits holds it there.
import { constantPower } from './battery.ts';

/** What a limit is called; `curve` limits come from the converter's own table of power and voltage. */
export type PowerLimit =
  | 'battery_current'
  | 'battery_voltage'
  | 'power_collapse'
  | 'converter_current'
  | 'converter_dc_current'
  | 'dc_voltage'
  | 'network_path';

/** What the converter's DC side looks like as the power grows: strictly increasing magnitudes of power. */
export interface Passage {
  /** W at the converter's DC terminals, magnitudes, from nothing to the most that passes. */
  readonly power: readonly number[];
  /** V that the converter needs there to make the voltage of its AC terminals. */
  readonly needed: readonly number[];
  /** Why no more passes. */
  readonly end: 'converter_current' | 'network_path' | 'dc_voltage';
}

/** One state of charge: SI; current and resistance as one converter sees the battery. */
export interface DcSource {
  readonly emf: number;
  readonly resistance: number;
  /** Ω of the cables between battery and converter. */
  readonly wires: number;
  /** A. */
  readonly currentLimit: number;
  /** V at the battery's terminals: the least while discharging, the greatest while charging. */
  readonly voltageLimit: number;
  /** A on the DC side of the converter. */
  readonly converterCurrent: number;
  /** V at the converter's DC terminals: the lowest and the highest in operation. */
  readonly lowest: number;
  readonly highest: number;
}

export interface LimitedPower {
  /** W at the battery's terminals, A, V there; magnitudes. */
  readonly power: number;
  readonly current: number;
  readonly voltage: number;
  readonly limit: PowerLimit;
}

/**
 * The least of all currents that some limit permits, and the power (W) that it makes at the battery's terminals. Every
 * limit is a current: the battery's own, the drop to its voltage limit, half of E over all resistance (beyond which
 * more current is less power), the converter's DC current, the drop to its lowest DC voltage, the current that makes
 * the most power that passes it, and the largest at which its DC voltage still makes its AC voltage. Kirchhoff.
 */
export function limitedPower(way: 'discharge' | 'charge', source: DcSource, passage: Passage): LimitedPower {
  const sign = way === 'discharge' ? 1 : -1;
  const all = source.resistance + source.wires;
  const candidates: [PowerLimit, number][] = [
    ['battery_current', source.currentLimit],
    ['battery_voltage', over(sign * (source.emf - source.voltageLimit), source.resistance)],
    ['power_collapse', sign > 0 ? over(source.emf / 2, all) : Number.POSITIVE_INFINITY],
    ['converter_dc_current', source.converterCurrent],
    ['dc_voltage', over(sign > 0 ? source.emf - source.lowest : source.highest - source.emf, all)],
    [passage.end, passedCurrent(source, all, sign * (passage.power.at(-1) ?? 0))],
  ];
  let [limit, current] = candidates.reduce((least, next) => (next[1] < least[1] ? next : least));
  current = Math.max(0, current);
  const makes = (amperes: number): boolean => {
    const volts = source.emf - sign * amperes * all;
    return volts >= neededAt(passage, amperes * volts) * (1 - 1e-12);
  };
  if (!makes(current)) {
    limit = 'dc_voltage';
    current = largest(current, makes);
  }
  const voltage = source.emf - sign * current * source.resistance;
  return { power: current * voltage, current, voltage, limit };
}

function over(drop: number, resistance: number): number {
  if (!(drop > 0)) return 0;
  return resistance > 0 ? drop / resistance : Number.POSITIVE_INFINITY;
}

/** The current that makes a power at the converter; without end where the battery's resistance ends it before. */
function passedCurrent(source: DcSource, resistance: number, power: number): number {
  const found = constantPower(source.emf, resistance, power);
  return found.ok ? Math.abs(found.current) : Number.POSITIVE_INFINITY;
}

function neededAt({ power, needed }: Passage, at: number): number {
  const index = power.findIndex(each => each >= at);
  if (index <= 0) return (index < 0 ? needed.at(-1) : needed[0]) ?? 0;
  const [from, to] = [power[index - 1]!, power[index]!];
  return needed[index - 1]! + ((needed[index]! - needed[index - 1]!) * (at - from)) / (to - from);
}

/** The largest number up to a bound that still holds; nothing where not even zero does. */
function largest(bound: number, holds: (value: number) => boolean): number {
  if (!holds(0)) return 0;
  let [good, bad] = [0, bound];
  for (let step = 0; step < 50; step++) {
    const middle = (good + bad) / 2;
    if (holds(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

/** A stretch of an axis over which one name holds, with the values at its points. */
export interface NamedStretch<Name> {
  readonly from: number;
  readonly to: number;
  readonly name: Name;
  readonly points: readonly { readonly x: number; readonly value: number }[];
}

/** Cuts an axis (increasing points) where the name changes; the places are halved down between neighbours. */
export function stretchesOf<Name>(
  xs: readonly number[],
  at: (x: number) => { readonly name: Name; readonly value: number },
): readonly NamedStretch<Name>[] {
  const stretches: { from: number; to: number; name: Name; points: { x: number; value: number }[] }[] = [];
  const add = (x: number): void => {
    const { name, value } = at(x);
    const last = stretches.at(-1);
    if (last?.name !== name) stretches.push({ from: x, to: x, name, points: [{ x, value }] });
    else {
      last.to = x;
      last.points.push({ x, value });
    }
  };
  for (const [index, x] of xs.entries()) {
    const before = xs[index - 1];
    if (before !== undefined) for (const cut of cutsBetween(before, x, at, 6)) add(cut);
    add(x);
  }
  return stretches;
}

/** The last place of each name and the first of the next, from one point to another, both left out. */
function cutsBetween<Name>(
  from: number,
  to: number,
  at: (x: number) => { readonly name: Name },
  most: number,
): readonly number[] {
  const [first, last] = [at(from).name, at(to).name];
  if (first === last || most === 0) return [];
  let [same, other] = [from, to];
  for (let step = 0; step < 40; step++) {
    const middle = (same + other) / 2;
    if (at(middle).name === first) same = middle;
    else other = middle;
  }
  return [same, other, ...cutsBetween(other, to, at, most - 1)].filter(x => x > from && x < to);
}
