// The numbers that went into a value, as a short list: a path through a plant has dozens.
import type { DerivationInput } from '../engine/analysis.ts';

export interface ShortInputs {
  readonly shown: readonly DerivationInput[];
  readonly more: number;
}

/**
 * Values come first, since they have a working of their own, and of these the component's own; the rest is in the whole
 * derivation. `of` is the name of the value that they went into.
 */
export function shortInputs(of: string, inputs: readonly DerivationInput[], most: number): ShortInputs {
  if (inputs.length <= most) return { shown: inputs, more: 0 };
  const own = of.slice(0, of.indexOf('.') + 1);
  const rank = ({ kind, name }: DerivationInput): number => (kind === 'value' ? 0 : 2) + (name.startsWith(own) ? 0 : 1);
  const shown = inputs.toSorted((a, b) => rank(a) - rank(b)).slice(0, most);
  return { shown, more: inputs.length - most };
}

/** `K1.current = 754 A, T1.impedance = 6 %, and 12 more`; empty without inputs. */
export function inputsInWords(of: string, inputs: readonly DerivationInput[], most: number): string {
  const { shown, more } = shortInputs(of, inputs, most);
  const words = shown.map(({ name, display }) => `${name} = ${display}`);
  return [...words, ...(more > 0 ? [`and ${more} more`] : [])].join(', ');
}
