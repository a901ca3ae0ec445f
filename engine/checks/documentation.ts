// What is documented of every code: cause and risk, remedy, source, and two texts, one with the mistake and one mended.
import type { Code } from './codes.ts';
import { soundExample } from './example.ts';
import { checks } from './index.ts';
import { toldWithoutCheck } from './without-check.ts';

/** Replacements in the sound example plant, each of a text that stands there. */
export type Edits = readonly (readonly [from: string, to: string])[];

export interface Documentation {
  readonly code: Code;
  /** A few words, no full stop. */
  readonly title: string;
  /** Cause and risk, in plain sentences. */
  readonly why: string;
  readonly remedy: string;
  /** Where the limit comes from, or what the rule rests on. */
  readonly source: string;
  readonly hazard?: true;
  /** Makes the sound example show this code, and no other as error or warning. */
  readonly bad: Edits;
  /** Makes it sound again in the way that the remedy means; without it the sound example itself is the mended text. */
  readonly mended?: Edits;
}

/** What the tool knows to say about a code itself, whoever raises it. */
export function documentationOf(code: Code): Documentation {
  const found = checks.find(check => check.code === code) ?? toldWithoutCheck.find(told => told.code === code);
  if (found === undefined) throw new Error(`no documentation of \`${code}\``);
  return found;
}

export interface Example {
  readonly bad: string;
  readonly mended: string;
}

/** Both texts of a code in full: each is a plant that can be analysed. */
export function exampleOf({ bad, mended = [] }: Documentation): Example {
  return { bad: edited(bad), mended: edited(mended) };
}

/** The paragraphs in which two texts differ, as they stand in the first. */
export function differing(text: string, other: string): string {
  const known = new Set(paragraphs(other));
  return paragraphs(text)
    .filter(paragraph => !known.has(paragraph))
    .join('\n\n');
}

function paragraphs(text: string): readonly string[] {
  return text.trim().split(/\n{2,}/);
}

function edited(edits: Edits): string {
  return edits.reduce((text, [from, to]) => text.replace(from, () => to), soundExample);
}
