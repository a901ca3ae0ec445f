// Tries a fix on the text before it is offered: it holds where its finding goes and no other error or warning comes.
import type { SourceTree } from '../grammar/ast.ts';
import { parse } from '../grammar/parse.ts';
import type { Analysis, AnalysisSettings, FileState, Snapshot, WorkspacePath } from './analysis.ts';
import { analyze } from './analyze.ts';
import { textCodes } from './checks/codes.ts';
import type { FileEdit, Finding, Fix } from './finding.ts';

/** What the analysis was made of: the trial changes this, and takes over from the analysis what stays the same. */
export interface Tried {
  readonly analysis: Analysis;
  readonly snapshot: Snapshot;
  readonly settings: AnalysisSettings;
}

/** The same finding with only the fixes that hold. */
export function withFixesThatHold(finding: Finding, tried: Tried): Finding {
  const fixes = finding.fixes.filter(fix => fixHolds(fix, finding, tried));
  return fixes.length === finding.fixes.length ? finding : { ...finding, fixes };
}

/**
 * A mistake in the text, or a fact that is not there, hides what would be found with it: there the finding only has to
 * go. Everywhere else no other error or warning may come, and none may grow worse.
 */
export function fixHolds(fix: Fix, finding: Finding, { analysis, snapshot, settings }: Tried): boolean {
  const files = changed(snapshot, fix.edits);
  if (files === undefined) return false;
  const after = analyze(analysis.path, { files }, settings, analysis).findings;
  const [left, before] = [after, analysis.findings].map(findings => findings.filter(one => alike(one, finding)).length);
  if (left! >= before!) return false;
  return textCodes.has(finding.code) || fix.fills === true || brings(after, analysis.findings) === undefined;
}

function alike(one: Finding, { code, subject, place }: Finding): boolean {
  return one.code === code && one.subject === subject && one.place.path === place.path;
}

/** The first finding that is there more often, or more gravely, than before. */
export function brings(after: readonly Finding[], before: readonly Finding[]): Finding | undefined {
  const weights = new Map<string, number>();
  for (const finding of before) weights.set(keyOf(finding), (weights.get(keyOf(finding)) ?? 0) + weightOf(finding));
  for (const finding of after) {
    const left = (weights.get(keyOf(finding)) ?? 0) - weightOf(finding);
    if (left < 0 && weightOf(finding) > 0) return finding;
    weights.set(keyOf(finding), left);
  }
  return undefined;
}

const keyOf = ({ code, subject }: Finding): string => `${code} ${subject}`;

/** An error counts as two warnings: one of them may become the other, but not the other way round. */
const weightOf = ({ severity }: Finding): number => (severity === 'error' ? 2 : severity === 'warning' ? 1 : 0);

/** Undefined where a file that it edits is not there. */
function changed({ files }: Snapshot, edits: readonly FileEdit[]): ReadonlyMap<WorkspacePath, FileState> | undefined {
  const result = new Map(files);
  for (const path of new Set(edits.map(({ place }) => place.path))) {
    const state = files.get(path);
    if (state?.state !== 'text') return undefined;
    result.set(path, {
      state: 'text',
      tree: edited(
        state.tree,
        edits.filter(({ place }) => place.path === path),
      ),
    });
  }
  return result;
}

function edited(tree: SourceTree, edits: readonly FileEdit[]): SourceTree {
  const fromTheEnd = [...edits].sort((a, b) => b.place.start - a.place.start);
  const text = fromTheEnd.reduce(
    (before, edit) => before.slice(0, edit.place.start) + edit.text + before.slice(edit.place.end),
    tree.text,
  );
  return parse(text, tree);
}
