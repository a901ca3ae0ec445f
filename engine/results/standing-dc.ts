// The DC voltage at which a converter stands idle: the resting battery's, or the link's that choppers hold.
import type { Component } from '../model/plant.ts';
import { floorVoltage, restVoltageMax, restVoltageMin } from './battery-at-rest.ts';
import { batteriesOf } from './battery-model.ts';
import { choppersOf, linkVoltageMax, linkVoltageMin } from './link.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

// Functions, since results pull each other in circles of files, and these may be loaded before those.
const atRest = { lowest: () => restVoltageMin, highest: () => restVoltageMax, connected: () => floorVoltage };
const held = { lowest: () => linkVoltageMin, highest: () => linkVoltageMax, connected: () => linkVoltageMin };

/** In operation, or (`connected`) the lowest that the blocked diodes may face; NaN where it is not known. */
export function standingDcVoltage(read: Read, which: 'lowest' | 'highest' | 'connected'): number {
  const [chopper] = choppersOf(read);
  return chopper === undefined ? restingVoltage(read, which) : read.value(chopper, held[which](), noPoint);
}

/** Of several batteries the one that stands lowest, or highest: each may be connected alone. */
export function restingVoltage(
  read: Read,
  which: 'lowest' | 'highest' | 'connected',
  batteries: readonly Component[] = batteriesOf(read),
): number {
  const voltages = batteries.map(battery => read.value(battery, atRest[which](), noPoint));
  if (voltages.length === 0) return Number.NaN;
  return which === 'highest' ? Math.max(...voltages) : Math.min(...voltages);
}
