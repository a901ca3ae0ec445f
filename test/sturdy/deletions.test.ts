// One token taken out of a sample, each in turn: one mistake gives one finding.
import { describe, expect, it } from 'vitest';
import type { Analysis } from '../../engine/analysis.ts';
import { LineEnd, lex } from '../../grammar/tokens.ts';
import { flawsOf, isTextMistake, lengths, rootOf, starter, Workspace } from './kit.ts';

interface Deletion {
  readonly path: string;
  readonly token: string;
  readonly line: number;
  readonly mistakes: readonly string[];
  /** No error and no warning that the whole sample has not. */
  readonly silent: boolean;
}

const flaws: string[] = [];
const deletions: Deletion[] = [];

function deleteEach(path: string, text: string): void {
  const workspace = new Workspace(rootOf(path));
  const usual = complaintsOf(workspace.with(path, text));
  for (const token of lex(text)) {
    if (token.tokenType === LineEnd || token.image.startsWith('#')) continue;
    const rest = text.slice(0, token.startOffset) + text.slice(token.startOffset + token.image.length);
    const analysis = workspace.with(path, rest);
    flaws.push(...flawsOf(analysis, lengths(path, rest)));
    deletions.push({
      path,
      token: token.image,
      line: text.slice(0, token.startOffset).split('\n').length,
      silent: complaintsOf(analysis).every(complaint => usual.includes(complaint)),
      mistakes: analysis.findings.filter(isTextMistake).map(({ code, message }) => `${code}: ${message}`),
    });
  }
}

const complaintsOf = ({ findings }: Analysis): readonly string[] =>
  findings
    .filter(({ severity }) => severity === 'error' || severity === 'warning')
    .map(({ code, message }) => `${code}: ${message}`);

describe('one token less', () => {
  it.each([...starter])(
    'in %s never throws, and every place is inside its file',
    (path, text) => {
      deleteEach(path, text);
      expect(flaws).toEqual([]);
    },
    300_000,
  );

  it('that makes the text wrong gives one finding about the text, in 95 of 100 cases at least', () => {
    const wrong = deletions.filter(({ mistakes }) => mistakes.length > 0);
    const several = wrong.filter(({ mistakes }) => mistakes.length > 1);
    expect(wrong.length).toBeGreaterThan(500);
    const list = several.map(
      ({ path, line, token, mistakes }) => `${path}:${line} without ${token}\n  ${mistakes.join('\n  ')}`,
    );
    expect(1 - several.length / wrong.length, list.join('\n')).toBeGreaterThanOrEqual(0.95);
  });

  it('is silent only where the text still says something sound', () => {
    // A comma between rows, the reason of an assumption, the shape of a curve, one of two cases, `0` for `0 %`, warmer surroundings.
    const sound = /^(,|-|".*"|smooth|worn|%)$/;
    const silent = deletions.filter(deletion => deletion.silent);
    expect(
      silent.filter(({ token }) => !sound.test(token)).map(({ path, line, token }) => `${path}:${line} ${token}`),
    ).toEqual([]);
    expect(silent.length / deletions.length).toBeLessThan(0.05);
  });
});
