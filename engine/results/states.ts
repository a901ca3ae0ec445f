// The states in which the gates are blocked: which device opens in each, how soon, and what the diodes do until then.
import type { Component } from '../model/plant.ts';
import { floorSoc } from './battery-at-rest.ts';
import { batteriesOf, usableCapacity } from './battery-model.ts';
import { defineResult, type Result } from './definition.ts';
import { diodeCurrent, diodeMargin, diodeStopSoc, exposedBatteries } from './diodes.ts';
import type { Read } from './read.ts';

export const blockedStates = ['blocking', 'trip', 'standby'] as const;
export type BlockedState = (typeof blockedStates)[number];

export const openingProperties: Readonly<Record<BlockedState, string>> = {
  blocking: 'opens_on_blocking',
  trip: 'opens_on_trip',
  standby: 'opens_in_standby',
};

export interface Opening {
  readonly device: 'ac' | 'dc' | 'both' | 'none';
  /** s from the blocking of the gates; without end where nothing opens, NaN where it is not said how soon. */
  readonly time: number;
}

/**
 * What opens in a state. Gates are blocked on a trip and in standby as well, so that whatever opens on blocking opens
 * there too unless something else is stated. A device whose opening time alone is stated opens whenever the gates block.
 */
export function openingIn(read: Read, converter: Component, state: BlockedState): Opening {
  const ac = read.number(converter, 'opening_time');
  const dc = read.number(converter, 'dc_opening_time');
  const stated = read.word(converter, openingProperties[state]) ?? read.word(converter, openingProperties.blocking);
  switch (stated ?? impliedDevice(ac, dc)) {
    case 'ac':
      return { device: 'ac', time: ac };
    case 'dc':
      return { device: 'dc', time: dc };
    case 'both':
      return { device: 'both', time: Number.isNaN(ac) ? dc : Number.isNaN(dc) ? ac : Math.min(ac, dc) };
    default:
      return { device: 'none', time: Number.POSITIVE_INFINITY };
  }
}

function impliedDevice(ac: number, dc: number): Opening['device'] {
  if (Number.isNaN(ac)) return Number.isNaN(dc) ? 'none' : 'dc';
  return Number.isNaN(dc) ? 'ac' : 'both';
}

const words: Readonly<Record<BlockedState, string>> = {
  blocking: 'after the gates are blocked',
  trip: 'after a trip',
  standby: 'in standby',
};

const noPoint = { direction: 0, voltage: 0, soc: 0 };

function timeIn(state: BlockedState) {
  return {
    name: `diode_time_${state}`,
    on: 'converter',
    dimension: 'time',
    axes: [],
    worst: 'highest',
    corners: 'all tolerances at their worst',
    meaning: `How long the diodes can charge the battery ${words[state]}: until a device opens; nothing where they don’t conduct, unknown where no opening time bounds it.`,
    formula: 't = opening time of the first device that opens',
    source: 'definition',
    compute: (read: Read) => {
      const margin = read.value(read.self, diodeMargin, noPoint);
      if (Number.isNaN(margin)) return Number.NaN;
      return margin < 0 ? openingIn(read, read.self, state).time : 0;
    },
  } as const;
}

function chargeIn(state: BlockedState, time: Result) {
  return {
    name: `diode_charge_${state}`,
    on: 'converter',
    dimension: 'charge',
    axes: [],
    worst: 'highest',
    corners: 'all tolerances at their worst',
    meaning: `Charge that the diodes drive into the battery ${words[state]}, at most: until a device opens, or until the battery has risen so far that they stop.`,
    formula: 'Q = min(I_d · t, (soc_stop − soc_lowest) · C)',
    source: 'definition; the mean current is that of the lowest connected state of charge',
    compute: (read: Read) => {
      const lasts = read.value(read.self, time, noPoint);
      const batteries = exposedBatteries(read);
      if (batteriesOf(read).length === 0) return Number.NaN;
      if (lasts === 0 || batteries.length === 0) return 0;
      const toStop = chargeToStop(read, batteries);
      if (Number.isNaN(lasts)) return toStop;
      return Math.min(read.value(read.self, diodeCurrent, noPoint) * lasts, toStop);
    },
  } as const;
}

/** Up to where the diodes stop by themselves, in all batteries together: none in one that rests above that. */
function chargeToStop(read: Read, batteries: readonly Component[]): number {
  const stop = read.value(read.self, diodeStopSoc, noPoint);
  return batteries.reduce((sum, battery) => {
    const rise = Math.max(0, stop - read.value(battery, floorSoc, noPoint));
    return sum + rise * read.value(battery, usableCapacity, noPoint);
  }, 0);
}

const blockingTime = defineResult({ ...timeIn('blocking') });
const tripTime = defineResult({ ...timeIn('trip') });
const standbyTime = defineResult({ ...timeIn('standby') });

export const diodeTimes: Readonly<Record<BlockedState, Result>> = {
  blocking: blockingTime,
  trip: tripTime,
  standby: standbyTime,
};

const blockingCharge = defineResult({ ...chargeIn('blocking', blockingTime) });
const tripCharge = defineResult({ ...chargeIn('trip', tripTime) });
const standbyCharge = defineResult({ ...chargeIn('standby', standbyTime) });

export const diodeCharges: Readonly<Record<BlockedState, Result>> = {
  blocking: blockingCharge,
  trip: tripCharge,
  standby: standbyCharge,
};

export const stateResults = [blockingTime, tripTime, standbyTime, blockingCharge, tripCharge, standbyCharge];
