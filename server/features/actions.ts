// Code actions: the fixes that findings bring along, and all safe ones of a file at once.
import type { FileEdit, Finding, Fix } from '../../engine/finding.ts';
import type { FileContext } from './context.ts';

export interface Action {
  readonly fix: Fix;
  readonly finding: Finding;
}

/** The fixes of all findings that touch the span. */
export function actionsAt({ analysis, path }: FileContext, start: number, end: number): readonly Action[] {
  return analysis.findings
    .filter(({ place }) => place.path === path && place.start <= end && start <= place.end)
    .flatMap(finding => finding.fixes.map(fix => ({ fix, finding })));
}

/** The safe fixes of the whole file that don't get in each other's way, as one; undefined where there are none. */
export function fixAll({ analysis, path }: FileContext): Fix | undefined {
  const edits: FileEdit[] = [];
  for (const { place, fixes } of analysis.findings) {
    const fix = fixes.find(({ safe }) => safe);
    if (place.path !== path || fix === undefined) continue;
    if (fix.edits.every(edit => edit.place.path === path && !edits.some(other => overlap(edit, other))))
      edits.push(...fix.edits);
  }
  return edits.length === 0 ? undefined : { title: 'Apply all safe fixes', safe: true, edits };
}

function overlap({ place: a }: FileEdit, { place: b }: FileEdit): boolean {
  return a.start <= b.end && b.start <= a.end;
}
