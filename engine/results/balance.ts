// What the plant keeps for itself, and what comes back of what was stored.

import type { Component } from '../model/plant.ts';
import { polynomialLoss } from '../physics/converter.ts';
import { solveLadder } from '../physics/ladder.ts';
import { acPath } from './ac-path.ts';
import { bankUnder, partOfRun } from './bank.ts';
import { defineResult } from './definition.ts';
import { networkPower } from './duty.ts';
import { wayOf } from './duty-battery.ts';
import { converterOf, dischargeRun, terminalPower } from './energy.ts';
import { flow, networkVoltage } from './flow.ts';
import { polynomialOf } from './loss-model.ts';
import { orZero } from './or-zero.ts';
import type { Read } from './read.ts';
import { chargeRun, refillTime } from './recharge.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };
const nominal = { direction: 0, voltage: 1, soc: 0 };

export const auxiliaryPower = defineResult({
  name: 'auxiliary_power',
  on: 'plant',
  dimension: 'active_power',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Power that the auxiliaries of all batteries draw lastingly, from the network.',
  formula: 'P_aux = Σ auxiliary_power',
  source: 'definition',
  compute: read =>
    read.components
      .filter(component => component.kind.name === 'battery')
      .reduce((sum, battery) => sum + orZero(read.number(battery, 'auxiliary_power')), 0),
});

export const idleLoss = defineResult({
  name: 'idle_loss',
  on: 'converter',
  dimension: 'active_power',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Loss on the way from the network to this converter and in it, connected and modulating with no power at the connection point; unknown where the converter states an efficiency alone, which says nothing of a loss without power.',
  formula:
    'P_0 = losses of the ladder at P = 0, Q = 0, and of the converter a + b·I_c + c·I_c² at what it carries then, or its no_load_loss',
  source: 'circuit theory: cascaded two-ports; maker’s statement of the converter',
  compute: read => {
    const path = read.step(read.self, acPath, nominal);
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    if (path === undefined || grid === undefined) return Number.NaN;
    const solved = solveLadder(path.elements, networkVoltage(read, grid, undefined, nominal), 0, 0);
    if (!solved.ok) return Number.NaN;
    const model = polynomialOf(read);
    const own =
      model === undefined ? read.number(read.self, 'no_load_loss') : polynomialLoss(model, solved.terminalCurrent);
    return solved.terminalActivePower + (own ?? Number.NaN);
  },
});

export const standbyLoss = defineResult({
  name: 'standby_loss',
  on: 'plant',
  dimension: 'active_power',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Power that the plant takes up while it is connected and does nothing: idle losses and auxiliaries.',
  formula: 'P_standby = Σ idle_loss of the converters + P_aux',
  source: 'conservation of energy',
  compute: read =>
    read.components
      .filter(component => component.kind.name === 'converter')
      .reduce(
        (sum, converter) => sum + read.value(converter, idleLoss, noPoint),
        read.value(read.self, auxiliaryPower, noPoint),
      ),
});

export const netPower = defineResult({
  name: 'net_power',
  on: 'duty',
  dimension: 'active_power',
  axes: ['direction', 'voltage'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Active power at the connection point during the duty less what the auxiliaries draw, towards the network positive.',
  formula: 'P_net = P_n − P_aux',
  source: 'conservation of energy',
  compute: (read, at) =>
    read.value(read.self, networkPower, at, read.self) - read.value(read.site, auxiliaryPower, noPoint),
});

export const roundTripEfficiency = defineResult({
  name: 'round_trip_efficiency',
  on: 'battery',
  dimension: 'ratio',
  axes: ['duty'],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Energy that a discharge duty delivers at the connection point over what the least efficient charge duty takes there to put it back; as much charge comes out as went in, auxiliaries and pauses left out.',
  formula: 'η = (P_n·t / ∫E·I dt) discharging · (∫E·I dt / P_n·t) charging, at nominal network voltage',
  source: 'conservation of energy',
  compute: read => {
    const converter = converterOf(read);
    if (converter === undefined || wayOf(read, read.demand) === 'charge') return Number.NaN;
    const out = oneWay(read, converter, read.demand);
    const back = read.duties
      .filter(duty => wayOf(read, duty) === 'charge')
      .map(duty => oneWay(read, converter, duty))
      .filter(Number.isFinite);
    return back.length === 0 ? Number.NaN : out / Math.max(...back);
  },
});

/** Energy at the connection point over the chemical energy of a run: below one while discharging, above while charging. */
function oneWay(read: Read, converter: Component, duty: Component): number {
  const way = wayOf(read, duty);
  for (const direction of [0, 1]) {
    const at = { direction, voltage: nominal.voltage, soc: nominal.soc };
    const run =
      way === 'discharge' ? read.step(read.self, dischargeRun, at, duty) : read.step(read.self, chargeRun, at, duty);
    const solved = read.step(converter, flow, at, duty);
    const terminal = terminalPower(read, converter, duty)(at);
    if (run === undefined || solved?.ok !== true || !(run.chemicalEnergy > 0)) continue;
    const bank = bankUnder(read, converter, duty);
    const part = bank === undefined ? Number.NaN : partOfRun(bank, read.self);
    const network = solved.ladder.activePower[0]! / read.route(converter, read.unitLost(duty))!.batteryShare;
    return ((network / terminal) * part * run.energy) / run.chemicalEnergy;
  }
  return Number.NaN;
}

export const netRoundTrip = defineResult({
  name: 'net_round_trip',
  on: 'duty',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'nominal parts',
  meaning:
    'Energy that a repeated discharge duty delivers in a period over all that the plant takes from the network in it: recharging, auxiliaries throughout, and idle losses while nothing runs.',
  formula: 'η = W / (W / η_round_trip + P_aux·t_repeat + (P_standby − P_aux)·t_idle)',
  source: 'conservation of energy',
  compute: read => {
    const [duration, repeat] = [read.number(read.self, 'duration'), read.number(read.self, 'repeat')];
    const batteries = read.components.filter(component => component.kind.name === 'battery');
    const each = (result: typeof roundTripEfficiency): readonly number[] =>
      batteries.map(battery => read.value(battery, result, noPoint, read.self));
    const delivered = read.value(read.self, networkPower, nominal, read.self) * duration;
    const auxiliaries = read.value(read.site, auxiliaryPower, noPoint);
    const idling = read.value(read.site, standbyLoss, noPoint) - auxiliaries;
    const idle = Math.max(0, repeat - duration - Math.max(...each(refillTime)));
    // A plant that never idles needs no idle loss to be known.
    const idled = idle === 0 ? 0 : idling * idle;
    const taken = delivered / Math.min(...each(roundTripEfficiency)) + auxiliaries * repeat + idled;
    return batteries.length > 0 && delivered > 0 ? delivered / taken : Number.NaN;
  },
});

export const balanceResults = [auxiliaryPower, idleLoss, standbyLoss, netPower, roundTripEfficiency, netRoundTrip];
