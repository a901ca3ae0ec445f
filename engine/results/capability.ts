// What a converter can do: the active and reactive power that its limits leave, at each voltage of the network.
//
// Too much for a result of every plant: it is made only for whoever asks.
import type { Component } from '../model/plant.ts';
import { dcFromAc } from '../physics/converter.ts';
import type { LadderSolution } from '../physics/ladder.ts';
import { solveLadder } from '../physics/ladder.ts';
import { type Nearest, type Outline, outlineOf } from '../physics/region.ts';
import { acPath, acPathAt } from './ac-path.ts';
import { bankAtRest, carriedBy, currentOf } from './bank.ts';
import { ratedCurrent } from './converter-current.ts';
import { modulationFactor } from './converter-voltage.ts';
import { alongDcWay, type DcFlow, dcWay } from './dc-way.ts';
import { type At, defineStep } from './definition.ts';
import { networkVoltage } from './flow.ts';
import { lossModels } from './loss-model.ts';
import { ratedPower } from './reactive.ts';
import type { Read } from './read.ts';
import { siteFactor } from './transformer-thermal.ts';

/** What binds a stretch of the outline. */
export type CapabilityLimit =
  | 'converter_current'
  | 'voltage_available'
  | 'ac_voltage'
  | 'transformer'
  | 'dc_current'
  | 'battery';

export interface CapabilityOutline {
  /** At the connection point, line to line, V. */
  readonly networkVoltage: number;
  /** x: W, y: var, both delivered to the network; this converter's share, all others on its way doing as it does. */
  readonly outline: Outline<CapabilityLimit>;
}

type Judge = (ladder: LadderSolution) => Nearest<CapabilityLimit>;

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

/** Nominal parts, the battery at rest at the bottom of its span and no reserves; undefined where a fact is missing. */
export const capability = defineStep<CapabilityOutline | undefined>({
  name: 'capability',
  on: 'converter',
  axes: ['voltage'],
  compute: (read, at) => {
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    const rated = read.value(read.self, ratedPower, noPoint);
    if (grid === undefined || !(rated > 0)) return undefined;
    const voltage = networkVoltage(read, grid, undefined, at);
    const path = acPathAt(read, voltage, at);
    if (path === undefined) return undefined;
    const judges = [...alternatingSide(read), directSide(read)].filter(judge => judge !== undefined);
    if (!(voltage > 0)) return undefined;
    const nearest = (active: number, reactive: number): Nearest<CapabilityLimit> => {
      const ladder = solveLadder(path.elements, voltage, active, reactive);
      if (!ladder.ok) return { limit: 'converter_current', margin: -1 };
      return judges.map(judge => judge(ladder)).reduce((a, b) => (b.margin < a.margin ? b : a));
    };
    return { networkVoltage: voltage, outline: outlineOf(nearest, 2 * rated) };
  },
});

function alternatingSide(read: Read): Judge[] {
  const rated = read.value(read.self, ratedCurrent, noPoint);
  const low = read.number(read.self, 'ac_voltage', 'low');
  const high = read.number(read.self, 'ac_voltage', 'high');
  const judges: Judge[] = [ladder => ({ limit: 'converter_current', margin: 1 - ladder.terminalCurrent / rated })];
  if (high > 0) judges.push(ladder => ({ limit: 'ac_voltage', margin: 1 - ladder.terminalVoltage / high }));
  if (low > 0) judges.push(ladder => ({ limit: 'ac_voltage', margin: ladder.terminalVoltage / low - 1 }));
  const path = read.step(read.self, acPath, noPoint);
  for (const passed of read.route(read.self)?.ac ?? []) {
    const transformer = read.component(passed.tag);
    const part = path?.parts.find(({ tag }) => tag === passed.tag);
    if (transformer?.kind.name !== 'transformer' || part === undefined) continue;
    const current = secondaryRating(read, transformer) * passed.share;
    const boundary = passed.reversed ? part.from : part.to;
    judges.push(ladder => ({ limit: 'transformer', margin: 1 - ladder.current[boundary]! / current }));
  }
  return judges;
}

function secondaryRating(read: Read, transformer: Component): number {
  const rated = read.number(transformer, 'rated_power') * read.value(transformer, siteFactor, noPoint);
  return rated / (Math.sqrt(3) * read.number(transformer, 'secondary_voltage'));
}

/** With the battery at the bottom of its span, where control and current are at their worst in either direction. */
function directSide(read: Read): Judge | undefined {
  const bank = bankAtRest(read, read.self);
  const way = read.step(read.self, dcWay, noPoint);
  if (bank === undefined || way === undefined) return undefined;
  const share = read.route(read.self)!.batteryShare;
  const socs = bank.packs.map(({ battery }) => read.number(battery, 'soc', 'low'));
  const stores = bank.at(socs);
  const factor = read.value(read.self, modulationFactor, noPoint);
  const rated = read.number(read.self, 'dc_current');
  const losses = lossModels(read);
  const batteryMargin = (solved: DcFlow & { ok: true }): number => {
    const margins = bank.packs.map((pack, index) => {
      const [soc, least] = [socs[index]!, pack.model.voltageMin(socs[index]!)];
      const { current, voltage } = carriedBy(pack, soc, currentOf(bank, index, stores, solved.stores) / share);
      const limit = current >= 0 ? pack.model.dischargeLimit(soc) : pack.model.chargeLimit(soc);
      const ofCurrent = limit > 0 ? 1 - Math.abs(current) / limit : -Math.abs(current);
      return current > 0 && least > 0 ? Math.min(ofCurrent, voltage / least - 1) : ofCurrent;
    });
    return Math.min(...margins);
  };
  return ladder => {
    const loss = losses(ladder.terminalCurrent);
    const side = loss === undefined ? undefined : dcFromAc(ladder.terminalActivePower, ladder.terminalCurrent, loss);
    const found = side?.ok === true ? alongDcWay(way, stores, share, side.dcPower) : undefined;
    if (found?.ok !== true) return { limit: 'battery', margin: -1 };
    const margins: Nearest<CapabilityLimit>[] = [
      { limit: 'voltage_available', margin: (factor * found.converterVoltage) / ladder.terminalVoltage - 1 },
      { limit: 'battery', margin: batteryMargin(found) },
    ];
    if (rated > 0) margins.push({ limit: 'dc_current', margin: 1 - Math.abs(found.converterCurrent) / rated });
    return margins.reduce((a, b) => (b.margin < a.margin ? b : a));
  };
}
