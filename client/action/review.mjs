// The step that checks and compares: annotations on the lines or a file for code scanning, the step summary, and what
// the later steps need. It writes nothing to the platform itself, so that it may run for a fork as well.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { addSummary, complain, git, readEvent, say, setOutput, wattwright, workFolder } from './tools.mjs';

/** The summary of a step may hold 1 MiB: so many characters fit in whatever letters they are. */
const summaryLength = 250_000;

const folder = workFolder();
const event = readEvent();
const paths = (process.env.INPUT_PATHS ?? '').split(/\r?\n/).filter(line => line.trim() !== '');

const code = check();
const { worse, failed } = compare();
setOutput('verdict', failed ? 2 : code);
setOutput('worse', worse);
setOutput('fork', isFork());
setOutput('number', numberOf(event.pull_request?.number) ?? '');

/** Findings: where code scanning is used it shows them, else they become annotations. */
function check() {
  const options = [
    ...(process.env.INPUT_STRICT === 'true' ? ['--strict'] : []),
    ...(process.env.INPUT_SETTLED === 'true' ? ['--settled'] : []),
    ...(process.env.INPUT_BASELINE ? [`--baseline=${process.env.INPUT_BASELINE}`] : []),
  ];
  const scanning = process.env.INPUT_CODE_SCANNING === 'true' && !isFork();
  const words = scanning ? ['--format=sarif', `--output=${path.join(folder, 'findings.sarif')}`] : ['--format=github'];
  const ran = wattwright(['check', ...options, ...words, '--', ...paths]);
  // Each line is a workflow command in which every other text is escaped.
  if (!scanning) process.stdout.write(ran.out);
  say(ran.err);
  if (ran.code === 2) complain(`The plants could not be checked: ${ran.err.trim()}`);
  return ran.code;
}

/** What the change does: the summary, and the same as data for the comment. */
function compare() {
  const base = findBase();
  if (base.problem !== undefined) {
    complain(base.problem);
    addSummary(base.problem);
    return { worse: false, failed: true };
  }
  if (base.commit === undefined) return { worse: false, failed: false };
  const data = path.join(folder, 'comparison.json');
  const ran = wattwright(['compare', `--since=${base.commit}`, '--format=json', `--output=${data}`, '--', ...paths]);
  say(ran.err);
  const shown = wattwright(['compare', `--from=${data}`, '--format=markdown', `--at-most=${summaryLength}`]);
  if (shown.out === '') {
    complain(`The change could not be compared: ${ran.err.trim()}`);
    return { worse: false, failed: true };
  }
  addSummary(`## What this change does to the plants\n\n${shown.out}`);
  keepForFork(data);
  // What could not be read is in the summary; whether that fails is for the check to say, which has read the new text.
  return { worse: ran.code === 1, failed: false };
}

/** The merge base: what the branch itself has changed, whatever happened on the other one meanwhile. */
function findBase() {
  const target = event.pull_request?.base?.sha ?? event.merge_group?.base_sha ?? event.before;
  if (typeof target !== 'string' || !/^[0-9a-f]{40,64}$/.test(target) || /^0+$/.test(target)) return {};
  if (git(['rev-parse', '--is-shallow-repository']).out === 'true') {
    return {
      problem:
        'This checkout is shallow, so there is nothing to compare with. Add these lines to the step that uses actions/checkout:\n\n    with:\n      fetch-depth: 0\n',
    };
  }
  const base = git(['merge-base', target, 'HEAD']);
  if (!base.ok)
    return { problem: `The commit ${target} that this change is to be merged into is not in this checkout.` };
  return { commit: base.out };
}

function isFork() {
  const { pull_request: change, repository } = event;
  return change !== undefined && change.head?.repo?.full_name !== repository?.full_name;
}

/** One file for the trusted workflow: the comparison, and the number that it says it belongs to. */
function keepForFork(data) {
  const number = numberOf(event.pull_request?.number);
  if (!isFork() || number === undefined) return;
  const comparison = wattwright(['compare', `--from=${data}`, '--format=json']).out;
  writeFileSync(path.join(folder, 'review.json'), `{"version":1,"number":${number},"comparison":${comparison}}\n`);
}

function numberOf(value) {
  return Number.isSafeInteger(value) && value > 0 ? value : undefined;
}
