// The battery of a converter, or several side by side: what they are together, and what one of them carries.
import type { Component } from '../model/plant.ts';
import type { Route, RouteBranch, RouteNet } from '../model/topology.ts';
import { equalising, type Source, type Together, together } from '../physics/bank.ts';
import { type DcNet, type NetResponse, type NetState, netResponse, netState } from '../physics/dc-net.ts';
import { type BatteryModel, batteryModel } from './battery-model.ts';
import { loopOf, type StoreFlow, wiresOf } from './dc-way.ts';
import type { Step } from './definition.ts';
import { type DutyBattery, dutyBattery } from './duty-battery.ts';
import { linkShare } from './link-share.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export interface Bank<Model extends BatteryModel = BatteryModel> {
  readonly packs: readonly Pack<Model>[];
  /** Those on one pair of conductors: all of them, or those behind each of several choppers. */
  readonly groups: readonly Group[];
  /**
   * What each group is at a state of charge of each battery, in the order of `packs`, as are the parts: nothing for a
   * battery of another group. Looks at nothing more.
   */
  readonly at: (socs: readonly number[]) => readonly Together[];
  /** Only of batteries on a net of cables. */
  readonly net?: BankNet;
}

export interface BankNet {
  /** Tags of the cables and of the converters, and the own one's place among these. */
  readonly runs: readonly string[];
  readonly converters: readonly string[];
  readonly own: number;
  /** What each converter's current does to the net, the batteries in the order of the packs. */
  readonly at: (socs: readonly number[]) => NetResponse | undefined;
  /** The part of all current that each cable carries, where the converters share by their ratings. */
  readonly byRating: (socs: readonly number[]) => readonly number[] | undefined;
}

export interface Pack<Model extends BatteryModel = BatteryModel> {
  readonly battery: Component;
  readonly model: Model;
}

export interface Group {
  /** Places among the packs. */
  readonly members: readonly number[];
  /** The part of the power of all groups that this one carries: 1 where there is no other. */
  readonly share: number;
  /** A out of each of its batteries while the converters take nothing, in the order of `members`. */
  readonly idle: (socs: readonly number[]) => readonly number[];
}

/** The batteries of a converter as a duty finds them; undefined where one of them isn’t known. */
export function bankUnder(read: Read, converter: Component, duty = read.duty): Bank<DutyBattery> | undefined {
  return bankOf(read, read.route(converter, read.unitLost(duty)), dutyBattery, duty);
}

/** The batteries of a converter as they stand. */
export function bankAtRest(read: Read, converter: Component): Bank | undefined {
  return bankOf(read, read.route(converter), batteryModel, read.duty);
}

function bankOf<Model extends BatteryModel>(
  read: Read,
  route: Route | undefined,
  step: Step<Model | undefined>,
  duty: Component | undefined,
): Bank<Model> | undefined {
  const packs: Pack<Model>[] = [];
  for (const tag of route?.batteries ?? []) {
    const battery = read.component(tag);
    const model = battery && read.step(battery, step, noPoint, duty);
    if (battery === undefined || model === undefined) return undefined;
    packs.push({ battery, model });
  }
  const [only] = packs;
  if (route === undefined || only === undefined) return undefined;
  if (packs.length === 1)
    return { packs, groups: [{ members: [0], share: 1, idle: () => [0] }], at: ([soc]) => [alone(only.model, soc!)] };
  if (route.net !== undefined) return netBank(read, route.converter, route.net, packs);
  const groups = route.cells.length < 2 ? [groupOf(read, route.branches, packs, 1)] : groupsOf(read, route, packs);
  return { packs, groups, at: socs => groups.map(group => inOrder(group, packs.length, socs)) };
}

/**
 * All converters on the net take their parts of one current, by their ratings, as converters on one battery do; where the
 * power of each is known, `net` has what each makes of it.
 */
function netBank<Model extends BatteryModel>(
  read: Read,
  tag: string,
  net: RouteNet,
  packs: readonly Pack<Model>[],
): Bank<Model> {
  const { points, taps, own } = net;
  const runs = net.runs.map(({ tag: cable, from, to }) => ({ from, to, resistance: loopOf(read, cable) }));
  const netAt = (socs: readonly number[]): DcNet => {
    const sources = packs.map(({ model }, index) => ({
      point: net.batteries[index]!,
      emf: model.emf(socs[index]!),
      resistance: model.resistance(socs[index]!),
    }));
    return { points, runs, sources, taps };
  };
  const stateAt = (socs: readonly number[]): NetState | undefined => netState(netAt(socs));
  const unknown = packs.map(() => Number.NaN);
  const idle = (socs: readonly number[]) => stateAt(socs)?.sourceIdle ?? unknown;
  return {
    packs,
    groups: [{ members: [...packs.keys()], share: 1, idle }],
    at: socs => {
      const state = stateAt(socs);
      if (state === undefined) return [{ emf: Number.NaN, resistance: Number.NaN, parts: unknown }];
      return [{ emf: state.idle[own]!, resistance: -state.slope[own]!, parts: state.sourceParts }];
    },
    net: {
      runs: net.runs.map(each => each.tag),
      converters: taps.map(({ converter }) => converter),
      own: taps.findIndex(({ converter }) => converter === tag),
      at: socs => netResponse(netAt(socs)),
      byRating: socs => stateAt(socs)?.runParts,
    },
  };
}

function alone({ emf, resistance }: BatteryModel, soc: number): Together {
  return { emf: emf(soc), resistance: resistance(soc), parts: onePart };
}

const onePart: readonly number[] = [1];

/** Of several choppers, the batteries behind each. */
function groupsOf(read: Read, { cells }: Route, packs: readonly Pack[]): readonly TreeGroup[] {
  return cells.map(({ chopper, branches, batteries }) => {
    const share = read.value(read.component(chopper)!, linkShare, noPoint);
    const [first] = batteries;
    return groupOf(read, branches.length > 0 ? branches : [{ elements: [], battery: first, branches }], packs, share);
  });
}

/** Behind each other and side by side. */
interface TreeGroup extends Group {
  /** What its batteries are at these states of charge, each behind its cables, in the order of `members`. */
  readonly sources: (socs: readonly number[]) => readonly Source[];
}

function groupOf(read: Read, branches: readonly RouteBranch[], packs: readonly Pack[], share: number): TreeGroup {
  const wired = branches.map(branch => wiredBranch(read, branch, packs));
  const sources = (socs: readonly number[]) => wired.map(branch => sourceOf(branch, packs, socs));
  return { members: wired.flatMap(membersOf), share, sources, idle: socs => equalising(sources(socs)) };
}

function inOrder({ members, sources }: TreeGroup, count: number, socs: readonly number[]): Together {
  const all = sources(socs);
  const [first] = all;
  // Alone it needs no resistance by which to share.
  const found = all.length === 1 && 'emf' in first! ? { ...first, parts: onePart } : together(all);
  const parts = new Array<number>(count).fill(0);
  for (const [index, member] of members.entries()) parts[member] = found.parts[index]!;
  return { ...found, parts };
}

/** A branch with the resistance of its cables, both poles, Ω of the whole branch; leaves by their place among the packs. */
interface Wired {
  readonly wires: number;
  readonly pack: number | undefined;
  readonly branches: readonly Wired[];
}

function wiredBranch(read: Read, branch: RouteBranch, packs: readonly Pack[]): Wired {
  const pack = packs.findIndex(({ battery }) => battery.tag === branch.battery);
  return {
    wires: wiresOf(read, branch.elements, false),
    pack: pack < 0 ? undefined : pack,
    branches: branch.branches.map(inner => wiredBranch(read, inner, packs)),
  };
}

function membersOf({ pack, branches }: Wired): readonly number[] {
  return pack === undefined ? branches.flatMap(membersOf) : [pack];
}

function sourceOf({ wires, pack, branches }: Wired, packs: readonly Pack[], socs: readonly number[]): Source {
  if (pack === undefined) return { resistance: wires, sources: branches.map(inner => sourceOf(inner, packs, socs)) };
  const { emf, resistance } = packs[pack]!.model;
  return { emf: emf(socs[pack]!), resistance: resistance(socs[pack]!) + wires };
}

/** The place of the group to which a battery belongs, by its place among the packs. */
export function groupWith({ groups }: Bank, pack: number): number {
  return groups.findIndex(({ members }) => members.includes(pack));
}

/** The part of what all batteries give over a whole run that one of them gives. */
export function partOfRun(bank: Bank, battery: Component): number {
  const pack = bank.packs.findIndex(each => each.battery === battery);
  const group = bank.groups[groupWith(bank, pack)];
  return group === undefined ? Number.NaN : group.share * partInGroup(bank, group, pack);
}

/**
 * The part of what its group gives over a whole run that one battery gives: by capacity, since batteries side by side come
 * back to one voltage at rest, and so to one state of charge.
 */
export function partInGroup({ packs }: Bank, { members }: Group, pack: number): number {
  const capacityOf = (place: number): number => packs[place]!.model.capacity(0);
  return members.length === 1 ? 1 : capacityOf(pack) / members.reduce((sum, member) => sum + capacityOf(member), 0);
}

/** What one route takes of a battery (A), by its place among the packs: its part of what its group gives. */
export function currentOf(bank: Bank, pack: number, stores: readonly Together[], flows: readonly StoreFlow[]): number {
  const group = groupWith(bank, pack);
  return flows[group]!.current * stores[group]!.parts[pack]!;
}

/** One battery’s own part of the current, all its converters together (A), and the voltage at its terminals (V). */
export function carriedBy(
  { model }: Pack,
  soc: number,
  current: number,
): { readonly current: number; readonly voltage: number } {
  return { current, voltage: model.emf(soc) - current * model.resistance(soc) };
}
