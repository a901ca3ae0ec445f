// Works out, while the editor is silent, the main results that no check needed: those that a hover over a component and the
// values beside the text begin with. A discharge time that surely suffices is such a one.
import type { WorkspacePath } from '../engine/analysis.ts';
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

/** The possible windings take longer and more room than all others together: they are left to whoever asks. */
const dear = new Set(['winding_min', 'winding_max']);

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
  for (const name of mainNames(checked, path)) {
    const since = performance.now() - begun;
    if (since > slice) {
      spent += since;
      if (spent > longest || !(await lull.turn())) return;
      begun = performance.now();
    }
    // Of a newer text there will be news.
    if (!isOfUse(checked, workspace, path)) return;
    checked.analysis.values.worst(name);
  }
}

function isOfUse({ closure }: Checked, { sources }: Workspace, path: WorkspacePath): boolean {
  return sources.isOpen(path) && sources.isCurrent(closure);
}

function mainNames({ closure }: Checked, path: WorkspacePath): readonly string[] {
  const file = closure.snapshot.files.get(path);
  if (file?.state !== 'text') return [];
  return entitiesOf(path, file.tree).flatMap(({ declaration: { kind, name } }) =>
    mainResults(kind.text)
      .filter(result => !dear.has(result))
      .map(result => `${name?.text}.${result}`),
  );
}
