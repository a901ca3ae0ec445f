// Turns a list of published figures, each with its source, into tests.

import { describe, expect, test } from 'vitest';

/** How sure the outside figure is. "Inputs seen" means: data from the source, result worked out apart from our code. */
export type ReferenceEvidence =
  | 'seen in source'
  | 'inputs seen in source, result recomputed independently'
  | 'inputs from memory, result recomputed independently'
  | 'from memory'
  | 'recomputed independently'
  | 'common practice, no source';

export type ReferenceCase = {
  readonly name: string;
  readonly source: string;
  readonly evidence: ReferenceEvidence;
  readonly actual: () => number | undefined;
  readonly expected: number;
  /** Relative, unless `absolute` is set. */
  readonly tolerance: number;
  readonly absolute?: true;
};

/** One test a case; fails where the engine gives nothing, and where there is no case at all. */
export function referenceTests(title: string, cases: readonly ReferenceCase[]): void {
  if (cases.length === 0) throw new Error(`${title}: no reference case`);
  describe(title, () => {
    test.each(cases)('$name ($evidence: $source)', ({ actual, expected, tolerance, absolute }) => {
      const value = actual();
      if (value === undefined) throw new Error('the engine gave no value');
      const allowed = absolute === true ? tolerance : tolerance * Math.abs(expected);
      expect(Math.abs(value - expected), `${value} against ${expected}`).toBeLessThanOrEqual(allowed);
    });
  });
}
