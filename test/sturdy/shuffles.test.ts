// The order of declarations never matters: shuffled, a plant has the same findings and the same values.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Analysis } from '../../engine/analysis.ts';
import { parse } from '../../grammar/parse.ts';
import { rootOf, starter, Workspace } from './kit.ts';

const declarationsOf = (text: string): readonly string[] => parse(text).chunks.map(({ chunk }) => chunk.text.trim());
const join = (declarations: readonly string[]): string => `${declarations.join('\n\n')}\n`;

const findingsOf = ({ findings }: Analysis): readonly string[] =>
  findings.map(({ code, severity, subject, message }) => `${severity} ${code} ${subject}: ${message}`).sort();

const valuesOf = ({ values }: Analysis): readonly string[] =>
  values.names.map(name => `${name} ${values.worst(name)?.display}`).sort();

describe.each([...starter].filter(([, text]) => declarationsOf(text).length > 1))('%s, shuffled', (path, text) => {
  const declarations = declarationsOf(text);
  const straight = new Workspace(rootOf(path)).with(path, join(declarations));

  it('has the same findings and values', () => {
    const order = fc.shuffledSubarray([...declarations], { minLength: declarations.length });
    fc.assert(
      fc.property(order, shuffled => {
        const analysis = new Workspace(rootOf(path)).with(path, join(shuffled));
        expect(findingsOf(analysis)).toEqual(findingsOf(straight));
        expect(valuesOf(analysis)).toEqual(valuesOf(straight));
      }),
      { numRuns: 25, seed: 2026 },
    );
  });

  it('has the same findings with a mistake in it', () => {
    const flawed = declarations.map(declaration =>
      declaration.replace(/ = (\d+) kVA/, ' = $1 kW').replace('-> F1', '-> F2'),
    );
    const first = new Workspace(rootOf(path)).with(path, join(flawed));
    const order = fc.shuffledSubarray([...flawed], { minLength: flawed.length });
    fc.assert(
      fc.property(order, shuffled => {
        expect(findingsOf(new Workspace(rootOf(path)).with(path, join(shuffled)))).toEqual(findingsOf(first));
      }),
      { numRuns: 10, seed: 2026 },
    );
  });
});
