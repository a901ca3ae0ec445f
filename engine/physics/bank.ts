// Batteries side by side on one pair of conductors: what they are together, and what each of them carries.

/** A source behind a resistance, or several of such behind a resistance that they share. Ω, V. */
export type Source =
  | { readonly resistance: number; readonly emf: number }
  | { readonly resistance: number; readonly sources: readonly Source[] };

/** What several sources are at their common terminals. */
export interface Together {
  /** V at no current. */
  readonly emf: number;
  /** Ω. */
  readonly resistance: number;
  /**
   * The part of the common current that each source carries, in their order; what flows between sources of unequal
   * voltage comes on top. Their sum is one.
   */
  readonly parts: readonly number[];
}

/**
 * Sources side by side as one: E = Σ(E_k/R_k) / Σ(1/R_k), R = 1 / Σ(1/R_k), the current dividing as the conductances.
 * Unknown (NaN) where one has no resistance at all: nothing then tells how the others share.
 * Source: Kirchhoff; known as Millman’s theorem.
 */
export function together(sources: readonly Source[]): Together {
  const seen = sources.map(source => {
    if (!('sources' in source)) return { emf: source.emf, resistance: source.resistance, parts: [1] };
    const inner = together(source.sources);
    return { ...inner, resistance: inner.resistance + source.resistance };
  });
  const conductances = seen.map(({ resistance }) => (resistance > 0 ? 1 / resistance : Number.NaN));
  const sum = conductances.reduce((total, one) => total + one, 0);
  const emf = seen.reduce((total, one, index) => total + one.emf * conductances[index]!, 0) / sum;
  return {
    emf,
    resistance: 1 / sum,
    parts: seen.flatMap(({ parts }, index) => parts.map(part => (part * conductances[index]!) / sum)),
  };
}

/**
 * Current (A, positive out of the source) that flows between the sources while nothing flows outside: what a stronger
 * one charges a weaker one with at the moment at which they are joined. In the order of the sources; its sum is zero.
 */
export function equalising(sources: readonly Source[]): readonly number[] {
  return flowing(sources, together(sources).emf);
}

/** Currents out of each source while their common terminals stand at a voltage (V). */
function flowing(sources: readonly Source[], voltage: number): readonly number[] {
  return sources.flatMap(source => {
    if (!('sources' in source)) return [(source.emf - voltage) / source.resistance];
    const inner = together(source.sources);
    const current = (inner.emf - voltage) / (inner.resistance + source.resistance);
    return flowing(source.sources, voltage + current * source.resistance);
  });
}
