// Code actions: the fixes that findings bring along, and all safe ones of a file at once.
import type { AnalysisSettings } from '../../engine/analysis.ts';
import type { FileEdit, Finding, Fix } from '../../engine/finding.ts';
import { fixHolds } from '../../engine/trial.ts';
import type { FileContext } from './context.ts';

export interface Action {
  readonly fix: Fix;
  readonly finding: Finding;
}

/** The fixes of all findings that touch the span; each was tried, and holds. */
export function actionsAt(
  context: FileContext,
  start: number,
  end: number,
  settings: AnalysisSettings,
): readonly Action[] {
  return context.analysis.findings
    .filter(({ place }) => place.path === context.path && place.start <= end && start <= place.end)
    .flatMap(finding => finding.fixes.map(fix => ({ fix, finding })))
    .filter(action => holds(action, context, settings));
}

function holds({ fix, finding }: Action, { analysis, closure }: FileContext, settings: AnalysisSettings): boolean {
  return fixHolds(fix, finding, { analysis, snapshot: closure.snapshot, settings });
}

/** The safe fixes of the whole file that don't get in each other's way, as one; undefined where there are none. */
export function fixAll(context: FileContext, settings: AnalysisSettings): Fix | undefined {
  const { analysis, path } = context;
  const edits: FileEdit[] = [];
  for (const finding of analysis.findings) {
    const { place, fixes } = finding;
    const fix = fixes.find(({ safe }) => safe);
    if (place.path !== path || fix === undefined || !holds({ fix, finding }, context, settings)) continue;
    if (fix.edits.every(edit => edit.place.path === path && !edits.some(other => overlap(edit, other))))
      edits.push(...fix.edits);
  }
  return edits.length === 0 ? undefined : { title: 'Apply all safe fixes', safe: true, edits };
}

function overlap({ place: a }: FileEdit, { place: b }: FileEdit): boolean {
  return a.start <= b.end && b.start <= a.end;
}
