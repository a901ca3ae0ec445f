// Distortion figures of a list of harmonics: by order and in total.

/** Rms amount (V or A) at a harmonic order. */
export type OrderAmount = { readonly order: number; readonly amount: number };

export type Distortion = {
  /** √(sum of squares) over the reference (ratio). */
  readonly total: number;
  /** By order, rising (ratios of the reference). */
  readonly orders: readonly { readonly order: number; readonly ratio: number }[];
};

/**
 * Rms amounts by whole order: each line counts to the nearest multiple of the fundamental, squares adding, much as the
 * harmonic groups of IEC 61000-4-7 gather what lies between (from memory). Rising; the fundamental's own lines count to
 * order one.
 */
export function byOrder<Line extends { readonly frequency: number }>(
  lines: readonly Line[],
  fundamentalFrequency: number,
  amountOf: (line: Line) => number,
): OrderAmount[] {
  const squares = new Map<number, number>();
  for (const line of lines) {
    const order = Math.round(line.frequency / fundamentalFrequency);
    squares.set(order, (squares.get(order) ?? 0) + amountOf(line) ** 2);
  }
  return [...squares]
    .map(([order, square]) => ({ order, amount: Math.sqrt(square) }))
    .sort((left, right) => left.order - right.order);
}

/**
 * Distortion of orders above one up to `highestOrder`, over a reference. With the fundamental as reference this is the
 * total harmonic distortion (of voltage as a rule); with the greatest demand current I_L, the total demand distortion
 * of IEEE 519. Undefined without a reference.
 */
export function distortion(
  amounts: readonly OrderAmount[],
  reference: number,
  highestOrder = Number.POSITIVE_INFINITY,
): Distortion | undefined {
  if (!(reference > 0)) return undefined;
  const counted = amounts.filter(({ order }) => order > 1 && order <= highestOrder);
  const squares = counted.reduce((sum, { amount }) => sum + amount * amount, 0);
  return {
    total: Math.sqrt(squares) / reference,
    orders: counted.map(({ order, amount }) => ({ order, ratio: amount / reference })),
  };
}
