// Loss of a converter, and the power on its direct-current side that goes with the power on the other.
//
// Power towards the network is positive on both sides: while discharging the battery gives `dcPower` > 0, while
// charging it takes −dcPower. Either way dcPower = acPower + loss.

export type LossModel =
  | {
      readonly kind: 'polynomial';
      /** Loss at no current, gates active, W. */
      readonly fixed: number;
      /** Loss for each ampere (rms of a line), V. */
      readonly linear: number;
      /** Loss for each ampere squared, ohm. */
      readonly quadratic: number;
      /** Switching part: loss for each ampere at the reference voltage and frequency; scales with both. */
      readonly switching?: SwitchingLoss;
    }
  /** Efficiency (ratio, above 0 up to 1) at the load in question; the caller reads the curve. */
  | { readonly kind: 'efficiency'; readonly efficiency: number };

export type SwitchingLoss = {
  /** V (watts for each ampere) at the reference voltage and frequency. */
  readonly perAmpere: number;
  readonly referenceDcVoltage: number;
  readonly referenceFrequency: number;
  readonly dcVoltage: number;
  readonly frequency: number;
};

export type ConverterPower = {
  readonly ok: true;
  readonly acPower: number;
  readonly dcPower: number;
  readonly loss: number;
  /** Power given over power taken; undefined where none is taken or both sides feed the loss. */
  readonly efficiency: number | undefined;
};

export type ConverterProblem = { readonly ok: false; readonly problem: 'impossible_input' };

/** Direct-current side from the converter's terminal power (W) and line current (A rms). */
export function dcFromAc(acPower: number, acCurrent: number, model: LossModel): ConverterPower | ConverterProblem {
  if (model.kind === 'polynomial') {
    const loss = polynomialLoss(model, acCurrent);
    return loss === undefined ? impossibleInput : powers(acPower, acPower + loss);
  }
  const { efficiency } = model;
  if (!(efficiency > 0 && efficiency <= 1)) return impossibleInput;
  return powers(acPower, acPower > 0 ? acPower / efficiency : acPower * efficiency);
}

/** Terminal power (W) from the direct-current side's power; the current (A rms) belongs to the result: iterate on it. */
export function acFromDc(dcPower: number, acCurrent: number, model: LossModel): ConverterPower | ConverterProblem {
  if (model.kind === 'polynomial') {
    const loss = polynomialLoss(model, acCurrent);
    return loss === undefined ? impossibleInput : powers(dcPower - loss, dcPower);
  }
  const { efficiency } = model;
  if (!(efficiency > 0 && efficiency <= 1)) return impossibleInput;
  return powers(dcPower > 0 ? dcPower * efficiency : dcPower / efficiency, dcPower);
}

/** Loss (W) at a line current (A rms): a + b·I + c·I² and the switching part; undefined if a coefficient is impossible. */
export function polynomialLoss(
  model: Extract<LossModel, { readonly kind: 'polynomial' }>,
  current: number,
): number | undefined {
  const { fixed, linear, quadratic, switching } = model;
  if (!(fixed >= 0 && linear >= 0 && quadratic >= 0 && current >= 0)) return undefined;
  const switched = switching === undefined ? 0 : switchingLoss(switching, current);
  if (switched === undefined) return undefined;
  const loss = fixed + (linear + quadratic * current) * current + switched;
  return Number.isFinite(loss) ? loss : undefined;
}

const impossibleInput: ConverterProblem = { ok: false, problem: 'impossible_input' };

function switchingLoss(given: SwitchingLoss, current: number): number | undefined {
  const { perAmpere, referenceDcVoltage, referenceFrequency, dcVoltage, frequency } = given;
  if (!(perAmpere >= 0 && referenceDcVoltage > 0 && referenceFrequency > 0)) return undefined;
  if (!(dcVoltage >= 0 && frequency >= 0)) return undefined;
  return perAmpere * current * (dcVoltage / referenceDcVoltage) * (frequency / referenceFrequency);
}

function powers(acPower: number, dcPower: number): ConverterPower | ConverterProblem {
  if (!Number.isFinite(acPower + dcPower)) return impossibleInput;
  return { ok: true, acPower, dcPower, loss: dcPower - acPower, efficiency: efficiencyOf(acPower, dcPower) };
}

function efficiencyOf(acPower: number, dcPower: number): number | undefined {
  if (acPower > 0 && dcPower > 0) return acPower / dcPower;
  if (acPower < 0 && dcPower < 0) return dcPower / acPower;
  return undefined;
}
