// Which files use which: so that a changed part re-checks the plants that are built with it, open or not.
import type { WorkspacePath } from '../engine/analysis.ts';
import type { Host } from './host.ts';
import { createSources, type Source, usedTargets } from './sources.ts';

export interface UseGraph {
  record(source: Source): void;
  /** Changes with every change of who uses what. */
  state(): number;
  /** Every file that was met so far. */
  known(): readonly WorkspacePath[];
  /** Every file below a folder that was met or that another names, there or not. */
  below(folder: WorkspacePath): readonly WorkspacePath[];
  /** Files that hold no plant: the ones that others may use. */
  partsFiles(): readonly WorkspacePath[];
  /** Everything that uses one of the files, directly or through others, without the files themselves. */
  usersOf(paths: readonly WorkspacePath[]): ReadonlySet<WorkspacePath>;
  /** Whether it uses, directly or through others, a file that passes a test. */
  usesAny(path: WorkspacePath, test: (used: WorkspacePath) => boolean): boolean;
  /** Reads all plant files below a folder once; `record` keeps the graph up to date afterwards. */
  scan(folder: WorkspacePath, most?: number): Promise<void>;
}

/** Unless said otherwise: in a larger folder only what the open files lead to is known. */
const mostFiles = 2000;

export function createUseGraph(host: Host): UseGraph {
  const targetsOf = new Map<WorkspacePath, readonly WorkspacePath[]>();
  const usersOf = new Map<WorkspacePath, Set<WorkspacePath>>();

  const plants = new Set<WorkspacePath>();
  /** Everything that was ever recorded, gone or not: a scan that read an older text doesn't bring it back. */
  const met = new Set<WorkspacePath>();

  let state = 0;

  const record = (source: Source): void => {
    met.add(source.path);
    const targets = usedTargets(source);
    if (targets.join('\n') !== targetsOf.get(source.path)?.join('\n')) state += 1;
    for (const target of targetsOf.get(source.path) ?? []) usersOf.get(target)?.delete(source.path);
    // One that is gone is no longer known: nobody may be offered it.
    if (source.state.state === 'missing') targetsOf.delete(source.path);
    else targetsOf.set(source.path, targets);
    if (holdsPlant(source)) plants.add(source.path);
    else plants.delete(source.path);
    for (const target of targets) {
      const users = usersOf.get(target) ?? new Set();
      usersOf.set(target, users.add(source.path));
    }
  };

  return {
    record,
    state: () => state,
    known: () => [...targetsOf.keys()],
    below: folder => [...new Set([...met, ...usersOf.keys()])].filter(path => path.startsWith(`${folder}/`)),
    partsFiles: () => [...targetsOf.keys()].filter(path => !plants.has(path)),
    usersOf: paths => {
      const found = new Set<WorkspacePath>();
      const waiting = [...paths];
      for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
        for (const user of usersOf.get(at) ?? []) {
          if (found.has(user)) continue;
          found.add(user);
          waiting.push(user);
        }
      }
      for (const path of paths) found.delete(path);
      return found;
    },
    usesAny: (path, test) => {
      const found = new Set([path]);
      for (const one of found) {
        for (const target of targetsOf.get(one) ?? []) {
          if (test(target)) return true;
          found.add(target);
        }
      }
      return false;
    },
    scan: async (folder, most = mostFiles) => {
      for (const path of await host.listPlants(folder, most)) {
        if (met.has(path)) continue;
        // A store of its own, dropped at once: only the names of the used files are kept.
        const source = await createSources(host).load(path);
        if (!met.has(path)) record(source);
      }
    },
  };
}

function holdsPlant({ state }: Source): boolean {
  if (state.state !== 'text') return false;
  return state.tree.chunks.some(({ chunk: { declaration } }) => {
    return declaration?.type === 'entity' && declaration.kind.text === 'plant';
  });
}
