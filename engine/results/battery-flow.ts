// What a battery carries under a duty: alone on its converter, or as one of several side by side.
import type { Component } from '../model/plant.ts';
import type { Route } from '../model/topology.ts';
import { bankUnder, carriedBy, currentOf } from './bank.ts';
import { dcFlow, endsOf, isPlain, netFlow, storesUnder } from './dc-flow.ts';
import { type At, defineFigures } from './definition.ts';
import type { Read } from './read.ts';

/** A: what one route takes of the battery, and of the whole battery; V at its terminals, and without current. */
type BatteryFlow = readonly [routeCurrent: number, current: number, voltage: number, emf: number];

/** Of each route that has a solution. Each of them sees the same voltage. */
export function batteryFlows(read: Read, at: At): readonly BatteryFlow[] {
  return read.routes(read.self).flatMap(route => {
    const flow = flowOn(read, route, at);
    return flow === undefined ? [] : [flow];
  });
}

function flowOn(read: Read, route: Route, at: At): BatteryFlow | undefined {
  const converter = read.component(route.converter);
  if (converter === undefined) return undefined;
  return route.batteries.length === 1 ? alone(read, converter, route, at) : amongSeveral(read, converter, route, at);
}

/** Of the first of them. */
export const batteryFlow = defineFigures({
  name: 'battery_flow',
  on: 'battery',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  names: ['routeCurrent', 'current', 'voltage', 'emf'],
  column: read => {
    const routes = read.routes(read.self);
    return at => {
      for (const route of routes) {
        const flow = flowOn(read, route, at);
        if (flow !== undefined) return flow;
      }
      return [];
    };
  },
});

function alone(read: Read, converter: Component, { cells, batteryShare }: Route, at: At): BatteryFlow | undefined {
  if (cells.length > 0) {
    const store = storesUnder(read, converter, at)?.[0];
    return store && [store.current, store.current / batteryShare, store.batteryVoltage, store.emf];
  }
  const { current, whole, batteryVoltage, emf } = dcFlow.figure;
  const [own, all, voltage, idle] = [current, whole, batteryVoltage, emf].map(each => read.figure(converter, each, at));
  return Number.isNaN(own) ? undefined : [own!, all!, voltage!, idle!];
}

/** The converter that a battery has to itself, and that has the battery to itself without a chopper. */
export function onlyConverter(read: Read): Component | undefined {
  const [route, ...more] = read.shapes(read.self);
  if (route === undefined || more.length > 0 || route.batteries.length !== 1 || !isPlain(route)) return undefined;
  return read.component(route.converter);
}

function amongSeveral(read: Read, converter: Component, route: Route, at: At): BatteryFlow | undefined {
  const stores = storesUnder(read, converter, at);
  const bank = stores && bankUnder(read, converter);
  const place = bank?.packs.findIndex(({ battery }) => battery === read.self) ?? -1;
  if (stores === undefined || bank === undefined || place < 0) return undefined;
  const socs = endsOf(read, bank, at.soc);
  const pack = bank.packs[place]!;
  const soc = socs[place]!;
  const shared = bank.net && read.step(converter, netFlow, at);
  const routeCurrents = shared?.currents.map((current, index) => {
    // What each converter draws adds up, and each takes of the battery what it draws by itself.
    return current * shared.response.taps[index]!.sourceParts[place]!;
  });
  const routeCurrent = routeCurrents?.[bank.net!.own] ?? currentOf(bank, place, bank.at(socs), stores);
  const all = routeCurrents?.reduce((sum, part) => sum + part, 0) ?? routeCurrent / route.batteryShare;
  const { current, voltage } = carriedBy(pack, soc, all);
  return [routeCurrent, current, voltage, pack.model.emf(soc)];
}
