// What `check` has found, ready for any of the output forms.
import type { Derivation, WorkspacePath } from '../../engine/analysis.ts';
import type { Finding, Place } from '../../engine/finding.ts';
import type { Counts } from '../findings.ts';
import { type LineIndex, lineText, positionAt } from '../lines.ts';

export interface CheckReport {
  readonly files: readonly CheckedFile[];
  readonly counts: Counts;
  /** Warnings count as errors. */
  readonly strict: boolean;
  /** Findings that the baseline knows already and that are therefore not among those of the files. */
  readonly known: number;
  /** In sentences: what a reader must know about how these findings were chosen. */
  readonly remarks: readonly string[];
  readonly unreadable: readonly { readonly path: string; readonly reason: string }[];
}

export interface CheckedFile {
  /** As seen from the current folder. */
  readonly path: string;
  readonly plant: string | undefined;
  readonly findings: readonly ShownFinding[];
  /** In words: what was not looked at in its plant. */
  readonly notChecked: readonly string[];
}

/** A finding with its places already counted in lines: nothing here holds on to trees or analyses. */
export interface ShownFinding {
  readonly finding: Finding;
  /** How the value that is judged came about, where the output form shows it. */
  readonly derivation: Derivation | undefined;
  /** The same, as the stated facts that it leads down to; empty where the output form does not show it. */
  readonly steps: readonly ShownStep[];
  /** Stays the same from one version of the text to the next; empty where the output form does not show it. */
  readonly fingerprint: string;
  readonly at: ShownPlace;
  /** The line on which it starts. */
  readonly lineText: string;
  readonly related: readonly (ShownPlace & { readonly message: string })[];
  readonly fixes: readonly ShownFix[];
}

export type ShownStep = ShownPlace & { readonly message: string };

export interface ShownFix {
  readonly title: string;
  readonly safe: boolean;
  readonly edits: readonly (ShownPlace & { readonly text: string })[];
}

/** A place as people and other programs count: lines and columns from 1, columns in UTF-16 code units. */
export interface ShownPlace {
  readonly path: string;
  readonly range: { readonly start: ShownPosition; readonly end: ShownPosition };
}

export interface ShownPosition {
  readonly line: number;
  readonly column: number;
}

/** Where the files' lines begin, and how output names the files. */
export interface Files {
  readonly linesOf: (path: WorkspacePath) => LineIndex | undefined;
  readonly show: (path: WorkspacePath) => string;
}

export function shownPlace(place: Place, { linesOf, show }: Files): ShownPlace {
  const lines = linesOf(place.path);
  const position = (offset: number): ShownPosition => {
    if (lines === undefined) return { line: 1, column: 1 };
    const { line, column } = positionAt(lines, offset);
    return { line: line + 1, column: column + 1 };
  };
  return { path: show(place.path), range: { start: position(place.start), end: position(place.end) } };
}

/** How a finding's number came about, as far as the output form wants it. */
export interface Working {
  readonly derivation: Derivation | undefined;
  readonly steps: readonly (Place & { readonly message: string })[];
}

export const noWorking: Working = { derivation: undefined, steps: [] };

export function shownFinding(
  finding: Finding,
  { derivation, steps }: Working,
  files: Files,
): Omit<ShownFinding, 'fingerprint'> {
  const at = shownPlace(finding.place, files);
  const lines = files.linesOf(finding.place.path);
  return {
    finding,
    derivation,
    steps: steps.map(step => ({ ...shownPlace(step, files), message: step.message })),
    at,
    lineText: lines === undefined ? '' : lineText(lines, at.range.start.line - 1),
    related: finding.related.map(({ place, message }) => ({ ...shownPlace(place, files), message })),
    fixes: finding.fixes.map(({ title, safe, edits }) => ({
      title,
      safe,
      edits: edits.map(({ place, text }) => ({ ...shownPlace(place, files), text })),
    })),
  };
}

/** Each sentence once; where it does not hold for every plant, with the files of those for which it does. */
export function notCheckedIn(report: CheckReport): readonly string[] {
  const plants = report.files.filter(file => file.plant !== undefined);
  const every = [...new Set(plants.flatMap(file => file.notChecked))];
  return every.map(words => {
    const of = plants.filter(file => file.notChecked.includes(words));
    return of.length === plants.length ? words : `${words} (${of.map(({ path }) => path).join(', ')})`;
  });
}
