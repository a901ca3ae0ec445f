// What heats a transformer beyond its plate: thin or hot air, harmonics, and duties that pass before it is warm.
import type { Component } from '../model/plant.ts';
import { currentForRise, dryTransformerRise, liquidTransformerRise } from '../physics/derating.ts';
import { harmonicLossFactor as lossFactorOf, permissibleCurrent } from '../physics/harmonic-loss.ts';
import { customaryTimeConstants, steadyCycle } from '../physics/thermal.ts';
import { type At, defineResult, defineStep } from './definition.ts';
import { lowerResonance, ripple } from './filter.ts';
import { harmonicLossFactor } from './harmonics.ts';
import type { Read } from './read.ts';
import { loading, secondaryCurrent } from './transformer.ts';
import { constructionOf } from './transformer-facts.ts';

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

/** Highest air temperature of usual service conditions, K. */
const usualHeat = 313.15;
/** Mean rise of the winding that is permitted there, K: class F for a dry type. */
const permittedRise = { dry: 100, liquid: 65 } as const;
/** A pause after a duty that comes once, s. */
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
    'IEC 60076-11: 2.5 % of the rise for each 500 m above 1000 m; IEC 60076-2: 1 K for each 400 m; rise with current^1.6: IEC 60076-7, IEC 60076-12 (all from memory)',
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
 * No harmonic factor is lower than this, as far as the switching is concerned: all of the choke's ripple taken at the
 * lowest sideband, let through by the capacitor as there. Costs nothing beside the spectrum. 0 where nobody can say
 * without it: a maker's harmonics, or no filter.
 */
export const harmonicBound = defineStep<number>({
  name: 'harmonic_bound',
  on: 'transformer',
  axes: [],
  compute: read => {
    const current = read.worst(read.self, secondaryCurrent);
    let square = 0;
    for (const route of read.routes(read.self)) {
      const part = boundedRipple(read, route.converter);
      if (part === undefined) return 0;
      square += part / (current * current);
    }
    const factor = 1 + square;
    return Number.isNaN(factor) ? 0 : factorFor(read.number(read.self, 'eddy_loss'), factor);
  },
});

/** Σ h²·I_h², the law of the loss factor in the place of h², of one converter's ripple in the transformer, A². */
function boundedRipple(read: Read, converterTag: string): number | undefined {
  const converter = read.component(converterTag);
  const route = converter === undefined ? undefined : read.route(converter);
  const grid = route?.grid === undefined ? undefined : read.component(route.grid);
  const passed = route?.ac.find(({ kind }) => kind === 'filter');
  const filter = passed === undefined ? undefined : read.component(passed.tag);
  if (converter === undefined || grid === undefined || filter === undefined) return undefined;
  if (read.has(converter, 'harmonics')) return undefined;
  const switching = read.number(converter, 'switching_frequency');
  const frequency = read.number(grid, 'frequency');
  const lowest = switching - sidebands * frequency;
  const whole = read.value(filter, ripple, noPoint) / 2;
  const damping = read.number(filter, 'damping_resistance');
  const lossy = Number.isNaN(damping)
    ? 1
    : Math.hypot(1, damping * 2 * Math.PI * lowest * read.number(filter, 'capacitance'));
  const through = lossy / ((lowest / read.value(filter, lowerResonance, noPoint)) ** 2 - 1);
  const highest = lossFactorOf([{ order: (sidebandsUpTo * switching) / frequency, amount: 1 }]);
  if (!(through > 0 && highest !== undefined)) return undefined;
  return highest * (whole * Math.min(1, through)) ** 2;
}

/** Sidebands of any weight lie this many orders beside the switching frequency, and up to this multiple of it. */
const sidebands = 4;
const sidebandsUpTo = 3.5;

export const transformerThermalResults = [siteFactor, harmonicFactor, deratedLoading, thermalLoading, relativeRise];
