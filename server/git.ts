// Git as the checker uses it: reads commits and lists changes, and never touches what is checked out. Names from
// outside are always whole arguments behind an end-of-options mark, so that none of them can be taken for an option.
import { execFile } from 'node:child_process';
import path from 'node:path';
import type { WorkspacePath } from '../engine/analysis.ts';
import { decodeFile, type FileText, type Host, largestFile, tooLarge } from './host.ts';

export type Answer<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly message: string };

export interface Repository {
  /** The folder of the checkout, absolute. */
  readonly folder: string;
  /** The full name of the commit that a revision means, or a sentence that says why there is none. */
  commitOf(revision: string): Promise<Answer<string>>;
  /** Paths below `folder` that differ between the commit and the working files, those that git does not know included. */
  changedSince(commit: string): Promise<Answer<readonly string[]>>;
  /** The files of a commit below a folder of the checkout. */
  hostAt(commit: string, root: string): Promise<Answer<Host>>;
}

export async function openRepository(folder: string): Promise<Answer<Repository>> {
  // Asked for as a way up, so that the answer keeps the spelling of the folder even where that leads through a link.
  const up = await git(folder, ['rev-parse', '--is-inside-work-tree', '--show-cdup']);
  if (!up.ok) return up.missing ? wrong('git is not installed, or not on the path.') : wrong(whyNot(folder, up));
  const [inside, way = ''] = up.bytes.toString('utf8').split('\n');
  if (inside !== 'true') return wrong(`"${folder}" is not in the working files of a git repository.`);
  const at = path.resolve(folder, way);
  return {
    ok: true,
    value: {
      folder: at,
      commitOf: revision => commitOf(at, revision),
      changedSince: commit => changedSince(at, commit),
      hostAt: (commit, root) => hostAt(at, commit, root),
    },
  };
}

type Output =
  | { readonly ok: true; readonly bytes: Buffer }
  | { readonly ok: false; readonly missing: boolean; readonly reason: string };

/** Settings of the repository that would start other programs are switched off. */
const quiet = ['-c', 'core.fsmonitor=false', '-c', 'core.quotePath=false', '--no-pager'];

function git(folder: string, words: readonly string[]): Promise<Output> {
  const env = {
    ...process.env,
    GIT_OPTIONAL_LOCKS: '0',
    GIT_TERMINAL_PROMPT: '0',
    GIT_NO_LAZY_FETCH: '1',
    LC_ALL: 'C',
  };
  return new Promise(resolve => {
    const options = { cwd: folder, env, encoding: 'buffer' as const, maxBuffer: 512_000_000, windowsHide: true };
    execFile('git', [...quiet, ...words], options, (error, stdout, stderr) => {
      if (error === null) resolve({ ok: true, bytes: stdout });
      else resolve({ ok: false, missing: error.code === 'ENOENT', reason: lineOf(stderr) || error.message });
    });
  });
}

async function commitOf(folder: string, revision: string): Promise<Answer<string>> {
  const found = await git(folder, ['rev-parse', '--verify', '--quiet', '--end-of-options', `${revision}^{commit}`]);
  if (found.ok) return { ok: true, value: lineOf(found.bytes) };
  const shallow = await git(folder, ['rev-parse', '--is-shallow-repository']);
  if (shallow.ok && lineOf(shallow.bytes) === 'true') {
    return wrong(
      `"${revision}" is not in this shallow clone. Fetch the whole history first, with "git fetch --unshallow"; in a workflow say "fetch-depth: 0" at the step that checks out.`,
    );
  }
  return wrong(`"${revision}" is no commit of this repository.`);
}

async function changedSince(folder: string, commit: string): Promise<Answer<readonly string[]>> {
  const differing = await git(folder, ['diff', '--name-only', '-z', '--no-renames', '--no-ext-diff', commit, '--']);
  if (!differing.ok) return wrong(`git could not compare: ${differing.reason}`);
  const unknown = await git(folder, ['ls-files', '-z', '--others', '--exclude-standard']);
  if (!unknown.ok) return wrong(`git could not list the files: ${unknown.reason}`);
  return { ok: true, value: [...new Set([...entriesOf(differing.bytes), ...entriesOf(unknown.bytes)])].sort() };
}

interface TreeEntry {
  readonly mode: string;
  readonly object: string;
  readonly size: number;
}

async function hostAt(folder: string, commit: string, root: string): Promise<Answer<Host>> {
  const prefix = path.relative(folder, root).replaceAll('\\', '/');
  const listed = await git(folder, ['ls-tree', '-r', '-l', '-z', '--full-tree', commit]);
  if (!listed.ok) return wrong(`git could not read the commit ${commit}: ${listed.reason}`);
  const entries = new Map(entriesOf(listed.bytes).flatMap(line => treeEntry(line, prefix)));
  return {
    ok: true,
    value: {
      read: file => readEntry(folder, entries, file),
      listPlants: async (below, limit = Number.POSITIVE_INFINITY) => plantsIn(entries, below).slice(0, limit),
    },
  };
}

/** `100644 blob 3b18e5…      12<tab>parts/lfp.plant`; nothing for what lies elsewhere. */
function treeEntry(line: string, prefix: string): readonly (readonly [WorkspacePath, TreeEntry])[] {
  const tab = line.indexOf('\t');
  const name = line.slice(tab + 1);
  const [mode = '', , object = '', size = ''] = line.slice(0, tab).split(/ +/);
  if (prefix !== '' && !name.startsWith(`${prefix}/`)) return [];
  const at = prefix === '' ? name : name.slice(prefix.length + 1);
  return [[at, { mode, object, size: Number(size) }]];
}

async function readEntry(
  folder: string,
  entries: ReadonlyMap<WorkspacePath, TreeEntry>,
  file: WorkspacePath,
  hops = 0,
): Promise<FileText> {
  const entry = entries.get(file);
  if (entry === undefined || entry.mode === '160000') return { state: 'missing' };
  if (entry.size > largestFile) return tooLarge(entry.size);
  const blob = await git(folder, ['cat-file', 'blob', entry.object]);
  if (!blob.ok) return { state: 'unreadable', reason: `git could not read it: ${blob.reason}` };
  if (entry.mode !== '120000') return decodeFile(blob.bytes);
  if (hops > 8) return { state: 'unreadable', reason: 'its links go round in a circle' };
  const target = path.posix.normalize(path.posix.join(path.posix.dirname(file), blob.bytes.toString('utf8')));
  if (target.startsWith('..') || path.posix.isAbsolute(target)) return { state: 'outside' };
  return readEntry(folder, entries, target, hops + 1);
}

/** The same files as on disk: none in `node_modules`, none in hidden folders, no hidden ones. */
function plantsIn(entries: ReadonlyMap<WorkspacePath, TreeEntry>, below: WorkspacePath): readonly WorkspacePath[] {
  const inside = (file: string) => below === '' || file === below || file.startsWith(`${below}/`);
  const isShown = (file: string) => !file.split('/').some(part => part.startsWith('.') || part === 'node_modules');
  return [...entries.keys()].filter(file => file.endsWith('.plant') && inside(file) && isShown(file)).sort();
}

function entriesOf(bytes: Buffer): readonly string[] {
  return bytes
    .toString('utf8')
    .split('\0')
    .filter(entry => entry !== '');
}

function lineOf(bytes: Buffer): string {
  return bytes.toString('utf8').replace(/\r?\n[\s\S]*$/, '');
}

function whyNot(folder: string, { reason }: Extract<Output, { ok: false }>): string {
  if (/not a git repository/i.test(reason)) return `"${folder}" is not in a git repository.`;
  return `git refuses to work in "${folder}": ${reason}`;
}

function wrong<T>(message: string): Answer<T> {
  return { ok: false, message };
}
