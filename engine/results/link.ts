// The DC link that a chopper holds, alone or with others: its voltage on the converter's side, from their facts alone.
import type { RouteCell } from '../model/cells.ts';
import type { Component } from '../model/plant.ts';
import { defineResult } from './definition.ts';
import type { Read } from './read.ts';

/** The choppers between a converter and its batteries; none where the batteries are the DC link. Of a chopper, all on its link. */
export function choppersOf(read: Read, component: Component = read.self): readonly Component[] {
  const cells = read.route(component)?.cells ?? [];
  return cells.map(({ chopper }) => read.component(chopper)).filter(chopper => chopper !== undefined);
}

/** What a chopper keeps apart from the link; undefined where no route passes it. */
export function cellOf(read: Read): RouteCell | undefined {
  return read.route(read.self)?.cells.find(({ chopper }) => chopper === read.self.tag);
}

/** On which of its sides the battery lies. */
export function batterySide(read: Read, chopper: Component): 'low' | 'high' {
  return read.word(chopper, 'battery_side') === 'high' ? 'high' : 'low';
}

/** The rated span of one of a chopper's two ways out. */
export function spanOf(read: Read, chopper: Component, way: 'converter' | 'battery') {
  const low = (way === 'battery') === (batterySide(read, chopper) === 'low');
  const property = low ? 'low_side_voltage' : 'high_side_voltage';
  return { property, from: read.number(chopper, property, 'low'), to: read.number(chopper, property, 'high') } as const;
}

/** An end of what a chopper says that it holds, or could hold. */
export function heldBy(read: Read, chopper: Component, end: 'low' | 'high'): number {
  if (read.has(chopper, 'link_voltage')) return read.number(chopper, 'link_voltage', end);
  const span = spanOf(read, chopper, 'converter');
  return end === 'low' ? span.from : span.to;
}

/**
 * Of several on one link those that state what they hold, and the others follow; where none does, what lies inside the
 * spans of all. Where nothing does, both outer ends: they then leave a span.
 */
function linkVoltage(read: Read, end: 'low' | 'high'): number {
  const all = choppersOf(read);
  if (all.length < 2) return heldBy(read, read.self, end);
  const stating = all.filter(chopper => read.has(chopper, 'link_voltage'));
  const lows = (stating.length > 0 ? stating : all).map(chopper => heldBy(read, chopper, 'low'));
  const highs = (stating.length > 0 ? stating : all).map(chopper => heldBy(read, chopper, 'high'));
  const [from, to] = [Math.max(...lows), Math.min(...highs)];
  if (stating.length === 0 && from <= to) return end === 'low' ? from : to;
  return end === 'low' ? Math.min(...lows) : Math.max(...highs);
}

export const linkVoltageMin = defineResult({
  name: 'link_voltage_min',
  on: 'chopper',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Lowest DC voltage that the chopper, or several together, hold on the converter’s side: what the converter controls with, and what its blocked diodes see. The chopper’s own diode leads from its lower side to its higher one, so a battery on the lower side feeds the link through it, but is charged by its switch alone.',
  formula:
    'as stated by link_voltage; else the bottom of the span of the converter’s side; of several the lowest that one states, else the bottom of what all spans share',
  source: 'definition',
  compute: read => linkVoltage(read, 'low'),
});

export const linkVoltageMax = defineResult({
  name: 'link_voltage_max',
  on: 'chopper',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning: 'Highest DC voltage that the chopper, or several together, hold on the converter’s side.',
  formula:
    'as stated by link_voltage; else the top of the span of the converter’s side; of several the highest that one states, else the top of what all spans share',
  source: 'definition',
  compute: read => linkVoltage(read, 'high'),
});

export const linkResults = [linkVoltageMin, linkVoltageMax];
