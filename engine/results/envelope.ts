// Ride-through curves of a network or a converter as envelopes over time.
import type { Component } from '../model/plant.ts';
import { deepestFor, type Envelope, type EnvelopeResult, makeEnvelope, type Side } from '../physics/ride-through.ts';
import type { Read } from './read.ts';

export const envelopes = {
  low_voltage_ride_through: 'lower',
  high_voltage_ride_through: 'upper',
  low_frequency_ride_through: 'lower',
  high_frequency_ride_through: 'upper',
} as const satisfies Readonly<Record<string, Side>>;
export type EnvelopeProperty = keyof typeof envelopes;

/** The corners as stated; undefined where none are. */
export function statedEnvelope(
  read: Read,
  component: Component,
  property: EnvelopeProperty,
): EnvelopeResult | undefined {
  const reading = read.reading(component, property);
  if (reading === undefined) return undefined;
  const points = reading.knots.map(time => ({ time, level: reading.of(time) }));
  return makeEnvelope(envelopes[property], points);
}

/** What a network asks for: behind the last corner its lasting band again. Undefined where nothing sound is stated. */
export function askedEnvelope(read: Read, grid: Component, property: EnvelopeProperty): Envelope | undefined {
  const stated = statedEnvelope(read, grid, property);
  if (stated?.ok !== true) return undefined;
  const { side, points } = stated.envelope;
  const last = points.at(-1)!;
  const band = bandOf(read, grid, property, side);
  const back = side === 'lower' ? band > last.level : band < last.level;
  return back ? { side, points: [...points, { time: last.time, level: band }] } : stated.envelope;
}

function bandOf(read: Read, grid: Component, property: EnvelopeProperty, side: Side): number {
  const corner = side === 'lower' ? 'low' : 'high';
  if (property.includes('frequency')) return read.number(grid, 'frequency', corner);
  return read.number(grid, 'voltage', corner) / read.number(grid, 'voltage');
}

/** From here on a swell counts as a temporary overvoltage, which stands for seconds: common practice, no source. */
const lasting = 1;

/** The highest level of a swell that lasts so long that it counts as temporary overvoltage; NaN where none is stated. */
export function lastingSwell(read: Read, grid: Component): number {
  const envelope = askedEnvelope(read, grid, 'high_voltage_ride_through');
  return envelope === undefined ? Number.NaN : deepestFor(envelope, lasting);
}
