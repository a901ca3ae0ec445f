// The battery of a converter, or several side by side: what they are together, and what one of them carries.
import type { Component } from '../model/plant.ts';
import type { Route, RouteBranch } from '../model/topology.ts';
import { type Source, type Together, together } from '../physics/bank.ts';
import { type BatteryModel, batteryModel } from './battery-model.ts';
import { wiresOf } from './dc-way.ts';
import type { Step } from './definition.ts';
import { type DutyBattery, dutyBattery } from './duty-battery.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export interface Bank<Model extends BatteryModel = BatteryModel> {
  readonly packs: readonly Pack<Model>[];
  /** At a state of charge of each battery, in the order of `packs`. Looks at nothing more. */
  readonly at: (socs: readonly number[]) => Together;
  /** What they are at these, each behind its cables; a single one has none of its own. */
  readonly sources: (socs: readonly number[]) => readonly Source[];
}

export interface Pack<Model extends BatteryModel = BatteryModel> {
  readonly battery: Component;
  readonly model: Model;
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
  if (route.branches.length === 0)
    return { packs, at: ([soc]) => alone(only.model, soc!), sources: ([soc]) => [sourceOf(single, packs, [soc!])] };
  const branches = route.branches.map(branch => wiredBranch(read, branch, packs));
  const sources = (socs: readonly number[]) => branches.map(branch => sourceOf(branch, packs, socs));
  return { packs, at: socs => together(sources(socs)), sources };
}

function alone({ emf, resistance }: BatteryModel, soc: number): Together {
  return { emf: emf(soc), resistance: resistance(soc), parts: onePart };
}

const onePart: readonly number[] = [1];

/** A branch with the resistance of its cables, both poles, Ω of the whole branch; leaves by their place among the packs. */
interface Wired {
  readonly wires: number;
  readonly pack: number | undefined;
  readonly branches: readonly Wired[];
}

const single: Wired = { wires: 0, pack: 0, branches: [] };

function wiredBranch(read: Read, branch: RouteBranch, packs: readonly Pack[]): Wired {
  const pack = packs.findIndex(({ battery }) => battery.tag === branch.battery);
  return {
    wires: wiresOf(read, branch.elements, false),
    pack: pack < 0 ? undefined : pack,
    branches: branch.branches.map(inner => wiredBranch(read, inner, packs)),
  };
}

function sourceOf({ wires, pack, branches }: Wired, packs: readonly Pack[], socs: readonly number[]): Source {
  if (pack === undefined) return { resistance: wires, sources: branches.map(inner => sourceOf(inner, packs, socs)) };
  const { emf, resistance } = packs[pack]!.model;
  return { emf: emf(socs[pack]!), resistance: resistance(socs[pack]!) + wires };
}

/**
 * The part of what all batteries give over a whole run that one of them gives: by capacity, since batteries side by side
 * come back to one voltage at rest, and so to one state of charge.
 */
export function partOfRun({ packs }: Bank, battery: Component): number {
  if (packs.length === 1) return 1;
  const capacityOf = ({ model }: Pack): number => model.capacity(0);
  const own = packs.find(pack => pack.battery === battery);
  return own === undefined ? Number.NaN : capacityOf(own) / packs.reduce((sum, pack) => sum + capacityOf(pack), 0);
}

/** One battery’s own part of the current, all its converters together (A), and the voltage at its terminals (V). */
export function carriedBy(
  { model }: Pack,
  soc: number,
  current: number,
): { readonly current: number; readonly voltage: number } {
  return { current, voltage: model.emf(soc) - current * model.resistance(soc) };
}
