// What an analysis says about a place in the text, in a form that editor, terminal and pull request all render.
import type { Code } from './checks/codes.ts';

export type Severity = 'error' | 'warning' | 'note' | 'hint';

/** A stretch of one file: UTF-16 offsets from the file's start, end exclusive. */
export interface Place {
  readonly path: string;
  readonly start: number;
  readonly end: number;
}

export interface Finding {
  readonly code: Code;
  readonly severity: Severity;
  /** Someone could be hurt or something burn: can't be accepted away. */
  readonly hazard: boolean;
  /** One plain sentence with the numbers and the corner. */
  readonly message: string;
  /** The tag of the component that it is about. */
  readonly subject: string | undefined;
  readonly place: Place;
  readonly related: readonly RelatedPlace[];
  /** The derived value that is judged, for "how did this number come about". */
  readonly value: JudgedNumber | undefined;
  readonly limit: JudgedNumber | undefined;
  readonly point: PointView | undefined;
  /** Where the limit comes from. */
  readonly source: string | undefined;
  readonly fixes: readonly Fix[];
  /** What was agreed to, where the code is `accepted`. */
  readonly accepted?: AcceptedFinding;
}

/** The finding as it would be without the acceptance, and the terms of the acceptance. */
export interface AcceptedFinding {
  readonly code: Code;
  readonly severity: Severity;
  readonly message: string;
  /** `2027-06-30`. */
  readonly until: string | undefined;
  readonly because: string | undefined;
  readonly place: Place;
}

export interface RelatedPlace {
  readonly place: Place;
  readonly message: string;
}

export interface JudgedNumber {
  /** `K1.diode_margin`; undefined for a limit that is no derived value. */
  readonly name: string | undefined;
  /** SI; ratios as plain numbers. */
  readonly number: number;
  readonly display: string;
}

/** An operating point as people read it; a coordinate on which the value does not depend is undefined. */
export interface PointView {
  readonly case: string | undefined;
  readonly duty: string | undefined;
  readonly voltage: 'low' | 'nominal' | 'high' | undefined;
  /** As a ratio, 0 to 1. */
  readonly soc: number | undefined;
  readonly direction: 'delivering' | 'absorbing' | undefined;
}

export interface Fix {
  readonly title: string;
  /** Safe ones may be applied in bulk; whatever changes the design is a choice. */
  readonly safe: boolean;
  /** Writes a fact with an example value that the author replaces: what is judged by it may be found wrong then. */
  readonly fills?: true;
  readonly edits: readonly FileEdit[];
}

export interface FileEdit {
  readonly place: Place;
  readonly text: string;
}
