// The DC voltage at which a converter stands idle: the resting battery's, or the link's that a chopper holds.
import { floorVoltage, restVoltageMax, restVoltageMin } from './battery.ts';
import { batteryOf } from './battery-model.ts';
import { chopperOf, linkVoltageMax, linkVoltageMin } from './link.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

// Functions, since results pull each other in circles of files, and these may be loaded before those.
const atRest = { lowest: () => restVoltageMin, highest: () => restVoltageMax, connected: () => floorVoltage };
const held = { lowest: () => linkVoltageMin, highest: () => linkVoltageMax, connected: () => linkVoltageMin };

/** In operation, or (`connected`) the lowest that the blocked diodes may face; NaN where it is not known. */
export function standingDcVoltage(read: Read, which: 'lowest' | 'highest' | 'connected'): number {
  const chopper = chopperOf(read);
  if (chopper !== undefined) return read.value(chopper, held[which](), noPoint);
  const battery = batteryOf(read);
  return battery === undefined ? Number.NaN : read.value(battery, atRest[which](), noPoint);
}
