// What heats a transformer beyond its plate: thin or hot air, harmonics, and duties that pass before it is warm.
import type { Component } from '../model/plant.ts';
import type { Route } from '../model/topology.ts';
import { currentForRise, dryTransformerRise, liquidTransformerRise } from '../physics/derating.ts';
import { eddyWeight, permissibleCurrent } from '../physics/harmonic-loss.ts';
import { weighedRippleBound } from '../physics/ripple-bound.ts';
import { customaryTimeConstants, steadyCycle } from '../physics/thermal.ts';
import { dcVoltageMax } from './converter-voltage.ts';
import { type At, defineFigures, defineResult, defineStep } from './definition.ts';
import { resonanceMax, resonanceMin } from './filter.ts';
import { harmonicLossFactor } from './harmonics.ts';
import { effectiveModulationOf, modulationEnds } from './modulation.ts';
import type { Read } from './read.ts';
import { loading, secondaryCurrent } from './transformer.ts';
import { constructionOf } from './transformer-facts.ts';

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

/** Highest air temperature of usual service conditions, K (IEC 60076-1, from memory). */
const usualHeat = 313.15;
/** Mean rise of the winding that is permitted there, K: class F for a dry type (IEC 60076-11 and IEC 60076-2, from memory). */
const permittedRise = { dry: 100, liquid: 65 } as const;
/** A pause after a duty that comes once, s: a week, long against every time constant. */
const longPause = 7 * 86_400;

export const siteFactor = defineResult({
  name: 'site_factor',
  on: 'transformer',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Share of the rated current that altitude and the highest ambient temperature leave: air that is thin above 1000 m, or warmer than 40 °C, permits less rise.',
  formula: 'k = (ΔΘ_altitude / ΔΘ_r · (1 − (ϑ_a − 40 °C) / ΔΘ_r))^(1/1.6), ΔΘ_r = 100 K dry, 65 K liquid-filled',
  source:
    'IEC 60076-11: 100 K in class F, 2.5 % of the rise for each 500 m above 1000 m; IEC 60076-2: 65 K, 1 K for each 400 m; 40 °C: IEC 60076-1; rise with current^1.6: IEC 60076-7, IEC 60076-12 (all from memory)',
  compute: read => {
    const construction = constructionOf(read, read.self);
    const altitude = read.number(read.site, 'altitude');
    const excess = Math.max(0, read.number(read.site, 'ambient', 'high') - usualHeat);
    const thin =
      construction === 'dry' ? dryTransformerRise(altitude, 'natural') : liquidTransformerRise(altitude, 'natural');
    const warm = Math.max(0, 1 - excess / permittedRise[construction]);
    return currentForRise(thin * warm);
  },
});

export const harmonicFactor = defineResult({
  name: 'harmonic_factor',
  on: 'transformer',
  dimension: 'ratio',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Share of the rated current at which the load loss with the known harmonics is that of rated sinusoidal current.',
  formula: 'k = 1 / √(1 − e + F_HL·e), e the eddy loss as a share of the load loss',
  source: 'IEEE C57.110, permissible current (form from memory)',
  compute: read => {
    const eddy = read.number(read.self, 'eddy_loss');
    return factorFor(eddy, read.value(read.self, harmonicLossFactor, noPoint));
  },
});

function factorFor(eddyShare: number, lossFactor: number): number {
  if (!(eddyShare < 1)) return 1 / Math.sqrt(lossFactor);
  return permissibleCurrent({ eddy: eddyShare / (1 - eddyShare) }, { eddy: lossFactor });
}

export const deratedLoading = defineResult({
  name: 'derated_loading',
  on: 'transformer',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Current under the duty as a share of what altitude and ambient temperature leave of the rated current.',
  formula: 'S / (S_r · k_site)',
  source: 'definition',
  compute: (read, at) => read.value(read.self, loading, at) / read.value(read.self, siteFactor, noPoint),
});

export const thermalLoading = defineResult({
  name: 'thermal_loading',
  on: 'transformer',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Current under the duty as a share of what altitude, ambient temperature and the known harmonics leave of the rated current.',
  formula: 'S / (S_r · k_site · k_harmonics)',
  source: 'definition',
  compute: (read, at) => read.value(read.self, deratedLoading, at) / read.value(read.self, harmonicFactor, noPoint),
});

export const relativeRise = defineResult({
  name: 'relative_rise',
  on: 'transformer',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Highest temperature rise that the duty brings about, repeated for good, with no load in between, as a share of the permitted rise: one heat store with one time constant. Where the period is short against that, it is the square of the rms.',
  formula: 'dθ/dt = ((S / (S_r·k_site))² − θ) / τ',
  source: 'first-order heating; time constant as stated, else from memory',
  compute: (read, at) => {
    const duration = read.number(read.demand, 'duration');
    const ratio = read.value(read.self, deratedLoading, at);
    if (Number.isNaN(ratio)) return Number.NaN;
    if (!(duration > 0)) return ratio * ratio;
    const repeat = read.number(read.demand, 'repeat');
    const pause = repeat > 0 ? Math.max(0, repeat - duration) : longPause;
    const cycle = steadyCycle(
      [
        { ratio, duration },
        { ratio: 0, duration: pause },
      ],
      { timeConstant: timeConstantOf(read, read.self) },
    );
    return cycle.ok ? cycle.peak : Number.NaN;
  },
});

export function timeConstantOf(read: Read, transformer: Component): number {
  const stated = read.number(transformer, 'time_constant');
  if (!Number.isNaN(stated)) return stated;
  const { dryTransformer, oilTransformer } = customaryTimeConstants;
  return constructionOf(read, transformer) === 'liquid' ? oilTransformer.from : dryTransformer.from;
}

/**
 * No harmonic factor is lower than this, as far as the switching is concerned, all converters in step. Costs next to
 * nothing beside the spectrum. 0 where nobody can say without it, 1 where with it neither.
 */
export const harmonicBound = defineStep<number>({
  name: 'harmonic_bound',
  on: 'transformer',
  axes: [],
  compute: read => {
    const amplitude = read.figure(read.self, rippleInWinding.figure.amplitude, noPoint);
    if (Number.isNaN(amplitude)) {
      const neither = (route: Route): boolean => Number.isNaN(weighedRipple(read, route)) && !modulates(read, route);
      return read.routes(read.self).some(neither) ? 1 : 0;
    }
    const factor = 1 + (amplitude / read.worst(read.self, secondaryCurrent)) ** 2;
    return Number.isNaN(factor) ? 0 : factorFor(read.number(read.self, 'eddy_loss'), factor);
  },
});

/** Of all converters together, as below. Apart from the bound, so that another duty leaves it as it is. */
const rippleInWinding = defineFigures({
  name: 'ripple_in_winding',
  on: 'transformer',
  axes: [],
  names: ['amplitude'],
  compute: read => [read.routes(read.self).reduce((sum, route) => sum + weighedRipple(read, route), 0)],
});

/** √(Σ w_h·I_h²), w the weight of an order in the loss factor, of one converter's ripple in the transformer at most, A. */
function weighedRipple(read: Read, route: Route): number {
  const grid = route.grid === undefined ? undefined : read.component(route.grid);
  const converter = read.component(route.converter);
  const filter = filterBehind(read, route);
  if (grid === undefined || converter === undefined || filter === undefined) return Number.NaN;
  if (read.has(converter, 'harmonics')) return Number.NaN;
  const damping = read.number(filter, 'damping_resistance');
  const delta = read.word(filter, 'connection') === 'delta' ? 3 : 1;
  return weighedRippleBound(
    {
      converterInductance: read.number(filter, 'converter_inductance'),
      capacitance: read.number(filter, 'capacitance') * delta,
      damping: (Number.isNaN(damping) ? 0 : damping) / delta,
      resonanceMin: read.value(filter, resonanceMin, noPoint),
      resonanceMax: read.value(filter, resonanceMax, noPoint),
    },
    {
      dcVoltage: read.value(converter, dcVoltageMax, noPoint),
      switchingFrequency: read.number(converter, 'switching_frequency'),
      frequency: read.number(grid, 'frequency'),
      modulation: read.step(converter, effectiveModulationOf, noPoint) ?? 'space_vector',
    },
    eddyWeight,
  );
}

/** Whether anything is known of how far the converter modulates; without that there is no spectrum. */
function modulates(read: Read, route: Route): boolean {
  const converter = read.component(route.converter);
  return converter !== undefined && (read.step(converter, modulationEnds, noPoint) ?? []).length > 0;
}

/** The one filter of a converter, where it stands between it and the transformer, which has its secondary there. */
function filterBehind(read: Read, { ac }: Route): Component | undefined {
  const own = ac.findIndex(({ tag }) => tag === read.self.tag);
  const filters = ac.filter(({ kind }) => kind === 'filter');
  const [filter] = filters;
  const after = ac.slice(own + 1).map(({ kind }) => kind);
  if (filter === undefined || filters.length > 1 || filter.share !== 1) return undefined;
  if (ac[own]!.reversed || !after.includes('filter') || after.includes('transformer')) return undefined;
  return read.component(filter.tag);
}

export const transformerThermalResults = [siteFactor, harmonicFactor, deratedLoading, thermalLoading, relativeRise];
