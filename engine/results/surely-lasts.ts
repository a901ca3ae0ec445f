// A time that a discharge lasts at least, without running it: enough to see that most duties are met with ease.
import type { Component } from '../model/plant.ts';
import { leastDischargeTime, type WorstOnSpan } from '../physics/discharge.ts';
import { onlyConverter } from './battery-flow.ts';
import { type BatteryModel, batteryModel, socSpan } from './battery-model.ts';
import { type PlainWay, plainWay } from './dc-flow.ts';
import { dcWayUnder } from './dc-way.ts';
import { defineFigures, defineStep, pointsOf } from './definition.ts';
import { asTheyStand, dutyBattery, spreadOf, stringsInService } from './duty-battery.ts';
import { converterOf, middleSource, powerOfSource, type Source } from './energy.ts';
import { dcSide, mostTaken } from './flow.ts';
import type { Read } from './read.ts';
import { takenBy, there, where } from './taken.ts';

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
  let [emf, currentMax] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let [voltageMin, resistance] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const look = (soc: number): void => {
    emf = Math.min(emf, battery.emf(soc));
    voltageMin = Math.max(voltageMin, battery.voltageMin(soc));
    resistance = Math.max(resistance, battery.resistance(soc));
    currentMax = Math.min(currentMax, limit(soc));
  };
  // Between their knots the curves rise or fall throughout.
  look(bottom);
  for (const soc of battery.knots) if (soc > bottom && soc < top) look(soc);
  look(top);
  let capacity = battery.capacity(0);
  for (const rate of read.reading(read.self, 'capacity')?.knots ?? [])
    capacity = Math.min(capacity, battery.capacity(rate * battery.strings));
  return { emf, voltageMin, resistance, currentMax, capacity };
}

/** Of the state of charge, what a discharge uses under the duty. */
const depth = defineFigures({
  name: 'discharged_depth',
  on: 'battery',
  axes: ['duty'],
  names: ['depth'],
  compute: read => {
    const { bottom, top } = socSpan(read, read.self, read.demand);
    return [top - bottom];
  },
});

const powerPoints = pointsOf(dcSide);

/** Of a discharge: the converter of a battery that gives the same charge at every rate. */
function converterAlone(read: Read): Component | undefined {
  return discharges(read) && read.axisOf(read.self, 'capacity') === undefined ? onlyConverter(read) : undefined;
}

function discharges(read: Read): boolean {
  return !Number.isNaN(read.number(read.demand, 'discharge'));
}

/** s; NaN where nothing is discharged, 0 where a limit may end it. By rate, the least capacity of all counts. */
export const surelyLasts = defineFigures({
  name: 'surely_lasts',
  on: 'battery',
  axes: ['duty'],
  names: ['time'],
  taken: where(
    converterAlone,
    takenBy(
      [worstOnSpan, middleSource, depth.figure.depth, there(plainWay), there(mostTaken.figure.power)],
      (into, columns, of) => {
        const [worst] = columns[of[0]!] as readonly (WorstOnSpan | undefined)[];
        const [source] = columns[of[1]!] as readonly (Source | undefined)[];
        const [used] = columns[of[2]!] as readonly number[];
        const [way] = columns[of[3]!] as readonly (PlainWay | undefined)[];
        const [taken] = columns[of[4]!] as readonly number[];
        if (worst === undefined || source === undefined || way === undefined) return;
        into[0] = leastTime(worst, powerOfSource(source, { wires: way.wires, choppers: [] }, way.share, taken!), used!);
      },
    ),
  ),
  column: read => {
    if (!discharges(read)) return () => [];
    const converter = converterOf(read);
    const worst = read.step(read.self, worstOnSpan, noPoint);
    const source = read.step(read.self, middleSource, noPoint);
    const way = converter && dcWayUnder(read, converter);
    if (converter === undefined || worst === undefined || source === undefined || way === undefined) return () => [];
    const share = read.route(converter)!.batteryShare;
    const powerAt = (taken: number): number => powerOfSource(source, way, share, taken);
    const time = leastTime(
      worst,
      powerAt(read.figure(converter, mostTaken.figure.power, noPoint)),
      read.figure(read.self, depth.figure.depth, noPoint),
    );
    const rated = read.reading(read.self, 'capacity');
    if (rated?.axis !== undefined && !Number.isNaN(time)) {
      const perWatt = 1 / source.emf / read.value(read.self, stringsInService, noPoint);
      for (const at of powerPoints) {
        const power = powerAt(read.figure(converter, dcSide.figure.power, at));
        if (power > 0) read.reach(read.self, 'capacity', rated, power * perWatt);
      }
    }
    return () => [time];
  },
});

function leastTime(worst: WorstOnSpan, power: number, used: number): number {
  return power > 0 ? leastDischargeTime(worst, power, used) : 0;
}
