// Results of the filter: resonance with what surrounds it, the capacitor's reactive power, currents.
import type { Component } from '../model/plant.ts';
import { cableElement } from '../physics/cable.ts';
import { chokeRipple, type Ripple } from '../physics/choke-ripple.ts';
import {
  capacitorReactivePower,
  lowerResonance as lowerResonanceOf,
  resonanceFrequency,
  rippleCurrent,
  capacitorShare as shareOf,
  starCapacitance,
} from '../physics/filter.ts';
import { networkImpedance } from '../physics/grid.ts';
import { seriesImpedance } from '../physics/transformer.ts';
import { acPath, cableRun } from './ac-path.ts';
import { dcVoltageMax } from './converter-voltage.ts';
import { type At, defineResult, defineStep } from './definition.ts';
import { flow } from './flow.ts';
import { effectiveModulationOf, hardestOperations } from './modulation.ts';
import type { Corner } from './noted.ts';
import type { Read } from './read.ts';
import { lossInWatts, ratiosAtTapping } from './transformer-facts.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

function starCapacitanceOf(read: Read, corner: Corner = 'nominal'): number {
  return starCapacitance(
    read.number(read.self, 'capacitance', corner),
    read.word(read.self, 'connection') === 'delta' ? 'delta' : 'star',
  );
}

/** Inductance between the capacitor and the network's source, at the filter's voltage: H per phase. */
function networkSideInductance(read: Read, strength: 'weakest' | 'strongest'): number {
  const route = read.route(read.self);
  const grid = route?.grid === undefined ? undefined : read.component(route.grid);
  const passed = route?.ac.find(element => element.tag === read.self.tag);
  if (route === undefined || grid === undefined || passed === undefined) return Number.NaN;
  const frequency = read.number(grid, 'frequency');
  const faultPower = read.number(grid, 'fault_power', strength === 'weakest' ? 'low' : 'high');
  const network = networkImpedance(read.number(grid, 'voltage'), faultPower, read.number(grid, 'x_over_r'));
  let reactance = network.ok ? (network.reactance * passed.share) / route.gridShare : 0;
  for (const element of route.ac.slice(0, route.ac.indexOf(passed))) {
    const component = read.component(element.tag);
    if (component === undefined) return Number.NaN;
    reactance = passOn(read, component, element.reversed, element.share / passed.share, frequency, reactance);
  }
  const own = read.number(read.self, 'network_inductance');
  return reactance / (2 * Math.PI * frequency) + (Number.isNaN(own) ? 0 : own);
}

/** Reactance on the converter's side of an element, given that on its network side. */
function passOn(
  read: Read,
  component: Component,
  reversed: boolean,
  share: number,
  frequency: number,
  reactance: number,
): number {
  if (component.kind.name === 'cable') {
    const cable = cableElement(cableRun(read, component), frequency, read.number(component, 'reactance'));
    return cable.ok ? reactance + cable.reactance / share : Number.NaN;
  }
  if (component.kind.name !== 'transformer') return reactance;
  const primary = read.number(component, 'primary_voltage');
  const secondary = read.number(component, 'secondary_voltage');
  const [networkSide, converterSide] = reversed ? [secondary, primary] : [primary, secondary];
  const series = seriesImpedance({
    ratedPower: read.number(component, 'rated_power'),
    secondaryVoltage: converterSide,
    impedance: read.number(component, 'impedance'),
    loadLoss: lossInWatts(read, component, 'load_loss'),
  });
  const ratio = ratiosAtTapping(read, component, reversed, 0, undefined)(networkSide, converterSide);
  return series.ok && ratio !== undefined ? reactance / ratio ** 2 + series.reactance / share : Number.NaN;
}

function resonance(read: Read, strength: 'weakest' | 'strongest'): number {
  const capacitance = starCapacitanceOf(read);
  if (!(capacitance > 0)) return Number.NaN;
  return (
    resonanceFrequency(
      read.number(read.self, 'converter_inductance'),
      networkSideInductance(read, strength),
      capacitance,
    ) ?? Number.NaN
  );
}

export const resonanceMin = defineResult({
  name: 'resonance_min',
  on: 'filter',
  dimension: 'frequency',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning: 'Resonance of the filter with transformer and network, at the lowest fault power.',
  formula: 'f = 1/(2π) · √((L_1 + L_2) / (L_1·L_2·C))',
  source: 'circuit theory: LCL filter',
  compute: read => resonance(read, 'weakest'),
});

export const resonanceMax = defineResult({
  name: 'resonance_max',
  on: 'filter',
  dimension: 'frequency',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning: 'Resonance of the filter with transformer and network, at the highest fault power.',
  formula: 'f = 1/(2π) · √((L_1 + L_2) / (L_1·L_2·C))',
  source: 'circuit theory: LCL filter',
  compute: read => resonance(read, 'strongest'),
});

export const lowerResonance = defineResult({
  name: 'lower_resonance',
  on: 'filter',
  dimension: 'frequency',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Resonance of the capacitor with transformer and network alone, at the lowest fault power: what harmonics of the network see, and those of a converter that is blocked or controls its current.',
  formula: 'f = 1/(2π·√(L_2·C))',
  source: 'circuit theory: LCL filter',
  compute: read => lowerResonanceOf(networkSideInductance(read, 'weakest'), starCapacitanceOf(read)) ?? Number.NaN,
});

/** Nominal voltage where the filter stands: the network's, through all ratios. */
function voltageAtFilter(read: Read): number {
  const route = read.route(read.self);
  const grid = route?.grid === undefined ? undefined : read.component(route.grid);
  const converter = route === undefined ? undefined : read.component(route.converter);
  const path = converter === undefined ? undefined : read.step(converter, acPath, noPoint);
  return grid === undefined || path === undefined ? Number.NaN : read.number(grid, 'voltage') / path.ratio;
}

export const capacitorReactive = defineResult({
  name: 'capacitor_reactive',
  on: 'filter',
  dimension: 'reactive_power',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Reactive power that the filter capacitor delivers at nominal voltage.',
  formula: 'Q_C = U² · 2π·f · C',
  source: 'circuit theory',
  compute: read => {
    const tag = read.route(read.self)?.grid;
    const grid = tag === undefined ? undefined : read.component(tag);
    return grid === undefined
      ? Number.NaN
      : capacitorReactivePower(voltageAtFilter(read), read.number(grid, 'frequency'), starCapacitanceOf(read));
  },
});

export const capacitorShare = defineResult({
  name: 'capacitor_share',
  on: 'filter',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Reactive power of the filter capacitor as a share of the converter’s rated power at this voltage.',
  formula: 'Q_C / (√3 · U · I_rated)',
  source: 'definition',
  compute: read => {
    const routes = read.routes(read.self);
    const rated = routes.reduce((sum, route) => {
      const converter = read.component(route.converter);
      return sum + (converter === undefined ? Number.NaN : read.number(converter, 'ac_current'));
    }, 0);
    return (
      shareOf(read.value(read.self, capacitorReactive, noPoint), Math.sqrt(3) * voltageAtFilter(read) * rated) ??
      Number.NaN
    );
  },
});

export const current = defineResult({
  name: 'current',
  on: 'filter',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Line current through the converter-side choke under the duty, fundamental, rms.',
  formula: 'I_f = |ladder current at the converter side|',
  source: 'circuit theory: cascaded two-ports',
  compute: (read, at) => chokeCurrent(read, at),
});

function chokeCurrent(read: Read, at: At): number {
  for (const route of read.routes(read.self)) {
    const converter = read.component(route.converter);
    const solved = converter === undefined ? undefined : read.step(converter, flow, at);
    const part = solved?.ok === true ? solved.path.parts.find(candidate => candidate.tag === read.self.tag) : undefined;
    if (solved?.ok === true && part !== undefined) return solved.ladder.current[part.to]! / part.share;
  }
  return Number.NaN;
}

export const rippleBound = defineResult({
  name: 'ripple_bound',
  on: 'filter',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Peak-to-peak ripple current in the converter-side choke that no modulation index exceeds, at the highest DC voltage in operation.',
  formula: 'ΔI ≤ U_dc,max / (6 · f_sw · L_1)',
  source: 'Reznik, Simões, Al-Durra, Muyeen, IEEE TIA 50(2), 2014 (from memory)',
  compute: read => {
    const inductance = read.number(read.self, 'converter_inductance');
    const bounds = convertersOf(read).map(converter => {
      const voltage = read.value(converter, dcVoltageMax, noPoint);
      return rippleCurrent(voltage, read.number(converter, 'switching_frequency'), inductance) ?? Number.NaN;
    });
    return bounds.length === 0 ? Number.NaN : Math.max(...bounds);
  },
});

/** Several where they share the filter; the one whose ripple is largest counts. */
function convertersOf(read: Read): readonly Component[] {
  return read.routes(read.self).flatMap(({ converter }) => read.component(converter) ?? []);
}

/** Followed through the switching periods of each point of operation that may be the worst; undefined where none is known. */
const rippleStep = defineStep<Ripple | undefined>({
  name: 'choke_ripple',
  on: 'filter',
  axes: [],
  compute: read => {
    const inductance = read.number(read.self, 'converter_inductance');
    const ripples = convertersOf(read).flatMap(converter => {
      const switchingFrequency = read.number(converter, 'switching_frequency');
      const modulation = read.step(converter, effectiveModulationOf, noPoint) ?? 'space_vector';
      return (read.step(converter, hardestOperations, noPoint) ?? []).flatMap(
        ({ index, dcVoltage }) =>
          chokeRipple({ dcVoltage, modulationIndex: index, modulation, switchingFrequency, inductance }) ?? [],
      );
    });
    if (ripples.length === 0) return undefined;
    const most = (of: (ripple: Ripple) => number) => Math.max(...ripples.map(of));
    return { peakToPeak: most(({ peakToPeak }) => peakToPeak), rms: most(({ rms }) => rms) };
  },
});

export const ripple = defineResult({
  name: 'ripple_current',
  on: 'filter',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Largest peak-to-peak ripple current in the converter-side choke, over all points of operation; the capacitor is taken to short the ripple behind it.',
  formula:
    'ΔI = max |∫(u − ū) dt| / L_1 over each switching period; √2·U_c / (6 · f_sw · L_1) from M = 0.7 upwards, with sine modulation from 0.85',
  source: 'integral of the switched voltage over each switching period',
  compute: read => read.step(read.self, rippleStep, noPoint)?.peakToPeak ?? Number.NaN,
});

export const rippleRms = defineResult({
  name: 'ripple_current_rms',
  on: 'filter',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Largest rms of the ripple current in the converter-side choke, beside the fundamental.',
  formula: 'I_ripple = √(mean (i − i_1)²)',
  source: 'integral of the switched voltage over each switching period',
  compute: read => read.step(read.self, rippleStep, noPoint)?.rms ?? Number.NaN,
});

export const leastSwitchingFrequency = defineResult({
  name: 'least_switching_frequency',
  on: 'filter',
  dimension: 'frequency',
  axes: [],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Switching frequency at which the ripple would just meet the practice: lower costs a larger choke, higher only losses.',
  formula: 'f_least = f_sw · ΔI / (limit · √2 · I_rated)',
  source: 'ripple in inverse proportion to the frequency; practice `ripple`',
  compute: read => {
    const tag = read.route(read.self)?.converter;
    const converter = tag === undefined ? undefined : read.component(tag);
    if (converter === undefined) return Number.NaN;
    const allowed = read.number(read.practice, 'ripple') * Math.SQRT2 * read.number(converter, 'ac_current');
    return (read.number(converter, 'switching_frequency') * read.value(read.self, ripple, noPoint)) / allowed;
  },
});

export const filterResults = [
  leastSwitchingFrequency,
  resonanceMin,
  resonanceMax,
  lowerResonance,
  capacitorReactive,
  capacitorShare,
  current,
  rippleBound,
  ripple,
  rippleRms,
];
