// The battery as one duty finds it: a string fewer where the duty asks for that, and the current limit for its length.
import type { Component } from '../model/plant.ts';
import { type BatteryModel, batteryModel, innerResults, inOrder, overCharge } from './battery-model.ts';
import { defineResult, defineStep } from './definition.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export type Way = 'discharge' | 'charge';

/** The battery under a duty; its limits are met by the string that carries most. `dischargeLimit` and `chargeLimit` are those that count for the length of the duty. */
export interface DutyBattery extends BatteryModel {
  /** How long the limit in the direction of the duty may be used at a stretch, s; without end where it is the lasting one. */
  readonly longest: number;
  /** What holds without end in the direction of the duty, A of the whole battery. */
  readonly lastingLimit: (soc: number) => number;
}

/**
 * Whether a duty finds the batteries as they stand: nothing is lost, and the span of the state of charge is theirs. What
 * follows of them alone is then the same under all such duties, and is worked out once.
 */
export function asTheyStand(read: Read, duty: Component): boolean {
  return read.word(duty, 'lost') === 'none' && !read.has(duty, 'soc');
}

export const stringsInService = defineResult({
  name: 'strings_in_service',
  on: 'battery',
  dimension: 'count',
  axes: ['duty'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Strings that carry the duty: all of them, or one fewer where the duty must hold with one string lost.',
  formula: 'strings, less one where the duty states lost = string',
  source: 'definition',
  compute: read => read.number(read.self, 'strings') - (read.word(read.demand, 'lost') === 'string' ? 1 : 0),
});

export const dutyBattery = defineStep<DutyBattery | undefined>({
  name: 'duty_battery',
  on: 'battery',
  axes: ['duty'],
  shownAs: () => [...innerResults, stringsInService],
  compute: read => {
    const model = read.step(read.self, batteryModel, noPoint);
    const left = read.value(read.self, stringsInService, noPoint) / (model?.strings ?? Number.NaN);
    if (model === undefined || !(left > 0)) return undefined;
    const way = wayOf(read, read.demand);
    const short = shortLimit(read, read.self, read.demand);
    const lasting = way === 'charge' ? model.chargeLimit : model.dischargeLimit;
    const limit = short === undefined ? lasting : (soc: number) => short.of(soc) * model.strings;
    const shared = left / (1 + spreadOf(read, read.self, model.strings * left));
    const reduced = (of: (soc: number) => number) => (shared === 1 ? of : (soc: number) => of(soc) * shared);
    return {
      ...model,
      resistance: left === 1 ? model.resistance : soc => model.resistance(soc) / left,
      capacity: left === 1 ? model.capacity : current => model.capacity(current / left) * left,
      dischargeLimit: reduced(way === 'discharge' ? limit : model.dischargeLimit),
      chargeLimit: reduced(way === 'charge' ? limit : model.chargeLimit),
      knots: short === undefined ? model.knots : inOrder([model.knots, short.knots]),
      strings: model.strings * left,
      longest: short?.longest ?? Number.POSITIVE_INFINITY,
      lastingLimit: reduced(lasting),
    };
  },
});

/** By how much the string that carries most exceeds the mean; one string has nothing to share with. */
export function spreadOf(read: Read, battery: Component, strings: number): number {
  const spread = read.number(battery, 'string_spread');
  return Number.isNaN(spread) || strings <= 1 ? 0 : spread;
}

export function wayOf(read: Read, duty: Component): Way {
  return Number.isNaN(read.number(duty, 'discharge')) ? 'charge' : 'discharge';
}

/** The fact that limits the current of a string under a duty: for a short time where the duty is short enough. */
export function limitProperty(read: Read, battery: Component, duty: Component): string {
  const way = wayOf(read, duty);
  return isShort(read, battery, duty, way) ? `pulse_${way}_current` : `${way}_current`;
}

/** No longer than the short-time current is permitted, and no sooner again. */
function isShort(read: Read, battery: Component, duty: Component, way: Way): boolean {
  const property = `pulse_${way}_current`;
  if (!read.has(battery, property)) return false;
  const permitted = read.clause(battery, property, 'for');
  const rest = read.clause(battery, property, 'every');
  const repeat = read.number(duty, 'repeat');
  return read.number(duty, 'duration') <= permitted * (1 + 1e-9) && !(repeat < rest * (1 - 1e-9));
}

/** Of one string, A; undefined where the lasting limit counts. */
function shortLimit(read: Read, battery: Component, duty: Component) {
  const property = limitProperty(read, battery, duty);
  const reading = property.startsWith('pulse_') ? overCharge(read, battery, property) : undefined;
  return reading && { ...reading, longest: read.clause(battery, property, 'for') };
}

export const dutyBatteryResults = [stringsInService];
