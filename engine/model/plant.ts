// A plant as the engine computes with it: components, their facts by case, and how they are connected.
import type { Code } from '../checks/codes.ts';
import type { Place } from '../finding.ts';
import type { Kind, Property } from '../kinds/kind.ts';
import type { LineCurve, Surface } from '../units/curve.ts';
import type { Dimension } from '../units/dimension.ts';
import type { Unit } from '../units/read.ts';
import type { EvaluatedNumber } from './evaluated.ts';
import type { Topology } from './topology.ts';

export interface Plant {
  readonly name: string;
  readonly place: Place;
  /** Every component, the plant itself and its practice included, in the order of the text. */
  readonly components: readonly Component[];
  readonly byTag: ReadonlyMap<string, Component>;
  /** Pseudo-components: always there, whether the author wrote them or not. */
  readonly site: Component;
  readonly practice: Component;
  readonly duties: readonly Component[];
  /** The base case first; its name is the empty string. */
  readonly cases: readonly Case[];
  readonly topology: Topology;
  readonly requirements: readonly Requirement[];
  readonly acceptances: readonly Acceptance[];
}

export interface Component {
  readonly tag: string;
  readonly kind: Kind;
  /** The tag where it is declared. */
  readonly place: Place;
  /** From kind to the end of the block. */
  readonly whole: Place;
  /** Where a property that is missing may be written; undefined where there is no block. */
  readonly insertAt: Place | undefined;
  /** The `is …` of the declaration. */
  readonly basePlace: Place | undefined;
  /** Facts of the base case: stated, inherited, or assumed by the tool. A fact that failed is absent from `facts`. */
  readonly facts: ReadonlyMap<string, Fact>;
  /** Properties that the author wrote, but that could not be understood: silent wherever they matter. */
  readonly failed: ReadonlySet<string>;
  /** Not written by the author, made up by the tool. */
  readonly implied: boolean;
}

export const tagOf = ({ tag }: Component): string => tag;

export type ProvenanceClass = 'stated' | 'sourced' | 'assumed' | 'tool' | 'picked' | 'computed';

export interface Fact {
  readonly property: Property;
  readonly value: FactValue;
  readonly provenance: { readonly class: ProvenanceClass; readonly text: string | undefined };
  /** The value as written; undefined where the tool assumed it. */
  readonly place: Place | undefined;
  /** The whole property, from its name to the end of its clauses. */
  readonly whole: Place | undefined;
  /** Came through `is`: findings sit on the user's `is`, the part is related. */
  readonly inherited: boolean;
  /** Without its provenance, as the author wrote it, or the fallback's text. */
  readonly written: string;
}

export type FactValue = NumberFact | CurveFact | SurfaceFact | WordFact | TextFact;

export interface NumberFact {
  readonly type: 'number';
  readonly dimension: Dimension;
  /** SI. For a range the nominal is its middle. */
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
  readonly form: 'exact' | 'range' | 'tolerance' | 'assumed_tolerance';
  readonly unit: Unit | undefined;
  readonly per: 'cell' | 'string' | undefined;
  /** `for`, `every` … by word: SI numbers; a bare word is 1. */
  readonly clauses: Readonly<Record<string, number>>;
}

export interface CurveFact {
  readonly type: 'curve';
  readonly axes: readonly string[];
  readonly curve: LineCurve;
  readonly dimension: Dimension;
  readonly per: 'cell' | 'string' | undefined;
  readonly clauses: Readonly<Record<string, number>>;
}

/** A curve over two axes: rows along the first, columns along the second. */
export interface SurfaceFact {
  readonly type: 'surface';
  readonly axes: readonly [string, string];
  readonly surface: Surface;
  readonly dimension: Dimension;
  readonly per: 'cell' | 'string' | undefined;
  readonly clauses: Readonly<Record<string, number>>;
}

export interface WordFact {
  readonly type: 'word';
  /** A choice, or the tag that a reference names. */
  readonly word: string;
}

export interface TextFact {
  readonly type: 'text';
  readonly text: string;
}

export interface Case {
  readonly name: string;
  readonly place: Place | undefined;
  /** Restated facts by tag, then by property. */
  readonly facts: ReadonlyMap<string, ReadonlyMap<string, Fact>>;
  /** By tag, what it restates in words that could not be understood: unknown in this case. */
  readonly failed: ReadonlyMap<string, ReadonlySet<string>>;
}

export interface Requirement {
  readonly name: string | undefined;
  readonly left: EvaluatedNumber;
  readonly right: EvaluatedNumber;
  readonly operator: '<=' | '<' | '>=' | '>' | '==' | '!=';
  readonly during: string | undefined;
  readonly because: string | undefined;
  readonly place: Place;
  /** The condition as written. */
  readonly written: string;
}

export interface Acceptance {
  readonly code: Code;
  readonly tag: string;
  readonly bound:
    | {
        readonly direction: 'up' | 'down';
        readonly value: number;
        readonly dimension: Dimension;
        readonly place: Place;
      }
    | undefined;
  /** `2027-06-30`. */
  readonly until: string | undefined;
  readonly because: string | undefined;
  readonly place: Place;
  /** A mistake in its text is shown already: it is not called unused as well. */
  readonly doubtful: boolean;
}

/** The fact of a component in a case. */
export function factIn(plantCase: Case, component: Component, property: string): Fact | undefined {
  const restated = plantCase.facts.get(component.tag)?.get(property);
  if (restated !== undefined) return restated;
  // Of most cases all is understood.
  if (plantCase.failed.size > 0 && plantCase.failed.get(component.tag)?.has(property)) return undefined;
  return component.facts.get(property);
}

/** Whether a case says something of a fact that could not be understood. */
export function failedIn(plantCase: Case, component: Component, property: string): boolean {
  if (plantCase.facts.get(component.tag)?.has(property)) return false;
  return plantCase.failed.get(component.tag)?.has(property) === true || component.failed.has(property);
}

/** Whether two facts say the same, wherever they stand and whoever says it. */
export function sameValue(a: FactValue, b: FactValue): boolean {
  if (a === b) return true;
  if (a.type === 'number' && b.type === 'number') {
    return (
      a.low === b.low &&
      a.nominal === b.nominal &&
      a.high === b.high &&
      a.form === b.form &&
      a.per === b.per &&
      a.dimension === b.dimension &&
      sameClauses(a.clauses, b.clauses)
    );
  }
  if (a.type === 'curve' && b.type === 'curve') {
    return (
      a.per === b.per &&
      a.dimension === b.dimension &&
      a.axes.join() === b.axes.join() &&
      sameCurve(a.curve, b.curve) &&
      sameClauses(a.clauses, b.clauses)
    );
  }
  if (a.type === 'surface' && b.type === 'surface') return JSON.stringify(a) === JSON.stringify(b);
  if (a.type === 'word' && b.type === 'word') return a.word === b.word;
  return a.type === 'text' && b.type === 'text' && a.text === b.text;
}

function sameClauses(a: Readonly<Record<string, number>>, b: Readonly<Record<string, number>>): boolean {
  const words = Object.keys(a);
  return words.length === Object.keys(b).length && words.every(word => a[word] === b[word]);
}

function sameCurve(a: LineCurve, b: LineCurve): boolean {
  return a === b || (a.shape === b.shape && sameNumbers(a.x, b.x) && sameNumbers(a.y, b.y));
}

function sameNumbers(a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && a.every((number, index) => number === b[index]);
}
