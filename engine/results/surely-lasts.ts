// A time that a discharge lasts at least, without running it: enough to see that most duties are met with ease.
import { leastDischargeTime, type WorstOnSpan } from '../physics/discharge.ts';
import { type BatteryModel, batteryModel, socSpan } from './battery-model.ts';
import { defineStep } from './definition.ts';
import { asTheyStand, dutyBattery, spreadOf, stringsInService } from './duty-battery.ts';
import { converterOf, greatestTerminalPower, middleSource, powerPoints, terminalPower } from './energy.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** While discharging. */
const worstOnSpan = defineStep<WorstOnSpan | undefined>({
  name: 'worst_on_span',
  on: 'battery',
  axes: ['duty'],
  compute: read => {
    if (asTheyStand(read, read.demand)) return read.step(read.self, worstOnOwnSpan, noPoint);
    const battery = read.step(read.self, dutyBattery, noPoint);
    return battery && worstOf(read, battery, battery.lastingLimit);
  },
});

/** As the battery stands, over its own span. */
const worstOnOwnSpan = defineStep<WorstOnSpan | undefined>({
  name: 'worst_on_own_span',
  on: 'battery',
  axes: [],
  compute: read => {
    const battery = read.step(read.self, batteryModel, noPoint);
    if (battery === undefined) return undefined;
    const shared = 1 / (1 + spreadOf(read, read.self, battery.strings));
    return worstOf(read, battery, soc => battery.dischargeLimit(soc) * shared);
  },
});

function worstOf(read: Read, battery: BatteryModel, limit: (soc: number) => number): WorstOnSpan {
  const { bottom, top } = socSpan(read, read.self, read.duty);
  // Between their knots the curves rise or fall throughout.
  const socs = [bottom, ...battery.knots.filter(soc => soc > bottom && soc < top), top];
  const rates = read.reading(read.self, 'capacity')?.knots ?? [];
  return {
    emf: Math.min(...socs.map(battery.emf)),
    voltageMin: Math.max(...socs.map(battery.voltageMin)),
    resistance: Math.max(...socs.map(battery.resistance)),
    currentMax: Math.min(...socs.map(limit)),
    capacity: Math.min(...[0, ...rates.map(rate => rate * battery.strings)].map(battery.capacity)),
  };
}

/**
 * s; NaN where nothing is discharged, 0 where a limit may end it. By rate, the least capacity of all counts; and the
 * greatest power, with which it lasts least.
 */
export const surelyLasts = defineStep<number>({
  name: 'surely_lasts',
  on: 'battery',
  axes: ['duty'],
  compute: read => {
    const converter = converterOf(read);
    if (converter === undefined || Number.isNaN(read.number(read.demand, 'discharge'))) return Number.NaN;
    const worst = read.step(read.self, worstOnSpan, noPoint);
    const source = read.step(read.self, middleSource, noPoint);
    if (worst === undefined || source === undefined) return Number.NaN;
    const power = greatestTerminalPower(read, converter, read.demand);
    if (!(power > 0)) return Number.NaN;
    const rated = read.reading(read.self, 'capacity');
    if (rated?.axis !== undefined) {
      const perWatt = 1 / source.emf / read.value(read.self, stringsInService, noPoint);
      const powerAt = terminalPower(read, converter, read.demand);
      for (const at of powerPoints) {
        const each = powerAt(at);
        if (each > 0) read.reach(read.self, 'capacity', rated, each * perWatt);
      }
    }
    const { bottom, top } = socSpan(read, read.self, read.demand);
    return leastDischargeTime(worst, power, top - bottom);
  },
});
