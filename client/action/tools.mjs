// What the steps of the action share: the checker as a process, the event, the outputs, and a log that text from a
// file can't steer.
import { spawnSync } from 'node:child_process';
import { appendFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

/** Where the steps of one job leave things for each other. */
export function workFolder() {
  const folder = path.join(process.env.RUNNER_TEMP ?? '.', 'wattwright');
  mkdirSync(folder, { recursive: true });
  return folder;
}

/** Runs the checker that was built beside this action. The words are never read by a shell. */
export function wattwright(words) {
  const brought = path.join(root, 'node_modules/.bin/node');
  const node = existsSync(brought) ? brought : process.execPath;
  const ran = spawnSync(node, [path.join(root, 'dist/wattwright.cjs'), ...words], { encoding: 'utf8', maxBuffer: 1e8 });
  if (ran.error !== undefined) throw ran.error;
  return { code: ran.status ?? 2, out: ran.stdout, err: ran.stderr };
}

export function git(words) {
  const ran = spawnSync('git', words, { encoding: 'utf8', maxBuffer: 1e8, env: { ...process.env, LC_ALL: 'C' } });
  return { ok: ran.status === 0, out: (ran.stdout ?? '').trim() };
}

export function readEvent() {
  const file = process.env.GITHUB_EVENT_PATH;
  return file === undefined || !existsSync(file) ? {} : JSON.parse(readFileSync(file, 'utf8'));
}

/** Only words of ours and numbers come here: a name from outside could begin a line of its own. */
export function setOutput(name, value) {
  if (!/^[\w.-]*$/.test(String(value))) throw new Error(`the output ${name} is no plain word`);
  appendTo('GITHUB_OUTPUT', `${name}=${value}\n`);
}

export function addSummary(markdown) {
  appendTo('GITHUB_STEP_SUMMARY', `${markdown}\n`);
}

/** Behind a mark on each line no text is taken for a command to the runner, of the new form or of the old one. */
export function say(text) {
  for (const line of text.split(/\r\n|[\r\n]/)) {
    if (line !== '') console.log(`wattwright: ${line.replaceAll('##[', '## [')}`);
  }
}

/** One annotation without a place, in words of ours. */
export function complain(message) {
  const data = message.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
  console.log(`::error title=Wattwright::${data}`);
}

function appendTo(variable, text) {
  const file = process.env[variable];
  if (file !== undefined && file !== '') appendFileSync(file, text);
}
