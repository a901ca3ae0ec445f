// Cells in series to a string and strings in parallel to a battery, for tests that begin at a cell.

type Curve = (soc: number) => number;

/** V, Ω and C of one cell over the state of charge (0…1). */
export interface Cell {
  readonly emf: Curve;
  readonly resistance: Curve;
  readonly capacity: number;
}

/** E·s, R·s/p, Q·p; all cells alike. */
export const packOf = ({ emf, resistance, capacity }: Cell, series: number, parallel = 1): Cell => ({
  emf: soc => series * emf(soc),
  resistance: soc => (series / parallel) * resistance(soc),
  capacity: parallel * capacity,
});
