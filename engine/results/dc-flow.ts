// Currents and voltages between a converter and its batteries under a duty.
import type { Component } from '../model/plant.ts';
import type { RouteShape } from '../model/topology.ts';
import type { Together } from '../physics/bank.ts';
import { dcFromAc } from '../physics/converter.ts';
import { currentsAtPowers, type NetResponse, voltageAt } from '../physics/dc-net.ts';
import type { Terminals } from '../physics/other-winding.ts';
import { type Bank, bankAtRest, bankUnder } from './bank.ts';
import { askCurves, socSpan } from './battery-model.ts';
import { alongDcWay, alongWires, type DcFlow, dcWayUnder, type StoreFlow, wholeWay } from './dc-way.ts';
import { type At, defineFigures, defineStep, type Figure } from './definition.ts';
import { asTheyStand } from './duty-battery.ts';
import { dcSide } from './flow.ts';
import { lossModels } from './loss-model.ts';
import type { Read } from './read.ts';
import { takenBy, where } from './taken.ts';

/** The bottom (0) or the top of each battery's span under the duty, or of its own. */
export function endsOf(read: Read, { packs }: Bank, end: number): readonly number[] {
  return packs.map(({ battery }) => {
    const span = socSpan(read, battery, read.duty);
    return end === 0 ? span.bottom : span.top;
  });
}

/** What each converter draws from a net of cables that they share, A, in the order of the bank's `net.converters`. */
export interface NetFlow {
  readonly currents: readonly number[];
  readonly response: NetResponse;
}

/** Undefined where there is no such net, where the power of a converter isn't known, or where the net can't carry all. */
export const netFlow = defineStep<NetFlow | undefined>({
  name: 'net_flow',
  on: 'converter',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  column: read => {
    if (read.route(read.self, read.unitLost())?.net === undefined) return () => undefined;
    const bank = bankUnder(read, read.self);
    const net = bank?.net;
    if (net === undefined) return () => undefined;
    const converters = net.converters.map(tag => read.component(tag)!);
    const responses = [0, 1].map(end => net.at(endsOf(read, bank!, end)));
    return at => {
      const response = responses[at.soc];
      const powers = converters.map(each => read.figure(each, dcSide.figure.power, at));
      const currents = response && currentsAtPowers(response, powers);
      return currents && { currents, response };
    };
  },
});

function alongNet({ currents, response }: NetFlow, own: number, share: number): readonly number[] {
  const { point } = response.taps[own]!;
  const voltage = voltageAt(response, currents, point);
  return [currents[own]!, voltage, voltage, response.idle[point]!, Number.NaN, currents[own]! / share];
}

/**
 * What the batteries are together at an end of each one's span under the duty. Apart from the currents that they drive, so
 * that these stay where a curve changes between the ends.
 */
const bankEnds = defineStep<readonly Together[] | undefined>({
  name: 'bank_ends',
  on: 'converter',
  axes: ['duty', 'soc'],
  column: read =>
    asTheyStand(read, read.demand)
      ? at => read.step(read.self, ownEnds, at)
      : togetherAtEnds(read, bankUnder(read, read.self)),
});

/** As they stand, at the ends of their own spans. */
const ownEnds = defineStep<readonly Together[] | undefined>({
  name: 'own_ends',
  on: 'converter',
  axes: ['soc'],
  column: read => togetherAtEnds(read, bankAtRest(read, read.self)),
});

function togetherAtEnds(read: Read, bank: Bank | undefined): (at: At) => readonly Together[] | undefined {
  if (bank === undefined) return () => undefined;
  return ({ soc }) => {
    const socs = endsOf(read, bank, soc);
    for (const [index, { battery }] of bank.packs.entries()) askCurves(read, battery, socs[index]!);
    return bank.at(socs);
  };
}

/** Through choppers, at an end of the duty's state-of-charge span; undefined where there are none, or a fact is missing. */
export const flowThroughChoppers = defineStep<DcFlow | undefined>({
  name: 'flow_through_choppers',
  on: 'converter',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  column: read => {
    const way = dcWayUnder(read, read.self);
    const share = read.route(read.self)?.batteryShare;
    if (way === undefined || way.choppers.length === 0 || share === undefined) return () => undefined;
    return at => {
      const stores = read.step(read.self, bankEnds, at);
      return stores && alongDcWay(way, stores, share, read.figure(read.self, dcSide.figure.power, at));
    };
  },
});

/** From the converter to one battery, or to where the ways to several part, without chopper or net. */
export interface PlainWay {
  /** Ω of the cables, as this route's share of the current sees them. */
  readonly wires: number;
  readonly share: number;
}

/** Undefined where the way is another one. */
export const plainWay = defineStep<PlainWay | undefined>({
  name: 'plain_way',
  on: 'converter',
  axes: ['duty'],
  compute: read => {
    const route = read.route(read.self, read.unitLost());
    const way = dcWayUnder(read, read.self);
    if (route === undefined || way === undefined || !isPlain(route)) return undefined;
    return { wires: way.wires, share: read.route(read.self)!.batteryShare };
  },
});

/** Neither choppers nor a net lie between a converter and its batteries. */
export function isPlain({ net, cells }: RouteShape): boolean {
  return net === undefined && cells.length === 0;
}

const flowNames = ['current', 'voltage', 'batteryVoltage', 'emf', 'largest', 'whole'] as const;

/**
 * On the DC side at an end of the duty's state-of-charge span: A at the converter, and `whole` of all converters that the
 * batteries have; V at the converter, at the battery's terminals and without current, of several where the ways to them
 * part; behind choppers the batteries are left to `flowThroughChoppers`. Positive out of the batteries. Where no current
 * delivers the power, `largest` alone is known: the largest that one does, W at the converter's DC side.
 */
export const dcFlow = defineFigures({
  name: 'dc_flow',
  on: 'converter',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  names: flowNames,
  taken: where(
    // Nothing of another component is needed, only that the way is plain.
    read => {
      const route = read.shapes(read.self)[0];
      return route !== undefined && isPlain(route) ? read.self : undefined;
    },
    takenBy([plainWay, bankEnds, dcSide.figure.power], (into, columns, of, [inWays, inStores, inPowers]) => {
      const ways = columns[of[0]!] as readonly (PlainWay | undefined)[];
      const stores = columns[of[1]!] as readonly (readonly Together[] | undefined)[];
      const powers = columns[of[2]!] as readonly number[];
      for (let index = 0; index < inStores!.length; index++) {
        const store = stores[inStores![index]!]?.[0];
        const way = ways[inWays![index]!];
        const power = powers[inPowers![index]!]!;
        if (store !== undefined && way !== undefined)
          alongWires(into, index * flowNames.length, way.wires, store, way.share, power);
      }
    }),
  ),
  column: read => {
    const route = read.route(read.self, read.unitLost());
    const way = dcWayUnder(read, read.self);
    if (route === undefined || way === undefined) return () => [];
    if (way.choppers.length > 0) return at => atConverter(read.step(read.self, flowThroughChoppers, at));
    const { batteryShare } = read.route(read.self)!;
    const own =
      route.batteries.length === 1 ? undefined : route.net?.taps.findIndex(tap => tap.converter === route.converter);
    return at => {
      const stores = read.step(read.self, bankEnds, at);
      const power = stores === undefined ? Number.NaN : read.figure(read.self, dcSide.figure.power, at);
      if (stores === undefined || Number.isNaN(power)) return [];
      const shared = own === undefined ? undefined : read.step(read.self, netFlow, at);
      if (shared !== undefined) return alongNet(shared, own!, batteryShare);
      const figures: number[] = [];
      alongWires(figures, 0, way.wires, stores[0]!, batteryShare, power);
      return figures;
    };
  },
});

function atConverter(solved: DcFlow | undefined): readonly number[] {
  if (solved === undefined) return [];
  const { NaN: unknown } = Number;
  if (!solved.ok) return [unknown, unknown, unknown, unknown, solved.largest];
  return [solved.converterCurrent, solved.converterVoltage];
}

/** What the batteries of a converter give together, or those behind each of its choppers; undefined where that isn't known. */
export function storesUnder(
  read: Read,
  converter: Component,
  at: At,
  duty = read.duty,
): readonly StoreFlow[] | undefined {
  if (read.route(converter, read.unitLost(duty))?.cells.length !== 0) {
    const chopped = read.step(converter, flowThroughChoppers, at, duty);
    return chopped?.ok === true ? chopped.stores : undefined;
  }
  const { current, voltage, batteryVoltage, emf } = dcFlow.figure;
  const seen = (figure: Figure): number => read.figure(converter, figure, at, duty);
  if (Number.isNaN(seen(emf))) return undefined;
  return [wholeWay(seen(current), seen(voltage), seen(batteryVoltage), seen(emf))];
}

/** DC voltage at the converter for whatever could arrive at its terminals under the duty; undefined where facts are missing. */
export function dcFlowOver(read: Read, at: At): (arriving: Terminals) => DcFlow | undefined {
  const bank = bankUnder(read, read.self);
  const way = dcWayUnder(read, read.self);
  if (bank === undefined || way === undefined) return () => undefined;
  const stores = bank.at(endsOf(read, bank, at.soc));
  const share = read.route(read.self)!.batteryShare;
  const losses = lossModels(read);
  return ({ terminalActivePower, terminalCurrent }) => {
    const loss = losses(terminalCurrent);
    const side = loss === undefined ? undefined : dcFromAc(terminalActivePower, terminalCurrent, loss);
    return side?.ok === true ? alongDcWay(way, stores, share, side.dcPower) : undefined;
  };
}
