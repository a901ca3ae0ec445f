// The texts and trees of one workspace folder: what the editor has open goes before what is on disk.
import type { FileState, Snapshot, WorkspacePath } from '../engine/analysis.ts';
import { usedPaths } from '../engine/model/paths.ts';
import type { SourceTree } from '../grammar/ast.ts';
import { parse } from '../grammar/parse.ts';
import type { FileText, Host } from './host.ts';
import { indexLines, type LineIndex } from './lines.ts';

/** One version of one file. Never changed, only replaced: two that are the same object hold the same text. */
export interface Source {
  readonly path: WorkspacePath;
  readonly state: FileState;
  readonly lines: LineIndex;
  /** The editor's number for this text; undefined for a text from disk. */
  readonly documentVersion: number | undefined;
}

/** A file with everything that it uses, each in the version that was current. */
export interface Closure {
  readonly path: WorkspacePath;
  readonly sources: ReadonlyMap<WorkspacePath, Source>;
  readonly snapshot: Snapshot;
}

export interface Sources {
  /** Puts a text before what is on disk. */
  open(path: WorkspacePath, text: string, documentVersion: number): void;
  close(path: WorkspacePath): void;
  isOpen(path: WorkspacePath): boolean;
  openPaths(): readonly WorkspacePath[];
  /** The files below a folder that were read or are being read, there or not. */
  below(folder: WorkspacePath): readonly WorkspacePath[];
  /** Something happened to the file on disk. True where this matters: the text isn't the editor's. */
  forget(path: WorkspacePath): boolean;
  /** The current version, when it has been loaded. */
  current(path: WorkspacePath): Source | undefined;
  load(path: WorkspacePath): Promise<Source>;
  /** The closure as it stands, or undefined where some file of it is still to be loaded. */
  closureNow(path: WorkspacePath): Closure | undefined;
  loadClosure(path: WorkspacePath): Promise<Closure>;
  isCurrent(closure: Closure): boolean;
}

export function createSources(host: Host): Sources {
  const loaded = new Map<WorkspacePath, LazySource>();
  const opened = new Set<WorkspacePath>();
  const loading = new Map<WorkspacePath, Promise<void>>();

  const put = (path: WorkspacePath, text: FileText, documentVersion: number | undefined): void => {
    loaded.set(path, new LazySource(path, text, documentVersion, loaded.get(path)));
  };

  const load = async (path: WorkspacePath): Promise<Source> => {
    for (let source = loaded.get(path); ; source = loaded.get(path)) {
      if (source !== undefined) return source;
      await (loading.get(path) ?? read(path));
    }
  };

  const read = (path: WorkspacePath): Promise<void> => {
    const reading = host.read(path).then(text => {
      // Forgotten while it was being read: what came back may be the old text.
      if (loading.get(path) !== reading) return;
      loading.delete(path);
      if (!loaded.has(path)) put(path, text, undefined);
    });
    loading.set(path, reading);
    return reading;
  };

  const loadClosure = async (path: WorkspacePath): Promise<Closure> => {
    for (;;) {
      const walked = walkClosure(path, at => loaded.get(at));
      if (walked.missing.length === 0) return walked.closure;
      await Promise.all(walked.missing.map(load));
    }
  };

  return {
    open: (path, text, documentVersion) => {
      opened.add(path);
      put(path, { state: 'text', text }, documentVersion);
    },
    close: path => {
      opened.delete(path);
      loaded.delete(path);
      loading.delete(path);
    },
    isOpen: path => opened.has(path),
    openPaths: () => [...opened],
    below: folder => [...loaded.keys(), ...loading.keys()].filter(path => path.startsWith(`${folder}/`)),
    forget: path => {
      if (opened.has(path)) return false;
      loaded.delete(path);
      loading.delete(path);
      return true;
    },
    current: path => loaded.get(path),
    load,
    closureNow: path => {
      const walked = walkClosure(path, at => loaded.get(at));
      return walked.missing.length === 0 ? walked.closure : undefined;
    },
    loadClosure,
    isCurrent: closure => [...closure.sources.values()].every(source => loaded.get(source.path) === source),
  };
}

/**
 * Parses and counts lines only when somebody looks: of a burst of edits only the last one is parsed. A class: of an object
 * with getters of its own everything would be kept until the old part of the heap is swept.
 */
class LazySource implements Source {
  readonly path: WorkspacePath;
  readonly documentVersion: number | undefined;
  private readonly text: FileText;
  /** The tree of the version before, which this one's starts from. */
  private previous: SourceTree | undefined;
  private known: FileState | undefined;
  private index: LineIndex | undefined;

  constructor(
    path: WorkspacePath,
    text: FileText,
    documentVersion: number | undefined,
    before: LazySource | undefined,
  ) {
    this.path = path;
    this.text = text;
    this.documentVersion = documentVersion;
    this.previous = before?.parsed;
  }

  /** The tree if it has been asked for: the next version starts from it. */
  get parsed(): SourceTree | undefined {
    return this.known?.state === 'text' ? this.known.tree : this.previous;
  }

  get state(): FileState {
    if (this.text.state !== 'text') return this.text;
    this.known ??= { state: 'text', tree: parse(this.text.text, this.previous) };
    this.previous = undefined;
    return this.known;
  }

  get lines(): LineIndex {
    this.index ??= indexLines(this.text.state === 'text' ? this.text.text : '');
    return this.index;
  }
}

function walkClosure(path: WorkspacePath, find: (path: WorkspacePath) => Source | undefined) {
  const sources = new Map<WorkspacePath, Source>();
  const files = new Map<WorkspacePath, FileState>();
  const missing: WorkspacePath[] = [];
  const waiting = [path];
  const seen = new Set(waiting);
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    const source = find(at);
    if (source === undefined) {
      missing.push(at);
      continue;
    }
    sources.set(at, source);
    files.set(at, source.state);
    for (const target of usedTargets(source)) {
      if (seen.has(target)) continue;
      seen.add(target);
      waiting.push(target);
    }
  }
  const closure: Closure = { path, sources, snapshot: { files } };
  return { closure, missing };
}

/** The files that a source names in its `use` declarations and that lie in the workspace. */
export function usedTargets(source: Source): readonly WorkspacePath[] {
  if (source.state.state !== 'text') return [];
  return usedPaths(source.path, source.state.tree).flatMap(used => (used.target === undefined ? [] : [used.target]));
}
