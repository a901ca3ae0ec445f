// What the language knows about a kind of component: a plain table that completion, hover, validation, the reference
// pages and the lowering of a plant all read.
import type { DimensionName } from '../units/dimension.ts';

export type KindName =
  | 'plant'
  | 'grid'
  | 'bus'
  | 'cable'
  | 'transformer'
  | 'filter'
  | 'converter'
  | 'chopper'
  | 'battery'
  | 'fuse'
  | 'duty'
  | 'practice';

export interface Kind {
  readonly name: KindName;
  /** One plain sentence for hover and the reference. */
  readonly meaning: string;
  /** What it is in the one-line: decides where it may stand in `connect`. */
  readonly role: 'source' | 'store' | 'ac' | 'dc' | 'either' | 'converter' | 'node' | 'none';
  readonly properties: readonly Property[];
  /** Of each of these groups at least one property must be stated. */
  readonly oneOf?: readonly (readonly string[])[];
  /** A whole component that completion offers, with `${1:…}` placeholders, ready to hold without errors. */
  readonly snippet: string;
  /** Syntax is read, but nothing is computed from it yet. */
  readonly notEvaluated?: true;
}

export interface Property {
  readonly name: string;
  /** One plain sentence: what it is, on which basis (line to line rms, per phase, one string …). */
  readonly meaning: string;
  readonly type: PropertyType;
  /** required: the core can't do without it and no sensible default exists. */
  readonly need: 'required' | 'expected' | 'optional';
  /** What is taken where nothing is stated, in the text of the language, and why. */
  readonly fallback?: { readonly text: string; readonly reason: string };
  /** What is taken as the tolerance of a nominal that is stated without one: each way, as a share of the nominal. */
  readonly toleranceFallback?: ToleranceFallback;
  /** Its fallback is worth telling only where another choice of the component says this word. */
  readonly matters?: { readonly property: string; readonly word: string };
  /** Where one of these is stated, nothing looks at the fallback, and it isn't told. */
  readonly replacedBy?: readonly string[];
  /** One sentence: what holds where nothing is stated and no value of the language can say it, such as another fact. */
  readonly otherwise?: string;
  /** A value as an author would write it, unit included. */
  readonly example: string;
  /** Read and checked for its dimension, but no result uses it yet. */
  readonly notEvaluated?: true;
  /** Shown beside the component; nothing is ever computed from it, and nobody expects that. */
  readonly descriptive?: true;
}

export interface ToleranceFallback {
  readonly text: string;
  readonly reason: string;
  /** What holds instead from a nominal up, in SI. */
  readonly from?: { readonly nominal: number; readonly text: string; readonly reason: string };
}

export type PropertyType = QuantityType | ChoiceType | TextType | ReferenceType;

export interface QuantityType {
  readonly is: 'quantity';
  readonly dimension: DimensionName;
  /** Other dimensions that it may be stated in: losses in per cent of the rating, a state of charge as voltage. */
  readonly or?: readonly DimensionName[];
  /** Forms of value beyond a plain number. `tolerance` is v ± x, `range` is a .. b. */
  readonly forms: readonly ('number' | 'range' | 'tolerance' | 'curve' | 'pick')[];
  /** What a curve may run over, and in which dimension. */
  readonly axes?: readonly CurveAxis[];
  /** May be given per cell or per string. */
  readonly per?: true;
  /** Clauses that may follow the value, with the dimension that each wants (undefined: a bare word). */
  readonly clauses?: Readonly<Record<string, DimensionName | undefined>>;
  /** Those of the clauses without which the value says nothing. */
  readonly clausesNeeded?: readonly string[];
  /** A curve that never falls along its first axis; one that does is `impossible_value`. */
  readonly neverFalls?: true;
  /** A count: whole numbers only. */
  readonly whole?: true;
  /**
   * Bounds in SI, of `dimension` alone and not of `or`, that no real thing leaves (where they are no shares or signs, of
   * our own choice, no source); outside is `impossible_value`.
   */
  readonly least?: { readonly value: number; readonly exclusive: boolean };
  readonly greatest?: { readonly value: number; readonly exclusive: boolean };
}

export interface CurveAxis {
  readonly name: string;
  readonly dimension: DimensionName;
  /** Ends in SI beyond which there is no such place; a point there is `impossible_value`. */
  readonly least?: number;
  readonly greatest?: number;
}

/** A fixed set of words; never looks names up. */
export interface ChoiceType {
  readonly is: 'choice';
  readonly choices: readonly string[];
  /** Choices that are read, but that no result looks at yet. */
  readonly notEvaluated?: readonly string[];
}

export interface TextType {
  readonly is: 'text';
}

/** Always looks a name up: a component of one of these kinds, or a practice. */
export interface ReferenceType {
  readonly is: 'reference';
  readonly kinds: readonly KindName[];
}
