// The command `check`: the findings of every plant and every part under the paths.
import path from 'node:path';
import type { Counts } from '../../findings.ts';
import { writeText } from '../../node-host.ts';
import { readBaseline } from '../baseline.ts';
import type { Command, Given } from '../command.ts';
import type { FileNames, Gathering, GatherOptions } from '../gather.ts';
import type { CheckReport } from '../report.ts';
import { acceptedAsJson, acceptedAsText } from '../reporters/accepted.ts';
import { checkAsGithub } from '../reporters/check-github.ts';
import { checkAsGitlab } from '../reporters/check-gitlab.ts';
import { checkAsJson } from '../reporters/check-json.ts';
import { checkAsJunit } from '../reporters/check-junit.ts';
import { checkAsText } from '../reporters/check-text.ts';
import { displayPath, findTargets, rootedPath, type TargetGroup } from '../targets.ts';
import { type ExitCode, plainStyle, type Style, type Terminal } from '../terminal.ts';

interface Form {
  readonly write: (report: CheckReport, style: Style) => string | Promise<string>;
  readonly working: GatherOptions['working'];
  /** It shows marks by which a finding is recognised in the next version. */
  readonly marks: boolean;
  /** Other programs want paths from the root of the repository, people from where they are. */
  readonly rooted: boolean;
}

const forms: Readonly<Record<string, Form>> = {
  text: { write: checkAsText, working: 'derivation', marks: false, rooted: false },
  json: { write: checkAsJson, working: 'none', marks: true, rooted: false },
  sarif: {
    write: async report => (await import('../reporters/check-sarif.ts')).checkAsSarif(report),
    working: 'steps',
    marks: true,
    rooted: true,
  },
  github: { write: checkAsGithub, working: 'none', marks: false, rooted: true },
  gitlab: { write: checkAsGitlab, working: 'none', marks: true, rooted: true },
  junit: { write: checkAsJunit, working: 'none', marks: true, rooted: true },
};

export const check: Command = {
  name: 'check',
  summary: 'says what does not hold in every plant under the paths',
  operands: '[PATH…]',
  leastOperands: 0,
  mostOperands: Number.POSITIVE_INFINITY,
  options: {
    format: { meaning: 'how to write the findings (text)', value: Object.keys(forms) },
    output: { meaning: 'write there instead of to the terminal', value: 'FILE' },
    strict: { meaning: 'warnings count as errors for the exit code' },
    settled: { meaning: 'a pick that is still left to the tool is an error' },
    baseline: {
      meaning: 'leave out what FILE knows, an earlier --format json; hazards are always shown',
      value: 'FILE',
    },
    'changed-since': { meaning: 'only plants that the changes since this commit can affect', value: 'REV' },
    accepted: { meaning: 'list what was agreed to instead, with its reasons and dates' },
  },
  details: `A path is a .plant file or a folder, of which all .plant files are checked, except in node_modules and in folders
that begin with a dot. Without a path it is the current folder. "use" in a file reaches everywhere in its workspace:
the nearest folder above that holds a package.json or a .git, else the folder given. Lines and columns count from 1,
columns in UTF-16 code units. Paths in the output count from the current folder, for sarif, github, gitlab and junit
from the root of the repository. "wattwright explain CODE" tells more about a finding.

--changed-since compares the working files with a commit and looks at the plants that changed or that use, directly or
through others, a file that changed. A new package.json or lock file counts as a change of every plant.`,
  run: async (given, terminal) => {
    const problem = whatDoesNotGoTogether(given);
    if (problem !== undefined) return fail(terminal, problem);
    const targets = await findTargets(given.operands, terminal);
    if (!targets.ok) return fail(terminal, targets.message);
    const baseline = await baselineOf(given, terminal);
    if (baseline !== undefined && !baseline.ok) return fail(terminal, baseline.message);
    const selection = await select(targets.groups, given, terminal);
    if (!selection.ok) return fail(terminal, selection.message);

    const form = forms[given.values.get('format') ?? 'text'] ?? forms['text']!;
    const { createGathering } = await import('../gather.ts');
    // The library behind it takes time to load.
    const marks = form.marks || baseline !== undefined ? await import('../../fingerprint.ts') : undefined;
    const gathering = createGathering({
      working: form.working,
      strict: given.switches.has('strict'),
      settled: given.switches.has('settled'),
      fingerprints: marks?.fingerprints,
      baseline: baseline?.known,
    });
    await gather(gathering, selection.groups, form.rooted, terminal);
    return given.switches.has('accepted')
      ? listAccepted(gathering, given, terminal)
      : report(gathering.finish(selection.remarks), form, given, terminal);
  },
};

function whatDoesNotGoTogether({ switches, values }: Given): string | undefined {
  const format = values.get('format') ?? 'text';
  if (switches.has('accepted') && format !== 'text' && format !== 'json')
    return `--accepted is written as text or json, not as ${format}.`;
  if (format === 'sarif' && values.has('changed-since'))
    return 'SARIF holds every finding: who reads a selection would take what is left out as mended. Leave out --changed-since.';
  return undefined;
}

async function baselineOf({ values }: Given, terminal: Terminal) {
  const file = values.get('baseline');
  return file === undefined ? undefined : readBaseline(path.resolve(terminal.folder, file), file);
}

type Selection =
  | { readonly ok: true; readonly groups: readonly TargetGroup[]; readonly remarks: readonly string[] }
  | { readonly ok: false; readonly message: string };

async function select(groups: readonly TargetGroup[], { values }: Given, terminal: Terminal): Promise<Selection> {
  const revision = values.get('changed-since');
  if (revision === undefined) return { ok: true, groups, remarks: [] };
  const { selectChanged } = await import('../changed-since.ts');
  return selectChanged(groups, revision, terminal);
}

async function gather(
  gathering: Gathering,
  groups: readonly TargetGroup[],
  rooted: boolean,
  terminal: Terminal,
): Promise<void> {
  const { isUnreadable, loadAll } = await import('../load.ts');
  for await (const loaded of loadAll(groups)) {
    const fromRoot = (file: string) => rootedPath(loaded.root, file);
    const show = rooted ? fromRoot : (file: string) => displayPath(loaded.root, file, terminal);
    const names: FileNames = { show, rooted: fromRoot };
    if (isUnreadable(loaded)) gathering.skip(loaded, show);
    else gathering.add(loaded, names);
  }
}

async function report(finished: CheckReport, form: Form, given: Given, terminal: Terminal): Promise<ExitCode> {
  const output = given.values.get('output');
  const text = await form.write(finished, output === undefined ? terminal.style : plainStyle);
  const problem = await emit(text, output, terminal);
  if (problem !== undefined) return fail(terminal, problem);
  for (const { path: file, reason } of finished.unreadable) terminal.err(`"${file}" could not be read: ${reason}.\n`);
  if (finished.unreadable.length > 0) return 2;
  return isBad(finished.counts, finished.strict) ? 1 : 0;
}

async function listAccepted(gathering: Gathering, { values }: Given, terminal: Terminal): Promise<ExitCode> {
  const accepted = gathering.accepted();
  const output = values.get('output');
  const style = output === undefined ? terminal.style : plainStyle;
  const text = values.get('format') === 'json' ? acceptedAsJson(accepted) : acceptedAsText(accepted, style);
  const problem = await emit(text, output, terminal);
  if (problem !== undefined) return fail(terminal, problem);
  const { unreadable } = gathering.finish([]);
  for (const { path: file, reason } of unreadable) terminal.err(`"${file}" could not be read: ${reason}.\n`);
  return unreadable.length > 0 ? 2 : 0;
}

async function emit(text: string, output: string | undefined, terminal: Terminal): Promise<string | undefined> {
  if (output === undefined) {
    terminal.out(text);
    return undefined;
  }
  const problem = await writeText(path.resolve(terminal.folder, output), text);
  return problem === undefined ? undefined : `"${output}" could not be written: ${problem}`;
}

function isBad(counts: Counts, strict: boolean): boolean {
  return counts.errors > 0 || (strict && counts.warnings > 0);
}

function fail(terminal: Terminal, message: string): ExitCode {
  terminal.err(`${message}\n`);
  return 2;
}
