// What differs between two versions of a plant: numbers that moved, facts, choices, agreements and findings.
import type { Finding, PointView, Severity } from '../finding.ts';

export interface PlantComparison {
  /** Tags that are taken to be the same component under another name; everything below speaks of the new one. */
  readonly renamed: readonly Renaming[];
  readonly values: readonly MovedValue[];
  /** How many results moved at some operating point, but not at their worst one. */
  readonly elsewhere: number;
  /** How many results are the same, but for rounding. */
  readonly still: number;
  readonly facts: readonly FactChange[];
  readonly picks: readonly PickChange[];
  /** Components, connections, duties, cases, requirements and acceptances that came or went. */
  readonly statements: readonly StatementChange[];
  readonly findings: FindingChanges;
  /** In sentences: what could not be compared, and why. */
  readonly doubts: readonly string[];
}

export interface Renaming {
  readonly before: string;
  readonly after: string;
  /** In words: why they are taken to be the same. */
  readonly evidence: string;
}

export interface MovedValue {
  readonly name: string;
  readonly meaning: string;
  /** SI unit; empty for ratios. */
  readonly unit: string;
  /** Undefined: the result did not exist. */
  readonly before: ValueSide | undefined;
  readonly after: ValueSide | undefined;
  /** Relative to the value before; undefined where that is nothing, unknown or endless. */
  readonly change: number | undefined;
  /** Towards or away from the limit; `none` where nothing judges the result, or a side is not known. */
  readonly trend: Trend;
  /** What it is judged against, where that is known. */
  readonly limit: string | undefined;
}

export type Trend = 'towards' | 'away' | 'none';

export interface ValueSide {
  /** SI; undefined where it can't be computed. */
  readonly value: number | undefined;
  readonly display: string;
  /** Its worst point. */
  readonly point: PointView;
}

export interface FactChange {
  /** `T1.impedance`. */
  readonly name: string;
  readonly case: string | undefined;
  readonly before: FactSide | undefined;
  readonly after: FactSide | undefined;
  /** `provenance`: the same value, said by somebody else. */
  readonly what: 'value' | 'provenance';
}

export interface FactSide {
  readonly display: string;
  readonly provenance: string;
}

export interface PickChange {
  readonly name: string;
  /** In the text of the language; undefined: nothing holds, or it was no pick. */
  readonly before: string | undefined;
  readonly after: string | undefined;
}

export interface StatementChange {
  readonly what: 'new' | 'gone';
  /** `connect MAIN -> T1 -> K1`, `require T1.loading <= 95 %`. */
  readonly text: string;
}

export interface FindingChanges {
  readonly new: readonly Finding[];
  readonly gone: readonly Finding[];
  /** The same finding with another severity, or agreed to, or no longer so. */
  readonly changed: readonly { readonly before: Finding; readonly after: Finding }[];
  readonly unchanged: number;
}

const weights: Readonly<Record<Severity, number>> = { hint: 0, note: 0, warning: 1, error: 2 };

/** Whether a reviewer should look twice: a result nearer to its limit, or a new or graver complaint. */
export function isWorse({ values, findings }: PlantComparison): boolean {
  return (
    values.some(({ trend }) => trend === 'towards') ||
    findings.new.some(({ severity }) => weights[severity] > 0) ||
    findings.changed.some(({ before, after }) => weights[after.severity] > weights[before.severity])
  );
}
