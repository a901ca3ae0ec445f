// The trusted half for forks, run by a workflow that has ended. What it downloads was written by strangers: it is one
// small file, read as data, believed in nothing that can be asked for elsewhere, and shown as text only.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { call, commentLength, keepComment, repository } from './platform.mjs';
import { complain, readEvent, say, wattwright, workFolder } from './tools.mjs';
import { readOnlyFile } from './zip.mjs';

/** Packed and unpacked: a comparison of hundreds of plants is smaller. */
const largest = { packed: 2_000_000, unpacked: 5_000_000 };

try {
  await run(readEvent().workflow_run);
} catch (error) {
  complain(`The comment was not written: ${error instanceof Error ? error.message : String(error)}`);
  process.exitCode = 1;
}

async function run(finished) {
  if (finished === undefined) throw new Error('this step belongs into a workflow that runs on workflow_run');
  if (finished.event !== 'pull_request') return say('The workflow that has ended was not about a pull request.');
  const file = await download(finished);
  if (file === undefined) return say('The workflow that has ended has left nothing to comment on.');
  const review = JSON.parse(file);
  if (review?.version !== 1) throw new Error('what the review has left is of another version');
  const number = await confirmed(review.number, finished);
  const data = path.join(workFolder(), 'fork.json');
  writeFileSync(data, JSON.stringify(review.comparison ?? null));
  const shown = wattwright(['compare', `--from=${data}`, '--format=markdown', `--at-most=${commentLength}`]);
  if (shown.out === '') throw new Error('what the review has left is no comparison');
  const origin = '_Computed by the workflow run of the fork, and not computed again here._';
  await keepComment(number, `## What this change does to the plants\n\n${origin}\n\n${shown.out}`, true);
}

async function download({ id }) {
  if (!Number.isSafeInteger(id)) throw new Error('the event names no run');
  const route = `/repos/${repository()}/actions/runs/${id}/artifacts?name=wattwright-review&per_page=10`;
  const { artifacts } = await (await call('GET', route)).json();
  const found = artifacts.find(({ name, expired }) => name === 'wattwright-review' && !expired);
  if (found === undefined) return undefined;
  if (found.size_in_bytes > largest.packed) throw new Error('what the review has left is far too large');
  const response = await call('GET', `/repos/${repository()}/actions/artifacts/${found.id}/zip`);
  return readOnlyFile(await bounded(response, largest.packed), 'review.json', largest.unpacked);
}

/** Reads no more than it may, whatever size was announced. */
async function bounded(response, most) {
  const parts = [];
  let size = 0;
  for await (const part of response.body) {
    size += part.length;
    if (size > most) throw new Error('what the review has left is far too large');
    parts.push(part);
  }
  return Buffer.concat(parts);
}

/** The number that the file names counts only if that pull request has the very commit that the run was about. */
async function confirmed(number, { head_sha: commit, head_repository: from }) {
  if (!Number.isSafeInteger(number) || number <= 0) throw new Error('what the review has left names no pull request');
  const change = await (await call('GET', `/repos/${repository()}/pulls/${number}`)).json();
  const same =
    change.state === 'open' &&
    change.head?.sha === commit &&
    change.head?.repo?.full_name === from?.full_name &&
    change.base?.repo?.full_name === repository();
  if (!same) throw new Error(`pull request ${number} is not the one that the workflow run was about, or has moved on`);
  return number;
}
