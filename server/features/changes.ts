// The change view: what the working text of a plant does to the results that it had in the last commit.
import type { Analysis, AnalysisSettings, Snapshot, WorkspacePath } from '../../engine/analysis.ts';
import { analyze } from '../../engine/analyze.ts';
import { comparisonOutput } from '../cli/reporters/compare-json.ts';
import { compareAsMarkdown } from '../cli/reporters/compare-markdown.ts';
import { compareSides } from '../compare/compare-sides.ts';
import { emptyHost, type FileText } from '../host.ts';
import { createSources, type Sources } from '../sources.ts';

/** What one page leaves for the next one of the same plant: an edit changes nothing in what was committed. */
export interface LastPage {
  readonly snapshot: Snapshot;
  readonly settings: AnalysisSettings;
  readonly committed: Analysis;
  /** It knows every result, not only those that a check asks for: the next text starts from it. */
  readonly working: Analysis | undefined;
  /** What was read when the page was written, and the page. */
  readonly read: { readonly was: Snapshot; readonly is: Snapshot; readonly text: string } | undefined;
}

export interface WorkingText {
  readonly sources: Sources;
  /** An analysis of this text or of an earlier one, to start from. */
  readonly latest: Analysis | undefined;
}

export interface ChangesPage {
  /** In Markdown. Whatever keeps it from being made is said on it. */
  readonly text: string;
  readonly last: LastPage | undefined;
}

export async function changesPage(
  path: WorkspacePath,
  { sources, latest }: WorkingText,
  committed: (path: WorkspacePath) => Promise<FileText>,
  settings: AnalysisSettings,
  before: LastPage | undefined,
): Promise<ChangesPage> {
  let last = before;
  const analyseCommitted: typeof analyze = (file, snapshot, today) => {
    if (last === undefined || last.settings.today !== today.today || !sameTexts(last.snapshot, snapshot)) {
      const analysis = analyze(file, snapshot, today, last?.committed ?? latest);
      last = { snapshot, settings: today, committed: analysis, working: last?.working, read: undefined };
    }
    return last.committed;
  };
  const analyseWorking: typeof analyze = (file, snapshot, today) => {
    const working = analyze(file, snapshot, today, last?.working ?? latest);
    if (last !== undefined) last = { ...last, working };
    return working;
  };
  const sideOf = { files: [path], show: (file: WorkspacePath) => file };
  const old = {
    ...sideOf,
    name: 'the last commit',
    sources: createSources({ ...emptyHost, read: committed }),
    analyse: analyseCommitted,
  };
  const now = { ...sideOf, name: 'the working text', sources, analyse: analyseWorking };
  const { snapshot: was } = await old.sources.loadClosure(path);
  const { snapshot: is } = await sources.loadClosure(path);
  // The editor asks again when findings come, though no text has changed since.
  const read = before?.settings.today === settings.today ? before?.read : undefined;
  if (read !== undefined && sameTexts(read.was, was) && sameTexts(read.is, is))
    return { text: read.text, last: before };
  const part = await compareSides(old, now, settings, true);
  const comparison = comparisonOutput({ before: old.name, after: now.name, ...part });
  const text = `# What changed since the last commit\n\n${compareAsMarkdown(comparison, { narrow: true })}`;
  if (last !== undefined) last = { ...last, read: { was, is, text } };
  return { text, last };
}

function sameTexts(a: Snapshot, b: Snapshot): boolean {
  if (a.files.size !== b.files.size) return false;
  return [...a.files].every(([path, state]) => {
    const other = b.files.get(path);
    if (state.state !== 'text' || other?.state !== 'text') return JSON.stringify(state) === JSON.stringify(other);
    return state.tree.text === other.tree.text;
  });
}
