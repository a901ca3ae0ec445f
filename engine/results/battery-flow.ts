// What a battery carries under a duty: alone on its converter, or as one of several side by side.
import type { Component } from '../model/plant.ts';
import type { Route } from '../model/topology.ts';
import { bankUnder, carriedBy, currentOf } from './bank.ts';
import type { DcFlow } from './dc-way.ts';
import { type At, defineStep } from './definition.ts';
import { dcFlow, endsOf, netFlow } from './flow.ts';
import type { Read } from './read.ts';

export interface BatteryFlow {
  /** A: what one route takes of the battery. */
  readonly routeCurrent: number;
  /** A of the whole battery, all its routes taking what belongs to them. */
  readonly current: number;
  /** V at its terminals, and without current. */
  readonly voltage: number;
  readonly emf: number;
}

/** Of each route that has a solution. Each of them sees the same voltage. */
export function batteryFlows(read: Read, at: At): readonly BatteryFlow[] {
  return read.routes(read.self).flatMap(route => flowOn(read, route, at) ?? []);
}

function flowOn(read: Read, route: Route, at: At): BatteryFlow | undefined {
  const converter = read.component(route.converter);
  const solved = converter === undefined ? undefined : read.step(converter, dcFlow, at);
  if (converter === undefined || solved?.ok !== true) return undefined;
  return route.batteries.length === 1 ? alone(route, solved) : amongSeveral(read, converter, route, solved, at);
}

/** Of the first of them. */
export const batteryFlow = defineStep<BatteryFlow | undefined>({
  name: 'battery_flow',
  on: 'battery',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  column: read => {
    const routes = read.routes(read.self);
    return at => {
      for (const route of routes) {
        const flow = flowOn(read, route, at);
        if (flow !== undefined) return flow;
      }
      return undefined;
    };
  },
});

type Solved = Extract<DcFlow, { ok: true }>;

function alone(route: Route, { stores }: Solved): BatteryFlow {
  const { current, batteryVoltage, emf } = stores[0]!;
  return { routeCurrent: current, current: current / route.batteryShare, voltage: batteryVoltage, emf };
}

function amongSeveral(read: Read, converter: Component, route: Route, solved: Solved, at: At): BatteryFlow | undefined {
  const bank = bankUnder(read, converter);
  const place = bank?.packs.findIndex(({ battery }) => battery === read.self) ?? -1;
  if (bank === undefined || place < 0) return undefined;
  const socs = endsOf(read, bank, at.soc);
  const pack = bank.packs[place]!;
  const soc = socs[place]!;
  const shared = bank.net && read.step(converter, netFlow, at);
  if (shared !== undefined) {
    // What each converter draws adds up, and each takes of the battery what it draws by itself.
    const drawn = shared.currents.map((current, index) => current * shared.response.taps[index]!.sourceParts[place]!);
    const current = drawn.reduce((sum, part) => sum + part, 0);
    return { routeCurrent: drawn[bank.net!.own]!, ...carriedBy(pack, soc, current), emf: pack.model.emf(soc) };
  }
  const routeCurrent = currentOf(bank, place, bank.at(socs), solved.stores);
  return { routeCurrent, ...carriedBy(pack, soc, routeCurrent / route.batteryShare), emf: pack.model.emf(soc) };
}
