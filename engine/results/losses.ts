// Where the power goes: losses of filters, cables and batteries, and the sum of all under a duty.
import type { KindName } from '../kinds/kind.ts';
import { directElements } from '../model/topology.ts';
import { batteryFlows } from './battery-flow.ts';
import { current as cableCurrent } from './cable.ts';
import { loss as chopperLoss } from './chopper.ts';
import { loss as converterLoss } from './converter-current.ts';
import { cableLoop } from './dc-way.ts';
import { type At, defineResult, type Result } from './definition.ts';
import { flow } from './flow.ts';
import type { Read } from './read.ts';
import { loss as transformerLoss } from './transformer.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** What is less than this share of what passes is the rounding of a difference, and no loss. */
const rounding = 1e-13;

/** W in a part of the ladder, all that pass it together; all its routes carry their share alike. */
function ladderLoss(read: Read, at: At): number {
  for (const route of read.routes(read.self)) {
    const converter = read.component(route.converter);
    const solved = converter === undefined ? undefined : read.step(converter, flow, at);
    const part = solved?.ok === true ? solved.path.parts.find(({ tag }) => tag === read.self.tag) : undefined;
    if (solved?.ok !== true || part === undefined) continue;
    const { activePower } = solved.ladder;
    const loss = activePower[part.to]! - activePower[part.from]!;
    return Math.abs(loss) <= rounding * Math.abs(activePower[part.to]!) ? 0 : loss / part.share;
  }
  return Number.NaN;
}

export const filterLoss = defineResult({
  name: 'loss',
  on: 'filter',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Loss in the resistances of choke and damping under the duty, at the fundamental; what ripple and its core add is left out.',
  formula: 'P = Σ R·I², from the ladder',
  source: 'circuit theory: cascaded two-ports',
  compute: ladderLoss,
});

export const cableLoss = defineResult({
  name: 'loss',
  on: 'cable',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Loss of the whole cable run under the duty, conductors at operating temperature.',
  formula: 'P = 3·R·I² (AC), 2·l·R′·I² (direct current)',
  source: 'circuit theory; conductor resistance IEC 60228',
  compute: (read, at) => {
    const onDcSide = read
      .routes(read.self)
      .some(route => directElements(route).some(({ tag }) => tag === read.self.tag));
    if (!onDcSide) return ladderLoss(read, at);
    const resistance = read.figure(read.self, cableLoop.figure.resistance, noPoint);
    const amperes = read.value(read.self, cableCurrent, at);
    return resistance * amperes * amperes;
  },
});

export const batteryLoss = defineResult({
  name: 'loss',
  on: 'battery',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Loss in the battery’s internal resistance under the duty.',
  formula: 'P = R·I²',
  source: 'Kirchhoff',
  compute: (read, at) => {
    let sum = Number.NaN;
    for (const [routeCurrent, , voltage, emf] of batteryFlows(read, at))
      sum = (Number.isNaN(sum) ? 0 : sum) + routeCurrent * (emf - voltage);
    return sum;
  },
});

const lossOf: ReadonlyMap<KindName, Result> = new Map([
  ['transformer', transformerLoss],
  ['filter', filterLoss],
  ['converter', converterLoss],
  ['chopper', chopperLoss],
  ['cable', cableLoss],
  ['battery', batteryLoss],
]);

export const totalLoss = defineResult({
  name: 'total_loss',
  on: 'duty',
  dimension: 'active_power',
  axes: ['direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Loss of everything between connection point and battery, the battery’s own included, under the duty.',
  formula: 'P = Σ losses of transformers, filters, converters, choppers, cables and batteries',
  source: 'conservation of energy',
  compute: (read, at) => {
    let sum = Number.NaN;
    for (const component of read.components) {
      const result = lossOf.get(component.kind.name);
      const part = result === undefined ? Number.NaN : read.value(component, result, at, read.self);
      if (!Number.isNaN(part)) sum = (Number.isNaN(sum) ? 0 : sum) + part;
    }
    return sum;
  },
});

export const lossResults = [filterLoss, cableLoss, batteryLoss, totalLoss];
