// Results of a duty over the whole plant: what crosses the connection point, and how well.
import type { Component } from '../model/plant.ts';
import type { Route } from '../model/topology.ts';
import { storesUnder } from './dc-flow.ts';
import { type At, defineResult } from './definition.ts';
import { flow } from './flow.ts';
import type { Read } from './read.ts';

/** The routes that the duty asks for something. */
function served(read: Read, at: At): readonly { route: Route; converter: Component }[] {
  const routes = read.allRoutes();
  return routes.flatMap(route => {
    const converter = read.component(route.converter);
    return converter !== undefined && read.step(converter, flow, at, read.self)?.ok === true
      ? [{ route, converter }]
      : [];
  });
}

function networkSum(read: Read, at: At, what: 'activePower' | 'reactivePower'): number {
  const those = served(read, at);
  if (those.length === 0) return Number.NaN;
  return those.reduce((sum, { converter }) => {
    const solved = read.step(converter, flow, at, read.self);
    return sum + (solved?.ok === true ? solved.ladder[what][0]! : Number.NaN);
  }, 0);
}

export const networkPower = defineResult({
  name: 'network_power',
  on: 'duty',
  dimension: 'active_power',
  axes: ['direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Active power at the connection point during the duty, towards the network positive.',
  formula: 'P_n = Re(U_n · I_n*) · √3',
  source: 'definition',
  compute: (read, at) => networkSum(read, at, 'activePower'),
});

export const networkReactivePower = defineResult({
  name: 'network_reactive_power',
  on: 'duty',
  dimension: 'reactive_power',
  axes: ['direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Reactive power at the connection point during the duty, delivered to the network positive.',
  formula: 'Q_n = Im(U_n · I_n*) · √3',
  source: 'definition',
  compute: (read, at) => networkSum(read, at, 'reactivePower'),
});

export const efficiency = defineResult({
  name: 'efficiency',
  on: 'duty',
  dimension: 'ratio',
  axes: ['direction', 'voltage', 'soc'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning: 'Power that leaves as a share of power that enters between connection point and open-circuit battery.',
  formula: 'η = P_n / (E·I) while discharging, (E·I) / P_n while charging',
  source: 'conservation of energy',
  compute: (read, at) => {
    const network = read.value(read.self, networkPower, at, read.self);
    let inner = 0;
    for (const { converter } of served(read, at)) {
      const stores = storesUnder(read, converter, at, read.self);
      if (stores === undefined) return Number.NaN;
      inner += stores.reduce((sum, { current, emf }) => sum + current * emf, 0);
    }
    return network > 0 ? network / inner : inner / network;
  },
});

export const dutyResults = [networkPower, networkReactivePower, efficiency];
