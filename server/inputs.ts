// The numbers that went into a value, as a short list: a path through a plant has dozens.
import type { DerivationInput } from '../engine/analysis.ts';

export interface ShortInputs {
  readonly shown: readonly DerivationInput[];
  readonly more: number;
}

/** Values come first, since they have a working of their own; the rest is in the whole derivation. */
export function shortInputs(inputs: readonly DerivationInput[], most: number): ShortInputs {
  if (inputs.length <= most) return { shown: inputs, more: 0 };
  const derived = inputs.filter(input => input.kind === 'value');
  const shown = [...derived, ...inputs.filter(input => input.kind !== 'value')].slice(0, most);
  return { shown, more: inputs.length - most };
}

/** `K1.current = 754 A, T1.impedance = 6 %, and 12 more`; empty without inputs. */
export function inputsInWords(inputs: readonly DerivationInput[], most: number): string {
  const { shown, more } = shortInputs(inputs, most);
  const words = shown.map(({ name, display }) => `${name} = ${display}`);
  return [...words, ...(more > 0 ? [`and ${more} more`] : [])].join(', ');
}
