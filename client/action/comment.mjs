// The step that keeps the one comment of a pull request from the same repository up to date.
import { existsSync } from 'node:fs';
import path from 'node:path';
import { commentLength, keepComment } from './platform.mjs';
import { complain, readEvent, say, wattwright, workFolder } from './tools.mjs';

const data = path.join(workFolder(), 'comparison.json');
const number = readEvent().pull_request?.number;

if (!existsSync(data) || !Number.isSafeInteger(number)) say('There is no comparison to comment on.');
else {
  const { code, out, err } = wattwright([
    'compare',
    `--from=${data}`,
    '--format=markdown',
    `--at-most=${commentLength}`,
  ]);
  if (out === '') throw new Error(err);
  try {
    await keepComment(number, `## What this change does to the plants\n\n${out}`, code !== 0 || out.includes('\n### '));
  } catch (error) {
    // The summary has it all; a comment that fails is no reason to keep a change from being merged.
    complain(`The comment could not be written: ${error instanceof Error ? error.message : String(error)}`);
  }
}
