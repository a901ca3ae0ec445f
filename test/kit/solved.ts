// Unwraps a result that a test expects to be good, and compares numbers by relative distance.

/** The good case of a result; throws, and so fails the test, with the problem that came instead. */
export function solved<T extends { readonly ok: boolean }>(result: T): Extract<T, { readonly ok: true }> {
  if (!isGood(result)) throw new Error(`expected a result, got the problem ${JSON.stringify(result)}`);
  return result;
}

/** Distance of a figure from the one that it should be, as a ratio of that one. */
export const deviation = (actual: number, expected: number): number => Math.abs(actual / expected - 1);

const isGood = <T extends { readonly ok: boolean }>(result: T): result is Extract<T, { readonly ok: true }> =>
  result.ok;
