// Power through one converter's route under a duty: phasors on the network side, current and voltage on the battery's.
import type { Component } from '../model/plant.ts';
import { powerAtLink } from '../physics/chopper.ts';
import { acFromDc, dcFromAc } from '../physics/converter.ts';
import { type LadderSolution, solveLadder, solveLadderFromConverter } from '../physics/ladder.ts';
import { type AcPath, acPathAt } from './ac-path.ts';
import { bankUnder, groupWith, partInGroup } from './bank.ts';
import { type At, defineFigures, defineResult, defineStep, pointsOf } from './definition.ts';
import { linkShare } from './link-share.ts';
import { lossModel, lossModels } from './loss-model.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export interface Demand {
  /** W, towards the network positive, at the place where the duty is measured; this route's share. */
  readonly active: number;
  /** var, delivered to the network positive. */
  readonly reactive: number;
  readonly place: 'grid' | 'converter' | 'battery' | { readonly tag: string };
}

/** What a duty asks of this route; undefined where it asks nothing in this direction of reactive power. */
export const demand = defineStep<Demand | undefined>({
  name: 'demand',
  on: 'converter',
  axes: ['duty', 'direction'],
  compute: (read, at) => {
    const duty = read.demand;
    const route = read.route(read.self);
    if (route === undefined) return undefined;
    const discharge = read.number(duty, 'discharge');
    const active = Number.isNaN(discharge) ? -read.number(duty, 'charge') : discharge;
    if (Number.isNaN(active)) return undefined;
    const asked = read.word(duty, 'at');
    const { place, share } = demandPlace(read, asked, route.grid);
    if (place === undefined) return undefined;
    const reactive = place === 'battery' ? 0 : reactiveDemand(read, duty, Math.abs(active), at.direction === 0);
    return reactive === undefined ? undefined : { active: active * share, reactive: reactive * share, place };
  },
});

function demandPlace(
  read: Read,
  asked: string | undefined,
  grid: string | undefined,
): { place: Demand['place'] | undefined; share: number } {
  const route = read.route(read.self)!;
  if (asked === undefined || asked === grid)
    return { place: grid === undefined ? undefined : 'grid', share: route.gridShare };
  if (asked === read.self.tag) return { place: 'converter', share: 1 };
  const battery = asked !== undefined && route.batteries.includes(asked) ? read.component(asked) : undefined;
  if (battery !== undefined) {
    const bank = route.batteries.length === 1 ? undefined : bankUnder(read, read.self);
    if (bank === undefined) return { place: 'battery', share: route.batteryShare };
    const pack = bank.packs.findIndex(each => each.battery === battery);
    const part = partInGroup(bank, bank.groups[groupWith(bank, pack)]!, pack);
    return { place: 'battery', share: route.batteryShare / part };
  }
  const passed = route.ac.find(element => element.tag === asked);
  return passed === undefined ? { place: undefined, share: 0 } : { place: { tag: asked }, share: passed.share };
}

/** A bare power factor must be met both ways; a stated direction or a reactive power rules the other way out. */
function reactiveDemand(read: Read, duty: Component, active: number, delivering: boolean): number | undefined {
  const stated = read.number(duty, 'reactive');
  if (!Number.isNaN(stated)) return stated >= 0 === delivering ? stated : undefined;
  const factor = read.numberFact(duty, 'power_factor');
  if (factor === undefined) return delivering ? 0 : undefined;
  const only =
    factor.clauses['delivering'] !== undefined ? true : factor.clauses['absorbing'] !== undefined ? false : undefined;
  if (only !== undefined && only !== delivering) return undefined;
  const reactive = active * Math.sqrt(Math.max(0, 1 / (factor.nominal * factor.nominal) - 1));
  // Without reactive power the two directions are one.
  if (reactive === 0 && only === undefined && !delivering) return undefined;
  return delivering ? reactive : -reactive;
}

/** While forming the plant makes the voltage itself, and there is no network. */
export function forms(read: Read, duty: Component): boolean {
  return read.word(duty, 'mode') === 'forming';
}

/**
 * Line-to-line voltage at the connection point for a duty: of the network inside the span that it must hold in full, of
 * an island what the plant holds. Where that span lies to one side of the nominal voltage, its nearer end takes the
 * nominal's place.
 */
export function networkVoltage(read: Read, grid: Component, duty: Component | undefined, at: At): number {
  const nominal = read.number(grid, 'voltage');
  if (duty !== undefined && read.has(duty, 'voltage')) {
    const [low, high] = [read.number(duty, 'voltage', 'low'), read.number(duty, 'voltage', 'high')];
    return at.voltage === 1 ? Math.min(Math.max(nominal, low), high) : at.voltage === 0 ? low : high;
  }
  if (at.voltage === 1) return nominal;
  if (duty !== undefined && forms(read, duty)) return nominal;
  const value = read.number(grid, 'voltage', at.voltage === 0 ? 'low' : 'high');
  return at.voltage === 0 ? Math.min(value, nominal) : Math.max(value, nominal);
}

export type Flow =
  | { readonly ok: true; readonly ladder: LadderSolution; readonly path: AcPath }
  | { readonly ok: false; readonly largest: number };

/** The solved ladder; not ok with the largest active power that has a solution; undefined where facts are missing. */
export const flow = defineStep<Flow | undefined>({
  name: 'flow',
  on: 'converter',
  axes: ['duty', 'direction', 'voltage'],
  compute: (read, at) => {
    const asked = read.step(read.self, demand, at);
    const gridTag = read.route(read.self)?.grid;
    const grid = gridTag === undefined ? undefined : read.component(gridTag);
    if (asked === undefined || grid === undefined) return undefined;
    const voltage = networkVoltage(read, grid, read.demand, at);
    const path = acPathAt(read, voltage, at);
    if (path === undefined) return undefined;
    const solved = solveFor(read, asked, path, voltage);
    if (solved === undefined) return undefined;
    if (solved.ok) return { ok: true, ladder: solved, path };
    return solved.problem === 'no_solution' ? { ok: false, largest: solved.largestActivePower } : undefined;
  },
});

/** The ladder with what is asked where it is asked; undefined where a fact is missing. */
export function solveFor(read: Read, asked: Demand, path: Pick<AcPath, 'elements' | 'parts'>, voltage: number) {
  if (asked.place === 'grid') return solveLadder(path.elements, voltage, asked.active, asked.reactive);
  if (asked.place === 'converter')
    return solveLadderFromConverter(path.elements, voltage, asked.active, asked.reactive);
  if (asked.place === 'battery') return solveFromBattery(read, asked, path, voltage);
  const { tag } = asked.place;
  const part = path.parts.find(candidate => candidate.tag === tag);
  return part === undefined
    ? undefined
    : solveLadderFromConverter(path.elements, voltage, asked.active, asked.reactive, part.from);
}

/** The converter's loss depends on its current, which depends on what is left of the power: a few rounds settle it. */
function solveFromBattery(read: Read, asked: Demand, path: Pick<AcPath, 'elements' | 'parts'>, voltage: number) {
  const direct = powerBehind(read, asked.active);
  const losses = lossModels(read);
  let current = 0;
  let solved: ReturnType<typeof solveLadderFromConverter> | undefined;
  for (let round = 0; round < 30; round++) {
    const model = losses(current);
    const power = model === undefined ? undefined : acFromDc(direct, current, model);
    if (power === undefined || !power.ok) return undefined;
    solved = solveLadderFromConverter(path.elements, voltage, power.acPower, 0);
    if (!solved.ok || Math.abs(solved.terminalCurrent - current) <= 1e-12 * solved.terminalCurrent) return solved;
    current = solved.terminalCurrent;
  }
  return solved;
}

/** W on the converter's DC side where the batteries behind the duty's own chopper take or give this; others do their part. */
function powerBehind(read: Read, power: number): number {
  const battery = read.word(read.demand, 'at');
  const cell = read.route(read.self)?.cells.find(({ batteries }) => batteries.some(tag => tag === battery));
  const chopper = cell && read.component(cell.chopper);
  if (chopper === undefined) return power;
  return powerAtLink(power, read.number(chopper, 'efficiency')) / read.value(chopper, linkShare, noPoint);
}

export const terminalPower = defineResult({
  name: 'terminal_power',
  on: 'converter',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Active power at the converter terminals under the duty, towards the network positive.',
  formula: 'P_c = P_n + losses of cables, transformer and filter',
  source: 'circuit theory: cascaded two-ports',
  compute: (read, at) => {
    const solved = read.step(read.self, flow, at);
    return solved?.ok === true ? solved.ladder.terminalActivePower : Number.NaN;
  },
});

export const dcPower = defineResult({
  name: 'dc_power',
  on: 'converter',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Power on the battery side of the converter, positive while discharging.',
  formula: 'P_dc = P_c + P_v',
  source: 'conservation of energy',
  compute: (read, at) => read.figure(read.self, dcSide.figure.power, at),
});

/** W: the power out of the battery's DC side of the converter, negative while charging, and the converter's loss. */
export const dcSide = defineFigures({
  name: 'dc_side',
  on: 'converter',
  axes: ['duty', 'direction', 'voltage'],
  names: ['power', 'loss'],
  shownAs: () => [dcPower],
  compute: (read, at) => {
    const solved = read.step(read.self, flow, at);
    if (solved === undefined || !solved.ok) return [];
    const { terminalActivePower, terminalCurrent } = solved.ladder;
    const model = lossModel(read, terminalCurrent);
    const power = model === undefined ? undefined : dcFromAc(terminalActivePower, terminalCurrent, model);
    return power?.ok === true ? [power.dcPower, power.loss] : [];
  },
});

/** The most that the converter takes under the duty, W at its DC side: with it the battery lasts least. */
export const mostTaken = defineFigures({
  name: 'most_taken',
  on: 'converter',
  axes: ['duty'],
  names: ['power'],
  compute: read => {
    let most = Number.NEGATIVE_INFINITY;
    for (const at of pointsOf(dcSide)) {
      const power = read.figure(read.self, dcSide.figure.power, at);
      if (power > most) most = power;
    }
    return [most];
  },
});

export const flowResults = [terminalPower, dcPower];
