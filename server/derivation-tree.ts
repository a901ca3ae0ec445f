// How a value came about, followed down to the facts in the text: for `explain` and for the editor's derivation view.
import type { Analysis, Derivation, DerivationInput, ValueKey } from '../engine/analysis.ts';
import type { Place } from '../engine/finding.ts';

export type DerivationNode =
  | { readonly type: 'value'; readonly derivation: Derivation; readonly inputs: readonly DerivationNode[] }
  /** Stands in full further up. */
  | { readonly type: 'again'; readonly input: DerivationInput }
  /** A fact, a constant, or a value that has no working of its own. */
  | { readonly type: 'leaf'; readonly input: DerivationInput };

/** Each value stands in full once, where it is met first; undefined for an unknown name. */
export function derivationTree(key: ValueKey, analysis: Analysis): DerivationNode | undefined {
  const seen = new Set<string>();

  const nodeOf = (at: ValueKey): DerivationNode | undefined => {
    const derivation = analysis.values.explain(at);
    if (derivation === undefined) return undefined;
    seen.add(identity(at));
    return { type: 'value', derivation, inputs: derivation.inputs.map(inputNode) };
  };

  const inputNode = (input: DerivationInput): DerivationNode => {
    if (input.key === undefined) return { type: 'leaf', input };
    if (seen.has(identity(input.key))) return { type: 'again', input };
    return nodeOf(input.key) ?? { type: 'leaf', input };
  };

  return nodeOf(key);
}

function identity({ name, point }: ValueKey): string {
  return JSON.stringify([name, point?.case, point?.duty, point?.voltage, point?.soc, point?.direction]);
}

type PlacedFact = DerivationInput & { readonly place: Place };

/** The facts in the text that a value leads down to, each once, those that it reads itself first; at most `most`. */
export function derivationFacts(key: ValueKey, analysis: Analysis, most: number): readonly PlacedFact[] {
  const found = new Map<string, PlacedFact>();
  const seen = new Set<string>();
  const waiting = [key];
  // A breadth-first walk: what is nearest to the value explains most.
  for (let at = waiting.shift(); at !== undefined && found.size < most; at = waiting.shift()) {
    if (seen.has(identity(at))) continue;
    seen.add(identity(at));
    for (const input of analysis.values.explain(at)?.inputs ?? []) {
      if (input.key !== undefined) waiting.push(input.key);
      if (hasPlace(input) && found.size < most) found.set(`${input.name} ${input.display}`, input);
    }
  }
  return [...found.values()];
}

function hasPlace(input: DerivationInput): input is PlacedFact {
  return input.place !== undefined;
}
