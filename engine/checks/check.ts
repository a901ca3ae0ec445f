// How a check is declared: what it looks at, what it says, why it matters and what to do about it.
import type { KindName } from '../kinds/kind.ts';
import type { Component } from '../model/plant.ts';
import type { Code } from './codes.ts';
import type { CheckContext } from './context.ts';
import type { Edits } from './documentation.ts';
import type { Unchecked } from './not-checked.ts';

export interface Check {
  readonly code: Code;
  readonly group: 'voltage' | 'current' | 'energy' | 'filter' | 'surroundings' | 'facts';
  /** Could hurt someone or burn something. */
  readonly hazard?: true;
  /** A few words, no full stop. */
  readonly title: string;
  /** Cause and risk, in plain sentences. */
  readonly why: string;
  readonly remedy: string;
  /** Where its limit comes from. */
  readonly source: string;
  /** Run once for every component of this kind. */
  readonly on: KindName;
  /** Edits of the sound example plant that make this check speak, and no other say error or warning. */
  readonly bad: Edits;
  /** The sound example mended as the remedy says, where it is not the sound example itself. */
  readonly mended?: Edits;
  /** Where facts are missing, or a part of its subject is left out: what it does not look at in this plant. */
  readonly notChecked?: Unchecked;
  /** It looks at more than facts, values and the order of the plant, or judges many things apart: asked of every text. */
  readonly looksEverywhere?: true;
  /** Where one of these speaks of the same component, or of the converter before it, this check is silent, broken limit or not. */
  readonly givesWayTo?: readonly Code[];
  readonly run: (context: CheckContext, component: Component) => void;
}

export function defineCheck(check: Check): Check {
  return check;
}
