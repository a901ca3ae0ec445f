// What a change does to all plants of a workspace, ready for any of the output forms.
import type { PlantComparison } from '../../engine/compare/comparison.ts';
import type { Finding } from '../../engine/finding.ts';
import type { Counts } from '../findings.ts';

export interface WorkspaceComparison {
  /** How people call the two versions: a commit, a folder, `the working files`. */
  readonly before: string;
  readonly after: string;
  /** Files in which something differs. */
  readonly changed: readonly ComparedFile[];
  readonly added: readonly LoneFile[];
  readonly removed: readonly LoneFile[];
  /** Files of which everything that they say and use is the same. */
  readonly unchanged: number;
  /** In sentences: what could not be read and therefore not compared. */
  readonly problems: readonly string[];
  /** In sentences: how the comparison was made. */
  readonly remarks: readonly string[];
  /** Something is nearer to its limit, or there is a new or graver complaint. */
  readonly worse: boolean;
}

export interface ComparedFile {
  readonly path: string;
  /** Where it was before, if somewhere else. */
  readonly movedFrom: string | undefined;
  /** Undefined for a file of parts. */
  readonly plant: string | undefined;
  readonly comparison: PlantComparison;
  /** Of all findings after the change. */
  readonly counts: Counts;
  /** The line, from 1, on which a finding stands: in the text after the change, for one that is gone in the text before. */
  readonly lineOf: (finding: Finding) => number;
}

/** A file that only one of the versions has. */
export interface LoneFile {
  readonly path: string;
  readonly plant: string | undefined;
  readonly counts: Counts;
  readonly findings: readonly Finding[];
  readonly lineOf: (finding: Finding) => number;
}

export function isEmpty({ values, elsewhere, facts, picks, statements, findings, renamed }: PlantComparison): boolean {
  const moved = values.length + elsewhere + facts.length + picks.length + statements.length + renamed.length;
  return moved + findings.new.length + findings.gone.length + findings.changed.length === 0;
}
