// A two-winding transformer from its rating plate: equivalent circuit, ratio, fault current, tolerances.

import type { Impedance, SeriesElement, ShuntElement } from './ladder.ts';

export type RatingPlate = {
  /** Rated power, VA. */
  readonly ratedPower: number;
  /** No-load voltage of the secondary, V line to line. */
  readonly secondaryVoltage: number;
  /** Short-circuit impedance as a ratio of the rated impedance (6 % is 0.06). */
  readonly impedance: number;
  /** Load loss at rated current, W. */
  readonly loadLoss: number;
};

export type TransformerProblem =
  | { readonly ok: false; readonly problem: 'impossible_input' }
  /** Load loss alone would need more than the whole impedance: one of the two figures is wrong. */
  | {
      readonly ok: false;
      readonly problem: 'loss_exceeds_impedance';
      readonly lossRatio: number;
      readonly impedance: number;
    }
  /** No-load loss alone would need more than the whole no-load current. */
  | {
      readonly ok: false;
      readonly problem: 'loss_exceeds_current';
      readonly lossRatio: number;
      readonly noLoadCurrent: number;
    };

/**
 * Series impedance (ohm per phase) referred to the secondary: Z = uk·U²/S, R = Pk·U²/S², X = √(Z² − R²).
 * Load loss and impedance are taken at the same (reference) temperature, as IEC 60076-1 states them (from memory).
 */
export function seriesImpedance(plate: RatingPlate): (SeriesElement & { readonly ok: true }) | TransformerProblem {
  const { ratedPower, secondaryVoltage, impedance, loadLoss } = plate;
  if (!(ratedPower > 0 && secondaryVoltage > 0 && impedance >= 0 && loadLoss >= 0)) return impossibleInput;
  const base = (secondaryVoltage * secondaryVoltage) / ratedPower;
  const lossRatio = loadLoss / ratedPower;
  if (lossRatio > impedance) return { ok: false, problem: 'loss_exceeds_impedance', lossRatio, impedance };
  const reactanceRatio = Math.sqrt((impedance - lossRatio) * (impedance + lossRatio));
  return finite({ ok: true as const, kind: 'series', resistance: lossRatio * base, reactance: reactanceRatio * base });
}

/**
 * Magnetising branch (siemens per phase, star) on the winding with the given voltage: G = P0/U², |Y| = i0·S/U²,
 * the rest inductive. `noLoadCurrent` is a ratio of rated current; where it isn't known, only the loss is modelled.
 */
export function magnetisingShunt(plate: {
  readonly ratedPower: number;
  readonly voltage: number;
  readonly noLoadLoss: number;
  readonly noLoadCurrent?: number | undefined;
}): (ShuntElement & { readonly ok: true }) | TransformerProblem {
  const { ratedPower, voltage, noLoadLoss, noLoadCurrent } = plate;
  if (!(ratedPower > 0 && voltage > 0 && noLoadLoss >= 0)) return impossibleInput;
  const lossRatio = noLoadLoss / ratedPower;
  const base = ratedPower / (voltage * voltage);
  const conductance = lossRatio * base;
  if (noLoadCurrent === undefined) return finite({ ok: true as const, kind: 'shunt', conductance, susceptance: 0 });
  if (!(noLoadCurrent >= 0)) return impossibleInput;
  if (lossRatio > noLoadCurrent) return { ok: false, problem: 'loss_exceeds_current', lossRatio, noLoadCurrent };
  const magnetising = Math.sqrt((noLoadCurrent - lossRatio) * (noLoadCurrent + lossRatio));
  return finite({ ok: true as const, kind: 'shunt', conductance, susceptance: -magnetising * base });
}

/**
 * Network-side volts for one converter-side volt, at no load. `tap` raises the primary turns (+0.05 at a +5 % tap),
 * `ratioError` is the manufacturing deviation of the ratio. Undefined where the secondary has no voltage.
 */
export const voltageRatio = (
  primaryVoltage: number,
  secondaryVoltage: number,
  tap = 0,
  ratioError = 0,
): number | undefined =>
  secondaryVoltage > 0 && primaryVoltage > 0
    ? (primaryVoltage / secondaryVoltage) * (1 + tap) * (1 + ratioError)
    : undefined;

/** Current (A rms) into a bolted three-phase fault at the given line-to-line voltage behind an impedance. */
export function faultCurrentBehind(voltage: number, impedance: Impedance): number | undefined {
  const z = Math.hypot(impedance.resistance, impedance.reactance);
  return z > 0 ? voltage / (Math.sqrt(3) * z) : undefined;
}

/**
 * Greatest deviation of the no-load ratio on the principal tapping: the lower of 0.5 % and a tenth of the impedance. Source:
 * IEC 60076-1 (1993 + A1:1999), Table 1, seen in source.
 */
export const ratioTolerance = (impedance: number): number => Math.min(0.005, Math.abs(impedance) / 10);

/**
 * Peak inrush current (A) as a multiple of the rated current's peak. The default of 10 is common practice, no source
 * (8 to 12 is usual); the maker's figure wins. Undefined without a voltage.
 */
export const inrushPeak = (ratedPower: number, ratedVoltage: number, multiple = 10): number | undefined =>
  ratedVoltage > 0 ? (multiple * Math.SQRT2 * ratedPower) / (Math.sqrt(3) * ratedVoltage) : undefined;

const impossibleInput = { ok: false, problem: 'impossible_input' } as const;

function finite<T extends (SeriesElement | ShuntElement) & { readonly ok: true }>(
  element: T,
): T | typeof impossibleInput {
  const sum =
    element.kind === 'series' ? element.resistance + element.reactance : element.conductance + element.susceptance;
  return Number.isFinite(sum) ? element : impossibleInput;
}
