// How a converter's loss follows current, DC voltage and switching frequency, and what a higher frequency leaves of its rating.

import type { LossModel } from '../physics/converter.ts';
import { switchingFrequencyFactor } from '../physics/derating.ts';
import { orZero } from './or-zero.ts';
import type { Read } from './read.ts';
import { standingDcVoltage } from './standing-dc.ts';

/** Share of the loss that is taken to switch where nobody says: common practice, no source. */
export const customarySwitchingShare = 0.5;

type Polynomial = Extract<LossModel, { readonly kind: 'polynomial' }>;

/** The converter's loss as stated; the efficiency is read at the load that the current makes. */
export function lossModel(read: Read, current: number): LossModel | undefined {
  const polynomial = polynomialOf(read);
  if (polynomial !== undefined) return polynomial;
  const load = current / read.number(read.self, 'ac_current');
  const efficiency = read.at(read.self, 'efficiency', load);
  return Number.isNaN(efficiency) ? undefined : { kind: 'efficiency', efficiency };
}

/** As `lossModel`, for a search over many currents: facts are looked at once, ends of curves are nobody's concern. */
export function lossModels(read: Read): (current: number) => LossModel | undefined {
  const polynomial = polynomialOf(read);
  if (polynomial !== undefined) return () => polynomial;
  const efficiency = read.reading(read.self, 'efficiency');
  const rated = read.number(read.self, 'ac_current');
  return current => {
    const value = efficiency?.of(current / rated) ?? Number.NaN;
    return Number.isNaN(value) ? undefined : { kind: 'efficiency', efficiency: value };
  };
}

/** Undefined where no part of the loss is stated. The switching part is taken at the battery's highest voltage at rest. */
export function polynomialOf(read: Read): Polynomial | undefined {
  const fixed = read.number(read.self, 'fixed_loss');
  const linear = read.number(read.self, 'linear_loss');
  const quadratic = read.number(read.self, 'quadratic_loss');
  const switching = read.number(read.self, 'switching_loss');
  if ([fixed, linear, quadratic, switching].every(Number.isNaN)) return undefined;
  const model = {
    kind: 'polynomial',
    fixed: orZero(fixed),
    linear: orZero(linear),
    quadratic: orZero(quadratic),
  } as const;
  if (Number.isNaN(switching)) return model;
  const frequency = read.number(read.self, 'switching_frequency');
  const rated = read.number(read.self, 'rated_frequency');
  const stated = read.number(read.self, 'loss_voltage');
  return {
    ...model,
    switching: {
      perAmpere: switching,
      referenceDcVoltage: Number.isNaN(stated) ? read.number(read.self, 'dc_voltage', 'high') : stated,
      referenceFrequency: Number.isNaN(rated) ? frequency : rated,
      dcVoltage: standingDcVoltage(read, 'highest'),
      frequency,
    },
  };
}

/** Share of the rated current that the switching frequency leaves. */
export function switchingFactor(read: Read): number {
  const frequency = read.number(read.self, 'switching_frequency');
  if (read.has(read.self, 'switching_derating')) return read.at(read.self, 'switching_derating', frequency);
  const rated = read.number(read.self, 'rated_frequency');
  return Number.isNaN(rated) ? 1 : (switchingFrequencyFactor(frequency, rated, customarySwitchingShare) ?? Number.NaN);
}
