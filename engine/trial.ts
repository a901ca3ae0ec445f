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

/** Gives a finding of the analysis with only those of its fixes that hold. */
export function fixTrial(tried: Tried): (finding: Finding) => Finding {
  let mended: ReadonlySet<Fix> | undefined;
  return finding => {
    if (finding.fixes.length === 0) return finding;
    mended ??= mendedTogether(tried);
    const known = mended;
    const fixes = finding.fixes.filter(fix => known.has(fix) || fixHolds(fix, finding, tried));
    return fixes.length === finding.fixes.length ? finding : { ...finding, fixes };
  };
}

/**
 * Fixes of mistakes in the text that hold, as one trial of all of them shows: a text of a thousand mistakes can't be
 * analysed a thousand times. Those that it does not show to hold may still do so one by one.
 */
function mendedTogether(tried: Tried): ReadonlySet<Fix> {
  const applied = apart(tried.analysis.findings.filter(({ code }) => textCodes.has(code)));
  const files =
    applied.length < 2
      ? undefined
      : changed(
          tried.snapshot,
          applied.flatMap(({ fix }) => fix.edits),
        );
  if (files === undefined) return new Set();
  const { analysis, settings } = tried;
  const left = countAlike(analyze(analysis.path, { files }, settings, analysis).findings);
  const before = countAlike(analysis.findings);
  const mends = countAlike(applied.map(({ finding }) => finding));
  const holds = (key: string): boolean => (left.get(key) ?? 0) <= before.get(key)! - mends.get(key)!;
  return new Set(applied.filter(({ finding }) => holds(alikeKey(finding))).map(({ fix }) => fix));
}

/** The first fix of each finding, as far as their edits stand apart. */
function apart(findings: readonly Finding[]): readonly { readonly finding: Finding; readonly fix: Fix }[] {
  const taken = new Map<WorkspacePath, number>();
  const found: { finding: Finding; fix: Fix }[] = [];
  const inOrder = findings
    .flatMap(finding => finding.fixes.slice(0, 1).map(fix => ({ finding, fix, edit: fix.edits[0] })))
    .sort((a, b) => (a.edit?.place.start ?? 0) - (b.edit?.place.start ?? 0));
  for (const { finding, fix, edit } of inOrder) {
    if (edit === undefined || fix.edits.length > 1) continue;
    const { path, start, end } = edit.place;
    if (start < (taken.get(path) ?? 0)) continue;
    // One further on, so that two insertions at the same place do not count as apart.
    taken.set(path, end + 1);
    found.push({ finding, fix });
  }
  return found;
}

function countAlike(findings: readonly Finding[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const finding of findings) counts.set(alikeKey(finding), (counts.get(alikeKey(finding)) ?? 0) + 1);
  return counts;
}

const alikeKey = ({ code, subject, place }: Finding): string => `${code} ${subject} ${place.path}`;

/**
 * A mistake in the text, or a fact that is not there, hides what would be found with it: there the finding only has to
 * go. Everywhere else no other error or warning may come, and none may grow worse.
 */
export function fixHolds(fix: Fix, finding: Finding, { analysis, snapshot, settings }: Tried): boolean {
  const files = changed(snapshot, fix.edits);
  if (files === undefined) return false;
  const after = analyze(analysis.path, { files }, settings, analysis).findings;
  const key = alikeKey(finding);
  const [left, before] = [after, analysis.findings].map(all => all.filter(one => alikeKey(one) === key).length);
  if (left! >= before!) return false;
  return textCodes.has(finding.code) || fix.fills === true || brings(after, analysis.findings) === undefined;
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
