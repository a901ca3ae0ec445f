// Whether the overload that a transformer's maker allows covers a passing duty.
import type { Component } from '../model/plant.ts';
import { loading } from '../results/transformer.ts';
import { relativeRise } from '../results/transformer-thermal.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import type { CheckContext, Spot } from './context.ts';

/**
 * What the stated overload leaves uncovered of a passing duty, as the end of a sentence; empty where it covers it,
 * undefined where none is stated or the duty lasts. `heating` is what harmonics multiply the heat by.
 */
export function uncovered(context: CheckContext, transformer: Component, spot: Spot, heating = 1): string | undefined {
  const allowed = context.number(transformer, 'overload', 'nominal', spot.caseIndex);
  const { duty } = spot;
  if (Number.isNaN(allowed) || duty === undefined) return undefined;
  if (!(context.number(duty, 'duration', 'nominal', spot.caseIndex) > 0)) return undefined;
  const ratio = (value: number): string => show(value, dimensions.ratio);
  const current = context.beside(spot, transformer, loading);
  if (current > allowed)
    return `; ${ratio(current)} of its rated current is more than the ${ratio(allowed)} that its overload allows`;
  const rise = context.beside(spot, transformer, relativeRise) * heating;
  return rise <= 1 ? '' : `; it would warm up to ${ratio(rise)} of the permitted rise`;
}
