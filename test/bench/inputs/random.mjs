// Repeatable chance: the same seed gives the same inputs on every machine.

/** Numbers from 0 up to 1, by a multiplicative step and a mix of the bits (mulberry32). */
export function createRandom(seed) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    next,
    /** A whole number from `low` to `high`, both included. */
    whole: (low, high) => low + Math.floor(next() * (high - low + 1)),
    of: list => list[Math.floor(next() * list.length)],
  };
}
