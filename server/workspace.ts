// Keeps the findings of one workspace folder up to date: which files to check, when, and what to publish.
//
// Invariants: nothing is published for a text that is no longer current; nothing is published before everything that
// a file uses has been read; a file that leaves the set is emptied; an edit that is overtaken is never analysed.
import type { Analysis, AnalysisSettings, WorkspacePath } from '../engine/analysis.ts';
import { analyze } from '../engine/analyze.ts';
import { textCodes } from '../engine/checks/codes.ts';
import type { Finding } from '../engine/finding.ts';
import { groupByFile, identityOf } from './findings.ts';
import { type Host, isPassedOver } from './host.ts';
import { type Announce, announced, longWork } from './progress.ts';
import { type Closure, createSources, type Sources } from './sources.ts';
import { createTurns } from './turns.ts';
import { createUseGraph, type UseGraph } from './use-graph.ts';

/** An analysis and the versions of the files that it saw. */
export interface Checked {
  readonly analysis: Analysis;
  readonly closure: Closure;
  readonly byFile: ReadonlyMap<WorkspacePath, readonly Finding[]>;
}

/** All findings in one file, complete: it replaces what was said before. */
export interface FileFindings {
  readonly path: WorkspacePath;
  readonly findings: readonly Finding[];
}

export interface WorkspaceOptions {
  readonly host: Host;
  readonly settings: () => AnalysisSettings;
  /** False: findings change when the file is saved, not at each keystroke. */
  readonly whileTyping: () => boolean;
  readonly publish: (findings: FileFindings, sources: Sources) => void;
  readonly announce: Announce;
  /** An exception in the analysis is a mistake of ours: it is reported, and the file keeps no findings. */
  readonly failed: (path: WorkspacePath, error: unknown) => void;
}

export interface Workspace {
  readonly sources: Sources;
  /** The editor opened the file or changed its text. */
  edit(path: WorkspacePath, text: string, documentVersion: number): void;
  save(path: WorkspacePath): void;
  close(path: WorkspacePath): void;
  /** A file was made, changed or deleted on disk. */
  fileChanged(path: WorkspacePath): void;
  /** Something came or went that is no plant file: perhaps a folder with some. */
  folderChanged(path: WorkspacePath): void;
  /** Looks through a folder for plants that use what is open, and checks them too. */
  scan(folder: WorkspacePath): Promise<void>;
  /** The analysis of the current text; undefined where it failed. */
  fresh(path: WorkspacePath): Promise<Checked | undefined>;
  /** A file with everything that uses it and all that those use, each in its current version. */
  around(path: WorkspacePath): Promise<Closure>;
  /** Every file that is known in the folder, in its current version: for a search through all of them. */
  everything(): Promise<Closure>;
  /** The file and what it uses as text, without an analysis. */
  parsed(path: WorkspacePath): Promise<Closure>;
  /** As `fresh`; where an analysis takes long, only once the author pauses. */
  settled(path: WorkspacePath): Promise<Checked | undefined>;
  /** The last analysis, which may be of an older text: for names, never for places. */
  latest(path: WorkspacePath): Checked | undefined;
  /** Milliseconds that the last analysis took; undefined before the second one. */
  took(path: WorkspacePath): number | undefined;
  /** Every file that was met so far, read or only looked through. */
  files(): readonly WorkspacePath[];
  /** Every file without a plant that was met so far, read or only looked through. */
  partsFiles(): readonly WorkspacePath[];
  /** Analyses everything anew, after a change of settings or of the date. */
  recheck(): void;
  stop(): void;
}

/**
 * A plant whose last two analyses took longer, in milliseconds, waits for a pause in typing: until then what the author
 * asks for meanwhile, such as completion, is answered soon enough between them. A single edit that reached far is no
 * reason to hold back the next.
 */
const slowRun = 150;
const typingPause = 250;

/** An analysis that nobody has measured yet takes about a millisecond for so many characters. */
const charactersInOne = 100;

interface State {
  readonly options: WorkspaceOptions;
  readonly sources: Sources;
  readonly uses: UseGraph;
  /** Open files and those that use them. */
  readonly wanted: Set<WorkspacePath>;
  readonly checked: Map<WorkspacePath, Checked>;
  /** Milliseconds of the last analysis, from the second one on: the first pays for start-up. */
  readonly durations: Map<WorkspacePath, number | undefined>;
  /** Of the shorter of the last two. */
  readonly usual: Map<WorkspacePath, number>;
  /** To be analysed even if no text has changed since. */
  readonly forced: Set<WorkspacePath>;
  readonly published: Map<WorkspacePath, readonly Finding[]>;
  /** The analyses that were published, for taking back what they said. */
  readonly told: Map<WorkspacePath, Checked>;
  /** Long analyses that the author was told of, and how to end the message; undefined until it is shown. */
  readonly announced: Map<WorkspacePath, (() => void) | undefined>;
  /** Settles when the folders that were asked for have been looked through. */
  scanned: Promise<unknown>;
}

export function createWorkspace(options: WorkspaceOptions): Workspace {
  const sources = createSources(options.host);
  const state: State = {
    options,
    sources,
    uses: createUseGraph(options.host),
    wanted: new Set(),
    checked: new Map(),
    durations: new Map(),
    usual: new Map(),
    forced: new Set(),
    published: new Map(),
    told: new Map(),
    announced: new Map(),
    scanned: Promise.resolve(),
  };
  const turns = createTurns<WorkspacePath>(path => step(path));

  const step = (path: WorkspacePath): void => {
    if (!state.wanted.has(path)) {
      endMessage(state, path);
      return;
    }
    const closure = sources.closureNow(path);
    if (closure === undefined) {
      void sources.loadClosure(path).then(() => turns.add(path));
      return;
    }
    const known = state.checked.get(path);
    if (known !== undefined && sources.isCurrent(known.closure) && !state.forced.has(path)) {
      endMessage(state, path);
      return;
    }
    const expected = state.durations.get(path) ?? lengthOf(closure) / charactersInOne;
    if (expected <= longWork || state.announced.has(path)) return void run(state, path, closure, true);
    // The author reads that it has begun before it takes all the time there is.
    state.announced.set(path, undefined);
    void options.announce(`Checking ${path}`).then(end => {
      state.announced.set(path, end);
      turns.add(path, { first: true });
    });
  };

  /** Asks for an analysis of everything that sees the file. */
  const touch = (path: WorkspacePath): void => {
    for (const user of [path, ...state.uses.usersOf([path])]) {
      if (!state.wanted.has(user)) continue;
      turns.add(user, { first: user === path, pause: isSlow(state, user) ? typingPause : 0 });
    }
  };

  let graph = state.uses.state();
  /** With `changed` after one file was opened, closed or changed, as a renaming does with a thousand: only who sees it. */
  const updateWanted = (changed?: WorkspacePath): void => {
    const known = changed !== undefined && graph === state.uses.state();
    graph = state.uses.state();
    const near = known ? [changed] : [...sources.openPaths(), ...state.wanted];
    for (const path of new Set([...near, ...state.uses.usersOf(near)])) {
      const wanted = sources.isOpen(path) || state.uses.usesAny(path, used => sources.isOpen(used));
      if (wanted === state.wanted.has(path)) continue;
      if (wanted) {
        state.wanted.add(path);
        turns.add(path);
      } else {
        state.wanted.delete(path);
        leave(state, path);
      }
    }
  };

  const fileChanged = (path: WorkspacePath): void => {
    if (!sources.forget(path)) return;
    void sources.load(path).then(source => {
      state.uses.record(source);
      updateWanted(path);
      touch(path);
    });
  };

  return {
    sources,
    edit: (path, text, documentVersion) => {
      const known = sources.isOpen(path);
      sources.open(path, text, documentVersion);
      if (!known) updateWanted(path);
      if (!known || options.whileTyping()) touch(path);
    },
    save: path => {
      if (!state.wanted.has(path)) return;
      state.forced.add(path);
      turns.add(path, { first: true });
    },
    close: path => {
      if (!sources.isOpen(path)) return;
      sources.close(path);
      updateWanted(path);
      touch(path);
    },
    fileChanged,
    folderChanged: path => {
      if (path.split('/').some(isPassedOver)) return;
      // What is being read for an edit that nobody has analysed yet is not known to be used.
      for (const file of new Set([...state.uses.below(path), ...sources.below(path)])) fileChanged(file);
      void state.uses.scan(path).then(() => updateWanted());
    },
    scan: folder => {
      const scan = announced(options.announce, 'Looking for plants', state.uses.scan(folder)).then(() =>
        updateWanted(),
      );
      state.scanned = Promise.allSettled([state.scanned, scan]);
      return scan;
    },
    fresh: path => fresh(state, path),
    parsed: path => sources.loadClosure(path),
    settled: async path => {
      if (isSlow(state, path)) await untilQuiet(state, path);
      return fresh(state, path);
    },
    around: async path => {
      await state.scanned;
      const files = loadAll(sources, path, () => [path, ...state.uses.usersOf([path])]);
      return announced(options.announce, `Reading what uses ${path}`, files);
    },
    everything: async () => {
      await state.scanned;
      const files = loadAll(sources, '', () => [...new Set([...state.uses.known(), ...sources.openPaths()])]);
      return announced(options.announce, 'Reading all plants', files);
    },
    latest: path => state.checked.get(path),
    took: path => state.durations.get(path),
    files: () => state.uses.known(),
    partsFiles: () => state.uses.partsFiles(),
    recheck: () => {
      for (const path of state.wanted) {
        state.forced.add(path);
        turns.add(path);
      }
    },
    stop: () => turns.stop(),
  };
}

async function fresh(state: State, path: WorkspacePath): Promise<Checked | undefined> {
  for (;;) {
    const known = state.checked.get(path);
    if (known !== undefined && state.sources.isCurrent(known.closure)) return known;
    const closure = state.sources.closureNow(path);
    if (closure !== undefined) return run(state, path, closure, state.options.whileTyping());
    await state.sources.loadClosure(path);
  }
}

/** Loads the closures of several files as one; starts again where a text changes meanwhile. */
async function loadAll(sources: Sources, path: WorkspacePath, paths: () => readonly WorkspacePath[]): Promise<Closure> {
  for (;;) {
    const closures = await Promise.all(paths().map(one => sources.loadClosure(one)));
    if (!closures.every(closure => sources.isCurrent(closure))) continue;
    const all = new Map(closures.flatMap(closure => [...closure.sources]));
    return { path, sources: all, snapshot: { files: new Map([...all].map(([at, { state }]) => [at, state])) } };
  }
}

/** `tells`: whether what it finds is published at once; else the next save does. */
function run(state: State, path: WorkspacePath, closure: Closure, tells: boolean): Checked | undefined {
  const before = state.checked.get(path);
  const publishes = state.wanted.has(path) && (tells || !state.told.has(path));
  if (publishes) state.forced.delete(path);
  for (const source of closure.sources.values()) state.uses.record(source);
  try {
    const started = performance.now();
    const analysis = analyze(path, closure.snapshot, state.options.settings(), before?.analysis);
    const duration = state.durations.has(path) ? performance.now() - started : undefined;
    state.usual.set(path, Math.min(duration ?? 0, state.durations.get(path) ?? 0));
    state.durations.set(path, duration);
    const checked: Checked = { analysis, closure, byFile: groupByFile(analysis.findings) };
    state.checked.set(path, checked);
    if (publishes) tellAfter(state, path);
    return checked;
  } catch (error) {
    state.checked.delete(path);
    tellAfter(state, path);
    state.options.failed(path, error);
    return undefined;
  } finally {
    endMessage(state, path);
  }
}

function isSlow({ usual }: State, path: WorkspacePath): boolean {
  return (usual.get(path) ?? 0) > slowRun;
}

function endMessage({ announced }: State, path: WorkspacePath): void {
  announced.get(path)?.();
  announced.delete(path);
}

function lengthOf({ snapshot }: Closure): number {
  return [...snapshot.files.values()].reduce((sum, file) => {
    return sum + (file.state === 'text' ? file.tree.text.length : 0);
  }, 0);
}

async function untilQuiet(state: State, path: WorkspacePath): Promise<void> {
  for (let before = state.sources.current(path); ; before = state.sources.current(path)) {
    await new Promise(resolve => setTimeout(resolve, typingPause));
    if (state.sources.current(path) === before) return;
  }
}

/** The file is of no interest any more: what was said on its account is taken back. */
function leave(state: State, path: WorkspacePath): void {
  state.checked.delete(path);
  state.durations.delete(path);
  state.usual.delete(path);
  state.forced.delete(path);
  tellAfter(state, path);
}

/** Publishes every file of which the analysis of `path` says something now, or said something before. */
function tellAfter(state: State, path: WorkspacePath): void {
  const [before, now] = [state.told.get(path), state.checked.get(path)];
  if (now === undefined) state.told.delete(path);
  else state.told.set(path, now);
  const files = new Set([...(now?.byFile.keys() ?? []), ...(before?.byFile.keys() ?? [])]);
  files.delete(path);
  tell(state, path, true);
  for (const file of files) tell(state, file, false);
}

function tell(state: State, file: WorkspacePath, always: boolean): void {
  const own = state.checked.get(file);
  // Its own analysis is on its way and will tell.
  if (!always && state.wanted.has(file) && (own === undefined || !state.sources.isCurrent(own.closure))) return;
  const findings = collect(state, file);
  const last = state.published.get(file);
  const due = always && state.wanted.has(file);
  if (!due && (last === undefined ? findings.length === 0 : same(last, findings))) return;
  if (findings.length === 0) state.published.delete(file);
  else state.published.set(file, findings);
  state.options.publish({ path: file, findings }, state.sources);
}

/**
 * What is said about the current text of a file: by its own analysis, or else by those of the files that use it. Of a
 * file that nobody has open only what is wrong: the notes of all plants that use an open part would bury the rest.
 */
function collect(state: State, file: WorkspacePath): readonly Finding[] {
  const findings = new Map<string, Finding>();
  const own = state.wanted.has(file) ? state.checked.get(file) : undefined;
  const open = state.sources.isOpen(file);
  for (const checked of own === undefined ? state.checked.values() : [own]) {
    if (!state.wanted.has(checked.analysis.path)) continue;
    if (checked.closure.sources.get(file) !== state.sources.current(file)) continue;
    for (const finding of checked.byFile.get(file) ?? []) {
      if (open || isWrong(finding)) findings.set(identityOf(finding), finding);
    }
  }
  return [...findings.values()];
}

/** Also the note that a mistake in a file which it uses reaches it. */
function isWrong({ severity, code }: Finding): boolean {
  return severity === 'error' || severity === 'warning' || textCodes.has(code);
}

function same(a: readonly Finding[], b: readonly Finding[]): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}
