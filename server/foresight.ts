// Works out, while the editor is silent, what a hover over a component lists and no check needed. A discharge time that
// surely suffices is such a result.
import type { ValueRow, WorkspacePath } from '../engine/analysis.ts';
import { foremostOf, lookThrough } from './features/foremost-results.ts';
import { mainResults } from './features/main-results.ts';
import { entitiesOf } from './features/symbols.ts';
import type { Lull } from './lull.ts';
import type { Checked, Workspace } from './workspace.ts';

export interface Foresight {
  /** The editor has findings of a file. */
  published(workspace: Workspace, path: WorkspacePath): void;
}

/** Milliseconds of work in one go, unless a single result takes longer: whoever asks meanwhile waits no longer. */
const slice = 2;

/** Milliseconds of work on one text: more is left to whoever asks. */
const longest = 1000;

/** Each takes longer than all else that a hover over its component lists: they are left to whoever asks. */
const dear = new Set(['winding_min', 'winding_max', 'least_switching_frequency']);

interface Text {
  readonly workspace: Workspace;
  readonly path: WorkspacePath;
}

export function createForesight(lull: Lull, log: { error(message: string): void }): Foresight {
  let due: readonly Text[] = [];
  let working = false;

  const work = async (): Promise<void> => {
    for (let [next] = due; next !== undefined; [next] = due) {
      due = due.slice(1);
      await workOut(next, lull);
    }
  };

  return {
    published: (workspace, path) => {
      due = [...due.filter(text => text.workspace !== workspace || text.path !== path), { workspace, path }];
      if (working) return;
      working = true;
      work()
        .catch((error: unknown) => log.error(`Working out what may be asked failed: ${error}`))
        .finally(() => {
          working = false;
        });
    },
  };
}

async function workOut({ workspace, path }: Text, lull: Lull): Promise<void> {
  if (!(await lull.turn())) return;
  const checked = workspace.latest(path);
  if (checked === undefined) return;
  let [spent, begun] = [0, performance.now()];
  const looking = lookThroughAll(checked, path);
  // Of a newer text there will be news.
  while (isOfUse(checked, workspace, path) && looking.next().done !== true) {
    const since = performance.now() - begun;
    if (since <= slice) continue;
    spent += since;
    if (spent > longest || !(await lull.turn())) return;
    begun = performance.now();
  }
}

function isOfUse({ closure }: Checked, { sources }: Workspace, path: WorkspacePath): boolean {
  return sources.isOpen(path) && sources.isCurrent(closure);
}

/** A step for each result that a hover over one of the components with main results would list. */
function* lookThroughAll({ closure, analysis: { values } }: Checked, path: WorkspacePath): Generator<ValueRow> {
  const file = closure.snapshot.files.get(path);
  if (file?.state !== 'text') return;
  for (const { declaration } of entitiesOf(path, file.tree)) {
    const { kind, name } = declaration;
    if (name !== undefined && mainResults(kind.text).length > 0)
      yield* lookThrough(foremostOf(name.text, kind.text, values), values, dear);
  }
}
