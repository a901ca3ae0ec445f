// What nobody states, where it only adds: nothing.

/** Zero for a number that is not known, of whatever dimension. */
export function orZero(value: number): number {
  return Number.isNaN(value) ? 0 : value;
}
