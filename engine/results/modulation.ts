// How far the converters modulate in operation: the index under each duty, and its ends.
import { type Modulation, voltageFactor } from '../physics/modulation.ts';
import { highestIndex } from '../physics/sidebands.ts';
import { modulationIndexFor } from '../physics/spectrum.ts';
import { dcVoltage, idleVoltage, modulationFactor, terminalVoltage } from './converter-voltage.ts';
import { type At, defineResult, defineStep, pointsOf } from './definition.ts';
import { networkVoltage } from './flow.ts';
import type { Read } from './read.ts';
import { standingDcVoltage } from './standing-dc.ts';

/** A point of operation by what its spectrum depends on. */
export interface Operation {
  readonly index: number;
  readonly dcVoltage: number;
  readonly networkVoltage: number;
}

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

export const modulationIndex = defineResult({
  name: 'modulation_index',
  on: 'converter',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Amplitude of the phase voltage that the duty needs over half the DC voltage; sine modulation ends at 100 %.',
  formula: 'M = 2·√2/√3 · U_c / U_dc',
  source: 'definition',
  compute: (read, at) =>
    modulationIndexFor(read.value(read.self, terminalVoltage, at), read.value(read.self, dcVoltage, at)) ?? Number.NaN,
});

export const modulationIndexMax = defineResult({
  name: 'modulation_index_max',
  on: 'converter',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Highest modulation index in operation: idle with the battery at the bottom of its span, or under a duty.',
  formula: 'M_max = max(M idle, M under every duty)',
  source: 'definition',
  compute: read => {
    const idle = idleIndex(read, 'lowest', 'highest');
    const loaded = read.worst(read.self, modulationIndex, 'highest');
    return Number.isNaN(loaded) || idle > loaded ? idle : loaded;
  },
});

export const modulationIndexMin = defineResult({
  name: 'modulation_index_min',
  on: 'converter',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Lowest modulation index in operation: idle with the battery at the top of its span, or under a duty.',
  formula: 'M_min = min(M idle, M under every duty)',
  source: 'definition',
  compute: read => {
    const idle = idleIndex(read, 'highest', 'lowest');
    const loaded = read.worst(read.self, modulationIndex, 'lowest');
    return Number.isNaN(loaded) || idle < loaded ? idle : loaded;
  },
});

function idleIndex(read: Read, direct: 'highest' | 'lowest', end: 'highest' | 'lowest'): number {
  return modulationIndexFor(read.worst(read.self, idleVoltage, end), standingDcVoltage(read, direct)) ?? Number.NaN;
}

/** Lowest and highest modulation index that the converter can make without overmodulation; empty where none is known. */
export const modulationEnds = defineStep<readonly Operation[]>({
  name: 'modulation_ends',
  on: 'converter',
  axes: [],
  shownAs: () => [modulationIndexMin, modulationIndexMax],
  compute: read => {
    const most = highestIndex(modulationOf(read)) * (1 + 1e-9);
    const possible = [...everyOperation(read)].filter(({ index }) => index > 0 && index <= most);
    if (possible.length === 0) return [];
    const lowest = possible.reduce((a, b) => (b.index < a.index ? b : a));
    const highest = possible.reduce((a, b) => (b.index > a.index ? b : a));
    return lowest.index === highest.index ? [highest] : [lowest, highest];
  },
});

/**
 * The points of operation that may make the largest ripple: of all that switch at as low an index and from as low a DC
 * voltage as another, only that other. Beyond the linear range the end of it counts.
 */
export const hardestOperations = defineStep<readonly Operation[]>({
  name: 'hardest_operations',
  on: 'converter',
  axes: [],
  compute: read => {
    const most = highestIndex(modulationOf(read));
    const all = [...everyOperation(read)]
      .filter(({ index, dcVoltage: direct }) => index > 0 && direct > 0)
      .map(operation => ({ ...operation, index: Math.min(operation.index, most) }))
      .sort((a, b) => b.index - a.index || b.dcVoltage - a.dcVoltage);
    const hardest: Operation[] = [];
    for (const operation of all) if (operation.dcVoltage > (hardest.at(-1)?.dcVoltage ?? 0)) hardest.push(operation);
    return hardest;
  },
});

function* everyOperation(read: Read): Generator<Operation> {
  const tag = read.route(read.self)?.grid;
  const grid = tag === undefined ? undefined : read.component(tag);
  if (grid === undefined) return;
  for (const at of pointsOf(idleVoltage)) {
    const idle = read.value(read.self, idleVoltage, at);
    for (const end of ['lowest', 'highest'] as const) {
      const direct = standingDcVoltage(read, end);
      const index = modulationIndexFor(idle, direct) ?? Number.NaN;
      yield { index, dcVoltage: direct, networkVoltage: networkVoltage(read, grid, undefined, at) };
    }
  }
  for (const duty of read.duties) {
    for (const at of pointsOf(modulationIndex)) {
      const index = read.value(read.self, modulationIndex, at, duty);
      if (Number.isNaN(index)) continue;
      const direct = read.value(read.self, dcVoltage, at, duty);
      yield { index, dcVoltage: direct, networkVoltage: networkVoltage(read, grid, duty, at) };
    }
  }
}

/** The modulation in effect. */
export function modulationOf(read: Read): Modulation {
  const stated = read.word(read.self, 'modulation');
  if (read.value(read.self, modulationFactor, noPoint) === voltageFactor.sine) return 'sine';
  return stated === 'third_harmonic' ? 'third_harmonic' : 'space_vector';
}

/** As `modulationOf`, for who looks from another component. */
export const effectiveModulationOf = defineStep<Modulation>({
  name: 'effective_modulation',
  on: 'converter',
  axes: [],
  shownAs: () => [modulationFactor],
  compute: read => modulationOf(read),
});

export const modulationResults = [modulationIndex, modulationIndexMax, modulationIndexMin];
