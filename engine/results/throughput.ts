// What repeated duties pass through the battery in a year, and how long its warranty lasts with that.
import { equivalentCycles, warrantyLife, year } from '../physics/throughput.ts';
import { defineResult, defineStep, type Limit } from './definition.ts';
import { converterOf, usualPower } from './energy.ts';
import { spanEnergy } from './span-energy.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** J that one duty has the battery deliver in a year; 0 where it does not come again, or charges. */
const yearlyOfDuty = defineStep<number>({
  name: 'yearly_of_duty',
  on: 'battery',
  axes: ['duty'],
  compute: read => {
    const duty = read.demand;
    const [duration, repeat] = [read.number(duty, 'duration'), read.number(duty, 'repeat')];
    const converter = duration > 0 && repeat > 0 ? converterOf(read) : undefined;
    if (converter === undefined) return 0;
    const power = usualPower(read, converter, duty);
    return power > 0 ? (power * duration * 365 * 86_400) / repeat : 0;
  },
});

export const yearlyThroughput = defineResult({
  name: 'yearly_throughput',
  on: 'battery',
  dimension: 'energy',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Energy that the battery delivers in a year of 365 days if every repeated discharge duty runs as often as it says.',
  formula: 'W_a = Σ P · t_duration · (365 d / t_repeat)',
  source: 'definition',
  compute: read => {
    let sum = 0;
    for (const duty of read.duties) sum += read.step(read.self, yearlyOfDuty, noPoint, duty) ?? Number.NaN;
    return sum > 0 ? sum : Number.NaN;
  },
});

export const yearlyCycles = defineResult({
  name: 'yearly_cycles',
  on: 'battery',
  dimension: 'count',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Equivalent full cycles in a year: what is delivered, in uses of the whole span.',
  formula: 'n = W_a / W_span',
  source: 'one equivalent full cycle delivers the usable energy once: common practice, no source',
  compute: read =>
    equivalentCycles(read.value(read.self, yearlyThroughput, noPoint), read.value(read.self, spanEnergy, noPoint)) ??
    Number.NaN,
});

const warrantyEnd = defineStep<{ readonly years: number; readonly limit: Limit | undefined } | undefined>({
  name: 'warranty_end',
  on: 'battery',
  axes: [],
  compute: read => {
    const stated = (property: string, unit = 1): number | undefined => {
      const value = read.number(read.self, property) / unit;
      return Number.isNaN(value) ? undefined : value;
    };
    const [energy, cycles, years] = [
      stated('throughput_warranty'),
      stated('warranty_cycles'),
      stated('warranty_time', year),
    ];
    const warranty = {
      ...(energy === undefined ? {} : { energy }),
      ...(cycles === undefined ? {} : { cycles }),
      ...(years === undefined ? {} : { years }),
    };
    if (Object.keys(warranty).length === 0) return undefined;
    const yearly = read.value(read.self, yearlyThroughput, noPoint);
    const life = warrantyLife(warranty, yearly, read.value(read.self, spanEnergy, noPoint));
    if (life === undefined || life.endedBy === undefined) return undefined;
    const limits = { energy: 'warranty_energy', cycles: 'warranty_cycles', years: 'warranty_time' } as const;
    return { years: life.years, limit: limits[life.endedBy] };
  },
});

export const warrantyTime = defineResult({
  name: 'warranty_life',
  on: 'battery',
  dimension: 'time',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Time until the warranty ends with what repeated duties deliver: by energy, by full cycles or by its years.',
  formula: 't = min(W_warranty / W_a, n_warranty / n_a, t_warranty)',
  source: 'definition',
  compute: read => (read.step(read.self, warrantyEnd, noPoint)?.years ?? Number.NaN) * year,
  limit: read => read.step(read.self, warrantyEnd, noPoint)?.limit,
});

export const throughputResults = [yearlyThroughput, spanEnergy, yearlyCycles, warrantyTime];
