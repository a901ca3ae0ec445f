// Reads and analyses files for the commands; the same path through the code as in the editor, without the waiting.
import type { Analysis, AnalysisSettings, WorkspacePath } from '../../engine/analysis.ts';
import { analyze } from '../../engine/analyze.ts';
import type { Finding } from '../../engine/finding.ts';
import { fixTrial } from '../../engine/trial.ts';
import type { LineIndex } from '../lines.ts';
import { createNodeHost } from '../node-host.ts';
import { type Closure, createSources, type Sources } from '../sources.ts';
import { localDate } from '../today.ts';
import type { TargetGroup } from './targets.ts';

export interface Loaded {
  readonly root: string;
  readonly path: WorkspacePath;
  readonly analysis: Analysis;
  /** A finding of the analysis with those of its fixes that were tried and hold. */
  readonly tried: (finding: Finding) => Finding;
  /** Lines of the file itself and of every file that it uses. */
  readonly linesOf: (path: WorkspacePath) => LineIndex | undefined;
}

/** Why a file could not even be looked at. */
export interface Unreadable {
  readonly root: string;
  readonly path: WorkspacePath;
  readonly reason: string;
}

/** Analyses the files one after the other; what they share is read and parsed once. */
export async function* loadAll(groups: readonly TargetGroup[]): AsyncGenerator<Loaded | Unreadable> {
  for (const { root, files } of groups) {
    const sources = createSources(createNodeHost(root));
    for (const [index, path] of files.entries()) {
      // Reading at once, many plants would be one long turn, in which the memory of those before is let go of too late.
      if (index > 0) await nextTurn();
      yield await loadOne(root, path, sources);
    }
  }
}

const nextTurn = (): Promise<void> => new Promise(resolve => void setImmediate(resolve));

export function isUnreadable(loaded: Loaded | Unreadable): loaded is Unreadable {
  return 'reason' in loaded;
}

async function loadOne(root: string, path: WorkspacePath, sources: Sources): Promise<Loaded | Unreadable> {
  const closure = await sources.loadClosure(path);
  const reason = whyUnreadable(closure);
  if (reason !== undefined) return { root, path, reason };
  const { snapshot } = closure;
  const analysis = analyze(path, snapshot, settings());
  const tried = fixTrial({ analysis, snapshot, settings: settings() });
  // Nobody can use a file that holds a plant, so nobody will ask for it again.
  if (analysis.plant !== undefined) sources.forget(path);
  return { root, path, analysis, tried, linesOf: at => closure.sources.get(at)?.lines };
}

function whyUnreadable(closure: Closure): string | undefined {
  const state = closure.snapshot.files.get(closure.path);
  if (state === undefined || state.state === 'text') return undefined;
  if (state.state === 'missing') return 'it is not there any more';
  if (state.state === 'outside') return 'it is a link that leads out of the workspace';
  return state.reason;
}

export function settings(): AnalysisSettings {
  return { today: localDate(new Date()) };
}
