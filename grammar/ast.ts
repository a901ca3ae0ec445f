// The shape of a parsed plant file: what the grammar hands to everybody else.
//
// A file is a list of chunks, one per declaration. Offsets inside a chunk count from the start of that chunk, and a
// chunk's node is one and the same object for as long as its text stays the same: whoever derives something from a
// chunk may cache it by identity. Any part that the author has not written yet is undefined.

/** Offsets in UTF-16 code units, end exclusive, counted from the start of the chunk. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** A whole parsed file. Never partial: text that is no declaration lives in chunks whose declaration is undefined. */
export interface SourceTree {
  readonly text: string;
  readonly chunks: readonly PlacedChunk[];
}

/** Where a chunk stands in its file. Chunks tile the file: each begins where the one before ended. */
export interface PlacedChunk {
  readonly start: number;
  readonly chunk: Chunk;
}

export interface Chunk {
  readonly text: string;
  readonly declaration: Declaration | undefined;
  readonly problems: readonly SyntaxProblem[];
}

export interface SyntaxProblem {
  readonly code: 'syntax' | 'decimal_comma';
  readonly message: string;
  readonly span: Span;
  /** Edits that mend it, where that is certain. */
  readonly fix?: { readonly title: string; readonly edits: readonly TextEdit[] };
}

export interface TextEdit {
  readonly span: Span;
  readonly text: string;
}

export type Declaration =
  | EntityDeclaration
  | UseDeclaration
  | LetDeclaration
  | CatalogueDeclaration
  | ConnectDeclaration
  | CaseDeclaration
  | RequireDeclaration
  | AcceptDeclaration;

interface DeclarationBase extends Span {
  /** Text of the `##` lines directly above, without the marks. */
  readonly doc: string | undefined;
}

export interface Name extends Span {
  /** In Unicode normal form C. */
  readonly text: string;
}

/**
 * `grid MAIN { … }`, `battery B1 is LfpString { … }`, `part battery LfpString { … }`, `plant P { … }`,
 * `duty start_peak { … }`, `practice HouseRules { … }`: everything that is a kind, a name and a block of properties.
 */
export interface EntityDeclaration extends DeclarationBase {
  readonly type: 'entity';
  /** Declared with `part` in front: a template, not a component of the plant. */
  readonly part: boolean;
  readonly kind: Name;
  readonly name: Name | undefined;
  /** What follows `is`: a part by its path, or `pick` and the catalogue's path. */
  readonly base: BaseReference | undefined;
  /** Span of the block with its braces, when there is one. */
  readonly block: Span | undefined;
  readonly properties: readonly Property[];
}

export interface BaseReference extends Span {
  readonly pick: boolean;
  readonly path: readonly Name[];
}

/** `name = value …`; in a case the target is a path (`B1.temperature = …`). */
export interface Property extends Span {
  readonly target: readonly Name[];
  readonly value: Expression | undefined;
  /** `per cell` or `per string` behind the value. */
  readonly per: Name | undefined;
  /** `for 45 min`, `every 15 min`, `delivering`, `absorbing`, in the order written. */
  readonly clauses: readonly Clause[];
  readonly provenance: Provenance | undefined;
  readonly doc: string | undefined;
}

export interface Clause extends Span {
  readonly word: string;
  readonly value: Expression | undefined;
}

/** `from "letter, 4.2"` or `assumed "reason"`. */
export interface Provenance extends Span {
  readonly word: 'from' | 'assumed';
  readonly text: string | undefined;
}

export interface UseDeclaration extends DeclarationBase {
  readonly type: 'use';
  readonly path: StringLiteral | undefined;
  readonly alias: Name | undefined;
}

export interface LetDeclaration extends DeclarationBase {
  readonly type: 'let';
  readonly name: Name | undefined;
  readonly value: Expression | undefined;
  readonly provenance: Provenance | undefined;
}

/** `catalogue converter AirCooled { row { … } … }` or `catalogue converter LiquidCooled from "file.csv"`. */
export interface CatalogueDeclaration extends DeclarationBase {
  readonly type: 'catalogue';
  readonly kind: Name | undefined;
  readonly name: Name | undefined;
  readonly from: StringLiteral | undefined;
  readonly block: Span | undefined;
  readonly rows: readonly CatalogueRow[];
}

export interface CatalogueRow extends Span {
  readonly name: Name;
  readonly block: Span | undefined;
  readonly properties: readonly Property[];
  readonly doc: string | undefined;
}

/** `connect MAIN -> W1 -> T1`. */
export interface ConnectDeclaration extends DeclarationBase {
  readonly type: 'connect';
  readonly chain: readonly Name[];
}

/** `case worn_winter is winter, worn { … }`. */
export interface CaseDeclaration extends DeclarationBase {
  readonly type: 'case';
  readonly name: Name | undefined;
  readonly bases: readonly Name[];
  readonly block: Span | undefined;
  readonly properties: readonly Property[];
}

/** `require [name:] T1.loading <= 95 % [during duty] [because "…"]`. */
export interface RequireDeclaration extends DeclarationBase {
  readonly type: 'require';
  readonly name: Name | undefined;
  /** A comparison, when the author has written a sound one. */
  readonly condition: Expression | undefined;
  readonly during: Name | undefined;
  readonly because: StringLiteral | undefined;
}

/** `accept code on TAG [up to | down to bound] until date because "…"`. */
export interface AcceptDeclaration extends DeclarationBase {
  readonly type: 'accept';
  readonly code: Name | undefined;
  readonly tag: Name | undefined;
  readonly direction: 'up' | 'down' | undefined;
  readonly bound: Expression | undefined;
  readonly until: DateLiteral | undefined;
  readonly because: StringLiteral | undefined;
}

export type Expression =
  | NumberLiteral
  | RangeExpression
  | ToleranceExpression
  | StringLiteral
  | ReferenceExpression
  | CallExpression
  | BinaryExpression
  | NegateExpression
  | GroupExpression
  | CompareExpression
  | CurveExpression
  | PickExpression;

/** A literal with its sign and, glued or behind a blank on the same line, its unit: `400 V`, `-20 °C`, `0.95`. */
export interface NumberLiteral extends Span {
  readonly type: 'number';
  /** Finite; in the unit as written, not SI. */
  readonly value: number;
  readonly unit: UnitText | undefined;
}

/** The unit exactly as written, before anybody has looked it up. */
export interface UnitText extends Span {
  readonly text: string;
}

/** `9 MVA .. 14 MVA`: both ends occur. */
export interface RangeExpression extends Span {
  readonly type: 'range';
  readonly low: Expression;
  readonly high: Expression;
}

/** `400 V ± 10 %`, `400 V ± 20 V`, `400 V +10 % -15 %`: the deviations are positive numbers here. */
export interface ToleranceExpression extends Span {
  readonly type: 'tolerance';
  readonly nominal: Expression;
  readonly plus: NumberLiteral;
  readonly minus: NumberLiteral;
}

export interface StringLiteral extends Span {
  readonly type: 'string';
  readonly value: string;
}

/** `peak`, `T1.loading`, `range.AirCooled.kva350`; also choices such as `copper`, which only the property can tell. */
export interface ReferenceExpression extends Span {
  readonly type: 'reference';
  readonly path: readonly Name[];
}

export interface CallExpression extends Span {
  readonly type: 'call';
  readonly name: Name;
  readonly arguments: readonly Expression[];
}

export interface BinaryExpression extends Span {
  readonly type: 'binary';
  readonly operator: '+' | '-' | '*' | '/' | '^';
  readonly left: Expression;
  readonly right: Expression;
}

export interface NegateExpression extends Span {
  readonly type: 'negate';
  readonly operand: Expression;
}

export interface GroupExpression extends Span {
  readonly type: 'group';
  readonly inner: Expression;
}

export interface CompareExpression extends Span {
  readonly type: 'compare';
  readonly operator: '<=' | '<' | '>=' | '>' | '==' | '!=';
  readonly operatorSpan: Span;
  readonly left: Expression;
  readonly right: Expression;
}

/** `curve soc per cell smooth { 0 % 2.6 V … }`; with two axes the first row is `columns` and each row has as many y. */
export interface CurveExpression extends Span {
  readonly type: 'curve';
  readonly axes: readonly Name[];
  readonly per: Name | undefined;
  readonly shape: 'linear' | 'smooth' | 'log';
  readonly columns: readonly NumberLiteral[] | undefined;
  readonly rows: readonly CurveRow[];
}

export interface CurveRow extends Span {
  readonly x: NumberLiteral;
  readonly y: readonly NumberLiteral[];
}

/** `pick`, or `pick from (340 V, 360 V)`. */
export interface PickExpression extends Span {
  readonly type: 'pick';
  readonly from: readonly Expression[] | undefined;
}

export interface DateLiteral extends Span {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}
