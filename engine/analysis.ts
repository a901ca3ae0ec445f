// The result of one analysis and the snapshot that it is made from: the engine's public face.
import type { SourceTree } from '../grammar/ast.ts';
import type { Code } from './checks/codes.ts';
import type { Finding, Place, PointView } from './finding.ts';
import type { KindName } from './kinds/kind.ts';
import type { CapabilityLimit } from './results/capability.ts';
import type { Limit } from './results/definition.ts';

/** A workspace-relative path with forward slashes, no leading slash, no `.` or `..` segments. */
export type WorkspacePath = string;

/** What the world outside knows of a file when the analysis starts. */
export type FileState =
  | { readonly state: 'text'; readonly tree: SourceTree }
  | { readonly state: 'missing' }
  /** Leads out of the workspace, also through a link. */
  | { readonly state: 'outside' }
  | { readonly state: 'unreadable'; readonly reason: string };

/** All files that the analysed one may need: itself and the closure of its `use` declarations. */
export interface Snapshot {
  readonly files: ReadonlyMap<WorkspacePath, FileState>;
}

export interface AnalysisSettings {
  /** `2026-11-25`, from the edge: the engine has no clock. Undefined: acceptances don't expire. */
  readonly today: string | undefined;
  /** In characters, with all used files: of a longer text only the syntax is looked at, and a note says so. */
  readonly longest?: number;
}

/** Frozen; everything that editor, terminal and reports show comes from here. */
export interface Analysis {
  readonly path: WorkspacePath;
  /** Name of the plant that the file holds; undefined for a parts file. */
  readonly plant: string | undefined;
  /** All files that were read, this one first. */
  readonly files: readonly WorkspacePath[];
  /** Sorted by path, place, code. Findings of used files carry that file's path. */
  readonly findings: readonly Finding[];
  /** In words: what this analysis does not look at, as it follows from the plant's facts. */
  readonly notChecked: readonly string[];
  readonly values: ValueTable;
  /** `T1.loading` and its like: the results that a check or a requirement judges. */
  readonly judged: ReadonlySet<string>;
  readonly picks: readonly PickedValue[];
  /** What the author demands of the results, in the order of the text. */
  readonly requirements: readonly RequirementView[];
  /** What was agreed to, in the order of the text. */
  readonly acceptances: readonly AcceptanceView[];
  /** Every fact of the plant, or of one of its properties, in every case that states it, put together when asked for. */
  readonly facts: (only?: FactName) => readonly FactRow[];
  readonly outline: readonly OutlineEntry[];
}

/** What stands for a `pick`: shown beside it, written by a fix. */
export interface PickedValue {
  readonly subject: string;
  readonly property: string;
  /** Of the word `pick`. */
  readonly place: Place;
  /** In the text of the language; undefined where no candidate holds. */
  readonly text: string | undefined;
}

/** A `require` of the plant. */
export interface RequirementView {
  readonly name: string | undefined;
  /** The condition as written. */
  readonly written: string;
  /** The duty. */
  readonly during: string | undefined;
  readonly because: string | undefined;
  readonly place: Place;
  /** The results that it speaks of. */
  readonly judges: readonly string[];
}

/** An `accept` of the plant and what has become of it. */
export interface AcceptanceView {
  readonly code: Code;
  readonly subject: string;
  /** `down to 5 %`. */
  readonly bound: string | undefined;
  /** `2027-06-30`. */
  readonly until: string | undefined;
  readonly because: string | undefined;
  readonly place: Place;
  /** `exceeded`: the finding lies beyond the bound, or a worse one stands in its place; `unused`: there is none of both. */
  readonly state: 'in force' | 'expired' | 'exceeded' | 'unused';
}

export interface FactName {
  readonly subject: string;
  readonly property: string;
}

/** A fact as the engine reads it, for comparing two texts. */
export interface FactRow {
  /** `T1`. */
  readonly subject: string;
  readonly kind: KindName;
  readonly property: string;
  /** Undefined: the base case. */
  readonly case: string | undefined;
  /** Equal texts mean equal values. */
  readonly identity: string;
  /** `500 kVA`, `360 V .. 440 V`, or the text as written where it is short. */
  readonly display: string;
  /** `stated: type test, table 7`. */
  readonly provenance: string;
  /** Assumed by the tool: nobody wrote it. */
  readonly implied: boolean;
  readonly place: Place | undefined;
}

export interface OutlineEntry {
  readonly name: string;
  readonly kind: KindName | 'let' | 'part' | 'catalogue' | 'case' | 'require' | 'accept' | 'use' | 'connect';
  readonly detail: string;
  readonly place: Place;
  readonly nameplace: Place;
}

/** Every derived value of the plant, computed when asked for and then kept. */
export interface ValueTable {
  /** `K1.current` and its like, in the order of the text, then of the definitions. */
  readonly names: readonly string[];
  /** Of these the names of one component's values; none for an unknown tag. */
  namesOf(tag: string): readonly string[];
  /** The value at its worst point; undefined for an unknown name. */
  worst(name: string): ValueRow | undefined;
  /** One row for each operating point on which the value depends. */
  all(name: string): readonly ValueRow[];
  /** What a converter can do in a case (the base case's name is empty); undefined where that is not known. */
  capability(converter: string, caseName?: string): Capability | undefined;
  /** How the number came about, one level; each input can be asked for in turn by its key. */
  explain(key: ValueKey): Derivation | undefined;
}

/** Active and reactive power that a converter's limits leave, at the lowest, nominal and highest network voltage. */
export interface Capability {
  readonly converter: string;
  readonly case: string | undefined;
  readonly outlines: readonly CapabilityAtVoltage[];
}

export interface CapabilityAtVoltage {
  readonly voltage: 'low' | 'nominal' | 'high';
  /** At the connection point, V line to line. */
  readonly networkVoltage: number;
  /** Counterclockwise from the largest delivered active power; empty where nothing is left, with the limit that leaves least. */
  readonly points: readonly CapabilityPoint[];
  readonly empty: CapabilityLimit | undefined;
}

export interface CapabilityPoint {
  /** W and var at the connection point, delivered to the network. */
  readonly active: number;
  readonly reactive: number;
  /** Binds from here to the next point. */
  readonly limit: CapabilityLimit;
}

/** A value at a point: the name and the coordinates that pick one of its rows. */
export interface ValueKey {
  readonly name: string;
  readonly point: PointView | undefined;
}

export interface ValueRow {
  readonly name: string;
  readonly meaning: string;
  /** SI; undefined where a fact is missing or the computation has no solution. */
  readonly value: number | undefined;
  /** SI unit of `value`, such as `V`; empty for ratios. */
  readonly unit: string;
  /** With a unit that suits its size. */
  readonly display: string;
  readonly point: PointView;
  /** Which end is the worst. */
  readonly worst: 'highest' | 'lowest';
  /** In the notation of the trade. */
  readonly formula: string;
  readonly source: string;
  readonly inputs: readonly DerivationInput[];
  /** What binds it at this point; undefined where nothing does, or nobody says. */
  readonly limit: LimitView | undefined;
  /** The value over the state of charge, stretch by stretch, each with its limit; empty for values without a course. */
  readonly stretches: readonly StretchView[];
}

/** A limit as a word for programs and as words for people. */
export interface LimitView {
  readonly name: Limit;
  readonly text: string;
}

export interface StretchView {
  /** Ratios. */
  readonly from: number;
  readonly to: number;
  readonly limit: LimitView;
  /** In the unit of the value, for plots; both ends included. */
  readonly points: readonly { readonly soc: number; readonly value: number }[];
  /** `10 % .. 42 %: 512 kW to 561 kW, bound by the least voltage of the battery`. */
  readonly display: string;
}

export interface DerivationInput {
  readonly name: string;
  readonly value: number | undefined;
  readonly unit: string;
  readonly display: string;
  /** fact: stated or assumed in the text or by the tool; value: derived in turn; constant: from a table. */
  readonly kind: 'fact' | 'value' | 'constant';
  /** For facts: `stated`, `stated, connection agreement 4.2`, `assumed by the tool: common practice` … */
  readonly provenance: string | undefined;
  /** For facts: where it is written. */
  readonly place: Place | undefined;
  readonly key: ValueKey | undefined;
}

export interface Derivation extends ValueRow {
  /** The tag that it belongs to. */
  readonly subject: string;
  /** Which tolerances it takes: `nominal parts` or `all tolerances at their worst`. */
  readonly corners: string;
}
