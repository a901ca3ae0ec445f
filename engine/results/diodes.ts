// The antiparallel diodes with the gates blocked: what voltage stands before them, whether they conduct, and how much.

import type { RouteCell } from '../model/cells.ts';
import type { Component } from '../model/plant.ts';
import { type Conduction, conductUncontrolled, stopStateOfCharge } from '../physics/bridge.ts';
import { type Impedance, noLoadVoltage, seriesImpedanceReferredToConverter } from '../physics/ladder.ts';
import { type AcPath, blockedPath, sourceImpedance } from './ac-path.ts';
import { type Bank, bankAtRest } from './bank.ts';
import { batteriesOf, batteryModel } from './battery-model.ts';
import { dcWay } from './dc-way.ts';
import { defineResult, defineStep } from './definition.ts';
import { lastingSwell } from './envelope.ts';
import { batterySide, choppersOf } from './link.ts';
import type { Read } from './read.ts';
import { restingVoltage, standingDcVoltage } from './standing-dc.ts';

/** Highest line-to-line voltage that the network can put on the connection point, unbalance included. */
export function highestNetworkVoltage(read: Read, grid: Component): number {
  const nominal = read.number(grid, 'voltage');
  const steady = read.number(grid, 'voltage', 'high');
  const temporary = read.number(grid, 'temporary_overvoltage');
  const unbalance = read.number(grid, 'unbalance', 'high');
  const swell = lastingSwell(read, grid);
  let highest = steady;
  for (const ratio of [temporary, swell]) if (ratio * nominal > highest) highest = ratio * nominal;
  return highest * (1 + (Number.isNaN(unbalance) ? 0 : unbalance));
}

export const blockedVoltage = defineResult({
  name: 'blocked_voltage',
  on: 'converter',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning: 'Voltage at the converter terminals with the gates blocked and no current, line to line rms.',
  formula: 'U_b = U_n,max · (1 + unbalance) / ratio_min, raised by the filter capacitor: 1 / (1 − X_source/X_C)',
  source: 'circuit theory: the ladder with no current at the converter',
  compute: read => {
    const path = read.step(read.self, blockedPath, noPoint);
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    const source = sourceImpedance(read, 'weakest');
    if (path === undefined || grid === undefined || source === undefined) return Number.NaN;
    const found = noLoadVoltage(path.elements, highestNetworkVoltage(read, grid), source);
    return found.ok ? found.voltage : Number.NaN;
  },
});

export const blockedPeak = defineResult({
  name: 'blocked_peak',
  on: 'converter',
  dimension: 'voltage',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning: 'Crest of the voltage at the blocked converter: the diodes conduct whenever it exceeds the DC voltage.',
  formula: 'Û_b = √2 · U_b',
  source: 'six-pulse bridge; Rashid, Power Electronics, ch. 3 (from memory)',
  compute: read => Math.SQRT2 * read.value(read.self, blockedVoltage, noPoint),
});

export const diodeMargin = defineResult({
  name: 'diode_margin',
  on: 'converter',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'all tolerances at their worst',
  meaning:
    'What the battery rests above the blocked crest at the lowest state of charge at which it is still connected, or what the link that a chopper holds stands above it; negative: the diodes conduct.',
  formula: 'E(soc_lowest) / Û_b − 1; behind a chopper U_link / Û_b − 1',
  source: 'six-pulse bridge: no conduction while U_dc > √2·U',
  compute: read => {
    return standingDcVoltage(read, 'connected') / read.value(read.self, blockedPeak, noPoint) - 1;
  },
});

/** Time-domain solution of the blocked bridge into the resting battery at the lowest connected state of charge. */
export const conduction = defineStep<Conduction | undefined>({
  name: 'conduction',
  on: 'converter',
  axes: [],
  compute: read => {
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    if (grid === undefined) return undefined;
    return conductionAt(
      read,
      highestNetworkVoltage(read, grid),
      restingVoltage(read, 'connected', exposedBatteries(read)),
    );
  },
});

/** Into the battery at this open-circuit voltage, from this voltage of the network; undefined where facts are missing. */
export function conductionAt(read: Read, voltage: number, emf: number): Conduction | undefined {
  const path = read.step(read.self, blockedPath, noPoint);
  const bank = bankAtRest(read, read.self);
  const tag = read.route(read.self)?.grid;
  const grid = tag === undefined ? undefined : read.component(tag);
  if (path === undefined || bank === undefined || grid === undefined) return undefined;
  const frequency = read.number(grid, 'frequency');
  const resistance = exposedResistance(read, bank);
  if (!Number.isFinite(emf + frequency + resistance + voltage)) return undefined;
  const through = (strength: 'weakest' | 'strongest'): Conduction | undefined => {
    const source = sourceImpedance(read, strength);
    const bridge = source === undefined ? undefined : bridgeSource(path, source, voltage, 2 * Math.PI * frequency);
    return bridge && conductUncontrolled({ ...bridge, frequency, dcEmf: emf, dcResistance: resistance });
  };
  // A strong network drives more current; a weak one lets the capacitor raise the voltage more.
  const strong = through('strongest');
  return strong?.conducts === false ? through('weakest') : strong;
}

/** Ω between the converter and the open-circuit voltage of all batteries that its diodes reach, as its share sees them. */
function exposedResistance(read: Read, bank: Bank): number {
  const way = read.step(read.self, dcWay, noPoint);
  const { batteryShare, cells } = read.route(read.self)!;
  const stores = bank.at(bank.packs.map(() => 0)).map(({ resistance }) => resistance / batteryShare);
  if (way === undefined) return Number.NaN;
  if (cells.length === 0) return way.wires + stores[0]!;
  const behind = way.choppers.map(({ before, wires }, index) => before + wires + stores[index]!);
  const reached = behind.filter((_, index) => isOpen(read, cells[index]!));
  // Those that share a cable each count all of it: less than that flows.
  return way.wires + 1 / reached.reduce((sum, resistance) => sum + 1 / resistance, 0);
}

/**
 * The network and all up to the bridge: a voltage behind resistance and inductance, then, where there is one, the filter
 * capacitor with what lies behind it. Conduction takes its pulses out of the capacitor, so it must stand in the circuit.
 */
function bridgeSource(path: AcPath, source: Impedance, voltage: number, angular: number) {
  const capacitor = path.elements.findIndex(element => element.kind === 'shunt' && element.susceptance > 0);
  const before = capacitor < 0 ? path.elements : path.elements.slice(0, capacitor);
  const seen = seriesImpedanceReferredToConverter(before, source);
  const ratio = before.reduce((product, element) => (element.kind === 'ratio' ? product * element.ratio : product), 1);
  if (!seen.ok) return undefined;
  const line = {
    lineVoltage: voltage / ratio,
    sourceInductance: seen.reactance / angular,
    sourceResistance: seen.resistance,
  };
  const shunt = path.elements[capacitor];
  if (shunt?.kind !== 'shunt') return line;
  const behind = seriesImpedanceReferredToConverter(path.elements.slice(capacitor + 1), {
    resistance: 0,
    reactance: 0,
  });
  if (!behind.ok) return undefined;
  const square = shunt.conductance * shunt.conductance + shunt.susceptance * shunt.susceptance;
  const filter = {
    capacitance: square / (angular * shunt.susceptance),
    dampingResistance: shunt.conductance / square,
    inductance: behind.reactance / angular,
    resistance: behind.resistance,
  };
  return { ...line, filter };
}

/**
 * A battery on the lower side of a chopper: the chopper's diode leads from the battery to the link, and only its switch
 * leads back. The converter's diodes then charge the link up to the crest, and no further. On the higher side the
 * chopper's diode leads on to the battery.
 */
function isOpen(read: Read, { chopper }: RouteCell): boolean {
  const component = read.component(chopper);
  return component !== undefined && batterySide(read, component) === 'high';
}

/** The batteries of a converter to which its blocked diodes lead. */
export function exposedBatteries(read: Read): readonly Component[] {
  const { cells = [] } = read.route(read.self) ?? {};
  if (cells.length === 0) return batteriesOf(read);
  const tags = cells.filter(cell => isOpen(read, cell)).flatMap(({ batteries }) => batteries);
  return batteriesOf(read).filter(({ tag }) => tags.includes(tag));
}

function shielded(read: Read): boolean {
  return choppersOf(read).length > 0 && exposedBatteries(read).length === 0;
}

export const diodeCurrent = defineResult({
  name: 'diode_current',
  on: 'converter',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning: 'Mean direct current that the diodes would drive into the battery at the lowest connected state of charge.',
  formula: 'time-domain solution: bridge behind source and transformer inductance into E and R, periodic steady state',
  source: 'circuit theory; checked against a circuit simulator',
  compute: read => (shielded(read) ? 0 : (read.step(read.self, conduction, noPoint)?.meanCurrent ?? Number.NaN)),
});

export const diodeCurrentPeak = defineResult({
  name: 'diode_current_peak',
  on: 'converter',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning: 'Peak of the direct current that the diodes would drive into the battery.',
  formula: 'time-domain solution, see diode_current',
  source: 'circuit theory; checked against a circuit simulator',
  compute: read => (shielded(read) ? 0 : (read.step(read.self, conduction, noPoint)?.peakCurrent ?? Number.NaN)),
});

export const diodeStopSoc = defineResult({
  name: 'diode_stop_soc',
  on: 'converter',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'all tolerances at their worst',
  meaning:
    'State of charge at which charging through the diodes would stop by itself, of several batteries in the last one; 0 % where it can’t begin.',
  formula: 'E(soc) = Û_b, solved for soc',
  source: 'six-pulse bridge: no conduction while U_dc > √2·U',
  compute: read => {
    if (shielded(read)) return 0;
    return Math.max(Number.NEGATIVE_INFINITY, ...exposedBatteries(read).map(battery => stopSoc(read, battery)));
  },
});

/** At which one battery's charging through the diodes stops by itself; 0 where it can't begin. */
function stopSoc(read: Read, battery: Component): number {
  const model = read.step(battery, batteryModel, noPoint);
  const voltage = read.value(read.self, blockedVoltage, noPoint);
  if (model === undefined || Number.isNaN(voltage)) return Number.NaN;
  const stop = stopStateOfCharge(model.emf, voltage);
  if (stop.kind === 'never') return 0;
  return stop.kind === 'stops' ? stop.soc : 1;
}

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export const diodeResults = [blockedVoltage, blockedPeak, diodeMargin, diodeCurrent, diodeCurrentPeak, diodeStopSoc];
