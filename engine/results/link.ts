// The DC link that a chopper holds: its voltage on the converter's side, from the chopper's facts alone.
import type { Component } from '../model/plant.ts';
import { defineResult } from './definition.ts';
import type { Read } from './read.ts';

/** The chopper between a converter and its battery; undefined where the battery is the DC link. */
export function chopperOf(read: Read, converter: Component = read.self): Component | undefined {
  const tag = read.route(converter)?.chopper;
  return tag === undefined ? undefined : read.component(tag);
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

function linkVoltage(read: Read, end: 'low' | 'high'): number {
  if (read.has(read.self, 'link_voltage')) return read.number(read.self, 'link_voltage', end);
  const span = spanOf(read, read.self, 'converter');
  return end === 'low' ? span.from : span.to;
}

export const linkVoltageMin = defineResult({
  name: 'link_voltage_min',
  on: 'chopper',
  dimension: 'voltage',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Lowest DC voltage that the chopper holds on the converter’s side: what the converter controls with, and what its blocked diodes see. The chopper’s own diode leads from its lower side to its higher one, so a battery on the lower side feeds the link through it, but is charged by its switch alone.',
  formula: 'as stated by link_voltage; else the bottom of the span of the converter’s side',
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
  meaning: 'Highest DC voltage that the chopper holds on the converter’s side.',
  formula: 'as stated by link_voltage; else the top of the span of the converter’s side',
  source: 'definition',
  compute: read => linkVoltage(read, 'high'),
});

export const linkResults = [linkVoltageMin, linkVoltageMax];
