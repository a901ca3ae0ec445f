// Where a condition on the winding voltage is just met: sought outwards from the stated winding.
import { signChange } from '../physics/sign-change.ts';

/** Tried winding voltages: from a twentieth to twenty times of the stated one, at first in steps of a tenth. */
const stride = 1.1;
const strides = Math.floor(Math.log(20) / Math.log(stride));

/** Where a boundary may lie to be of any use, V: of one that lies elsewhere no more is wanted than that. */
export interface Wanted {
  /** Not below: then it is without bound, and nothing is sought closely. */
  readonly below?: number | undefined;
  /** Not above. */
  readonly above?: number | undefined;
}

/**
 * The winding voltage nearest to the stated one at which `excess` changes sign, sought by strides on a logarithmic
 * scale and then closely: positive excess means too high. Strides, since far above the stated voltage the filter
 * resonates with the transformer, and what happens there bounds nothing here. NaN where there is no change within reach.
 */
export function boundary(stated: number, excess: (voltage: number) => number, wanted: Wanted = {}): number {
  if (!(stated > 0)) return Number.NaN;
  const { below = Number.POSITIVE_INFINITY, above = Number.NEGATIVE_INFINITY } = wanted;
  const here = excess(stated);
  if (Number.isNaN(here)) return Number.NaN;
  const down = here > 0;
  const elsewhere = down ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const isElsewhere = (voltage: number): boolean => (down ? voltage <= above : voltage >= below);
  // No stride leads beyond what is wanted: there it is seen whether the boundary lies farther on.
  const stepFrom = (voltage: number): number =>
    down ? Math.max(voltage / stride, above) : Math.min(voltage * stride, below);
  if (isElsewhere(stated)) return elsewhere;
  let near = [stated, here] as const;
  for (let step = 0; step < strides; step++) {
    const next = stepFrom(near[0]);
    const far = [next, excess(next)] as const;
    if (Number.isNaN(far[1])) return Number.NaN;
    if (far[1] > 0 !== down) {
      // The change lies in this stride.
      if (down && far[0] >= below) return Number.POSITIVE_INFINITY;
      return down ? signChange(far, near, excess) : signChange(near, far, excess);
    }
    if (isElsewhere(next)) return elsewhere;
    near = far;
  }
  return Number.NaN;
}
