// The command `compare`: what a change does to the results of every plant that it reaches.
import path from 'node:path';
import type { Answer } from '../../git.ts';
import { writeText } from '../../node-host.ts';
import type { Command, Given } from '../command.ts';
import { comparisonOutput } from '../reporters/compare-json.ts';
import { compareAsMarkdown } from '../reporters/compare-markdown.ts';
import { compareAsText } from '../reporters/compare-text.ts';
import type { CompareOutput } from '../schemas.ts';
import { type ExitCode, plainStyle, type Style, type Terminal } from '../terminal.ts';

const forms: Readonly<Record<string, (comparison: CompareOutput, style: Style, most: number) => string>> = {
  text: compareAsText,
  json: comparison => `${JSON.stringify(comparison, null, 2)}\n`,
  markdown: (comparison, _, most) => compareAsMarkdown(comparison, { most }),
};

export const compare: Command = {
  name: 'compare',
  summary: 'says what a change does to the results',
  operands: 'OLD NEW | --since REV [PATH…]',
  leastOperands: 0,
  mostOperands: Number.POSITIVE_INFINITY,
  options: {
    since: { meaning: 'compare with this commit, read through git without touching the working files', value: 'REV' },
    to: { meaning: 'with --since: up to this commit, not to the working files', value: 'REV' },
    from: { meaning: 'write a comparison again that --format json has written; nothing is computed', value: 'FILE' },
    format: { meaning: 'how to write the comparison (text)', value: Object.keys(forms) },
    output: { meaning: 'write there instead of to the terminal', value: 'FILE' },
    'at-most': { meaning: 'with markdown: cut it to so many characters, hazards last', value: 'NUMBER' },
  },
  details: `OLD and NEW are two files or two folders. With --since the paths (without any, the current folder) are compared with
themselves at a commit. Results are compared at their worst operating points; what differs by less than a millionth, or
by less than the display shows, has not moved. "Towards" means nearer to the end at which a result is judged. Installed
packages are not under version control: those of today count on both sides.

Exit code: 0 nothing is worse; 1 a result moved towards its limit, or there is a new or graver error or warning; 2 it
could not compare, or not everything.`,
  run: async (given, terminal) => {
    const most = numberOf(given.values.get('at-most'));
    if (Number.isNaN(most)) return fail(terminal, `--at-most wants a whole number of at least ${leastLength}.`);
    const compared = await comparisonFor(given, terminal);
    if (!compared.ok) return fail(terminal, compared.message);
    const comparison = compared.value;

    const write = forms[given.values.get('format') ?? 'text'] ?? compareAsText;
    const output = given.values.get('output');
    const text = write(comparison, output === undefined ? terminal.style : plainStyle, most);
    if (output === undefined) terminal.out(text);
    else {
      const problem = await writeText(path.resolve(terminal.folder, output), text);
      if (problem !== undefined) return fail(terminal, `"${output}" could not be written: ${problem}`);
    }
    for (const problem of comparison.problems) terminal.err(`${problem}\n`);
    if (comparison.problems.length > 0) return 2;
    return comparison.worse ? 1 : 0;
  },
};

async function comparisonFor(given: Given, terminal: Terminal): Promise<Answer<CompareOutput>> {
  const from = given.values.get('from');
  if (from !== undefined) {
    const { readComparison } = await import('../read-comparison.ts');
    return readComparison(path.resolve(terminal.folder, from), from);
  }
  const sides = await sidesOf(given, terminal);
  if (!sides.ok) return sides;
  const { compareSides } = await import('../../compare/compare-sides.ts');
  const { settings } = await import('../load.ts');
  const { before, after, pair } = sides.value;
  const part = await compareSides(before, after, settings(), pair);
  return { ok: true, value: comparisonOutput({ before: before.name, after: after.name, ...part }) };
}

async function sidesOf({ operands, values }: Given, terminal: Terminal) {
  const { sidesOfCommits, sidesOfPaths } = await import('../compare-targets.ts');
  const since = values.get('since');
  const to = values.get('to');
  if (since !== undefined) return sidesOfCommits(since, to, operands, terminal);
  if (to !== undefined) return { ok: false, message: '--to wants --since beside it.' } as const;
  const [old, now, ...others] = operands;
  if (old === undefined || now === undefined || others.length > 0) {
    return {
      ok: false,
      message: 'Compare two files or two folders, or with a commit: wattwright compare --since REV.',
    } as const;
  }
  return sidesOfPaths(old, now, terminal);
}

/** Shorter than this there is no room to say what was cut. */
const leastLength = 1000;

/** Without a word there is no limit; NaN where the word is no such number. */
function numberOf(word: string | undefined): number {
  if (word === undefined) return Number.POSITIVE_INFINITY;
  const number = /^\d{1,9}$/.test(word) ? Number(word) : Number.NaN;
  return number >= leastLength ? number : Number.NaN;
}

function fail(terminal: Terminal, message: string): ExitCode {
  terminal.err(`${message}\n`);
  return 2;
}
