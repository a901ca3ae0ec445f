// Compares with figures from outside, each with its source, and keeps what came out for the table of all comparisons.

import { describe, expect, TestRunner, test } from 'vitest';

/** How sure the outside figure is. "Inputs seen" means: data from the source, result worked out apart from our code. */
export type ReferenceEvidence =
  | 'seen in source'
  | 'inputs seen in source, result recomputed independently'
  | 'inputs from memory, result recomputed independently'
  | 'from memory'
  | 'recomputed independently'
  | 'outside program'
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

/** What is compared, and with whose figures: one row of the table. */
export interface Outside {
  readonly quantity: string;
  readonly source: string;
  readonly evidence: ReferenceEvidence;
}

/** One figure of ours beside one from outside; both distances in the same measure. */
export interface Compared extends Outside {
  readonly deviation: number;
  readonly tolerance: number;
  readonly absolute: boolean;
}

declare module 'vitest' {
  interface TaskMeta {
    /** What a test compared, for whoever reads the results of a run. */
    compared?: Compared[];
  }
}

/** One test a case; fails where the engine gives nothing, and where there is no case at all. */
export function referenceTests(title: string, cases: readonly ReferenceCase[]): void {
  if (cases.length === 0) throw new Error(`${title}: no reference case`);
  describe(title, () => {
    test.each(cases)('$name ($evidence: $source)', ({ actual, expected, tolerance, source, evidence, absolute }) => {
      const value = actual();
      if (value === undefined) throw new Error('the engine gave no value');
      const scale = absolute === true ? 1 : Math.abs(expected);
      compare({ quantity: title, source, evidence }, value, expected, tolerance, scale, absolute === true);
    });
  });
}

/** For tests that get many figures at once, such as from a simulator: a function that compares one, relatively. */
export function comparedWith(outside: Outside) {
  return (actual: number, expected: number, tolerance: number, scale = Math.abs(expected)): void =>
    compare(outside, actual, expected, tolerance, scale, false);
}

/** The same for figures that are compared by their difference, in SI. */
export function comparedByDifference(outside: Outside) {
  return (actual: number, expected: number, tolerance: number): void =>
    compare(outside, actual, expected, tolerance, 1, true);
}

function compare(
  outside: Outside,
  actual: number,
  expected: number,
  tolerance: number,
  scale: number,
  absolute: boolean,
): void {
  const distance = Math.abs(actual - expected);
  const allowed = tolerance * scale;
  expect(distance, `${outside.quantity}: ${actual} against ${expected}`).toBeLessThanOrEqual(allowed);
  const meta = TestRunner.getCurrentTest()?.meta;
  if (meta === undefined) throw new Error('figures are compared inside a test');
  const measured = { deviation: scale === 0 ? distance : distance / scale, tolerance, absolute };
  meta.compared = [...(meta.compared ?? []), { ...outside, ...measured }];
}
