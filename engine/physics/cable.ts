// Cables as circuit elements: conductor resistance at its temperature, ladder element, loop resistance.

import { type Conductor, tabulatedResistance } from '../tables/conductor-resistance.ts';
import type { SeriesElement } from './ladder.ts';

export type Insulation = 'xlpe' | 'pvc';

/** Where a resistance comes from: the maker, the standard's table, or the metal's resistivity for a size not in it. */
export type ResistanceBasis = 'stated' | 'table' | 'resistivity';

export type ConductorResistance = { readonly ok: true; readonly perLength: number; readonly basis: ResistanceBasis };
export type CableProblem = { readonly ok: false; readonly problem: 'impossible_input' };

export type CableRun = {
  readonly conductor: Conductor;
  /** Nominal area of one conductor, m². */
  readonly crossSection: number;
  /** One way, m. */
  readonly length: number;
  /** Conductors per phase or pole. */
  readonly parallel: number;
  /** Conductor temperature, K. */
  readonly temperature: number;
  /** Direct-current resistance of one conductor at that temperature as its maker states it, ohm/m; NaN where nobody does. */
  readonly stated?: number;
};

/** Conductor temperature (K) in continuous full use, by insulation: 90 °C and 70 °C (IEC 60364-5-52, from memory). */
export const operatingTemperature: Readonly<Record<Insulation, number>> = { xlpe: 363.15, pvc: 343.15 };

/** Reactance (ohm/m) where none is stated: 0.08 mΩ/m (IEC 60364-5-52, Annex G, from memory). */
export const defaultReactancePerLength = 0.08e-3;

/** Resistivity at 20 °C, ohm·m: IEC 60028 (58 MS/m, seen in source) and IEC 60889 (0.028264 Ω·mm²/m, from memory). */
export const resistivity: Readonly<Record<Conductor, number>> = { copper: 1e-6 / 58, aluminium: 2.8264e-8 };

/**
 * Direct-current resistance of a conductor (ohm/m) at its temperature (K). From IEC 60228 where the size is in its
 * table; else from the metal's resistivity over the nominal area, which is 2 to 11 % below what the table allows a
 * stranded conductor, so say so. `crossSection` in m².
 */
export function conductorResistance(
  conductor: Conductor,
  crossSection: number,
  temperature: number,
): ConductorResistance | CableProblem {
  const factor = temperatureFactor(conductor, temperature);
  if (factor === undefined || !(crossSection > 0 && Number.isFinite(crossSection))) return impossibleInput;
  const tabulated = tabulatedResistance(conductor, crossSection);
  if (tabulated !== undefined) return { ok: true, perLength: tabulated * factor, basis: 'table' };
  return { ok: true, perLength: (resistivity[conductor] / crossSection) * factor, basis: 'resistivity' };
}

function resistanceOf({ conductor, crossSection, temperature, stated = Number.NaN }: CableRun) {
  if (Number.isNaN(stated)) return conductorResistance(conductor, crossSection, temperature);
  return stated > 0 ? { ok: true as const, perLength: stated, basis: 'stated' as const } : impossibleInput;
}

/**
 * Resistance at a temperature (K) over resistance at 20 °C: (234.5 + θ)/254.5 copper, (228 + θ)/248 aluminium. Source:
 * IEC 60228 and IEC 60909-0, from memory.
 */
export function temperatureFactor(conductor: Conductor, temperature: number): number | undefined {
  const offset = conductor === 'copper' ? 234.5 : 228;
  const factor = (offset + temperature - 273.15) / (offset + 20);
  return factor > 0 && Number.isFinite(factor) ? factor : undefined;
}

/**
 * Alternating over direct-current resistance of one round stranded conductor, skin effect only (ratio), from its
 * resistance at temperature (ohm/m). Proximity to other conductors, a few per cent above 300 mm², is left out.
 * Undefined without a resistance. Source: IEC 60287-1-1, from memory.
 */
export function skinEffectFactor(frequency: number, resistancePerLength: number): number | undefined {
  if (!(resistancePerLength > 0 && frequency >= 0)) return undefined;
  const square = (8 * Math.PI * frequency * 1e-7) / resistancePerLength;
  const fourth = square * square;
  return 1 + fourth / (192 + 0.8 * fourth);
}

/** Ladder element of a three-phase cable run (ohm per phase) at the network's frequency (Hz), skin effect included. */
export function cableElement(
  run: CableRun,
  frequency: number,
  reactancePerLength: number = defaultReactancePerLength,
): (SeriesElement & { readonly ok: true; readonly basis: ResistanceBasis }) | CableProblem {
  const found = resistanceOf(run);
  if (!found.ok || !(run.length >= 0 && run.parallel > 0 && frequency > 0)) return impossibleInput;
  const skin = skinEffectFactor(frequency, found.perLength);
  if (skin === undefined) return impossibleInput;
  const perLength = found.perLength * skin;
  const share = run.length / run.parallel;
  const element = { resistance: perLength * share, reactance: reactancePerLength * share };
  if (!Number.isFinite(element.resistance + element.reactance)) return impossibleInput;
  return { ok: true, kind: 'series', ...element, basis: found.basis };
}

/** Resistance (ohm) of both poles of a direct-current cable run together: twice its length. */
export function loopResistance(
  run: CableRun,
): { readonly ok: true; readonly resistance: number; readonly basis: ResistanceBasis } | CableProblem {
  const found = resistanceOf(run);
  if (!found.ok || !(run.length >= 0 && run.parallel > 0)) return impossibleInput;
  const resistance = (2 * run.length * found.perLength) / run.parallel;
  return Number.isFinite(resistance) ? { ok: true, resistance, basis: found.basis } : impossibleInput;
}

const impossibleInput: CableProblem = { ok: false, problem: 'impossible_input' };
