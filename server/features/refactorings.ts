// Refactorings as code actions: write what was picked, agree to a finding with a reason, make a part of a component.

import { type Code, textCodes } from '../../engine/checks/codes.ts';
import type { FileEdit, Finding } from '../../engine/finding.ts';
import { fromSI, readUnit } from '../../engine/units/read.ts';
import { showNumber } from '../../engine/units/show.ts';
import type { FileContext } from './context.ts';
import { extractPart } from './extract-part.ts';
import { entityByTag } from './symbols.ts';

export interface Refactoring {
  readonly title: string;
  readonly kind: 'rewrite' | 'extract' | 'quickfix';
  readonly edits: readonly FileEdit[];
  /** A text of an edit holds a placeholder such as `${1:reason}`. */
  readonly snippet: boolean;
  /** A file that has to be made first, with its text. */
  readonly create?: { readonly path: string; readonly text: string };
  /** What the author decides by taking it. */
  readonly decides: string;
  /** The finding that it answers. */
  readonly finding?: Finding;
}

export interface RefactoringOptions {
  /** `2026-11-25`; an acceptance is offered for a year. */
  readonly today: string;
  /** Other files of the folder, so that no name is taken twice. */
  readonly files: readonly string[];
}

export function refactorings(
  context: FileContext,
  start: number,
  end: number,
  options: RefactoringOptions,
): readonly Refactoring[] {
  return [
    ...writePicks(context, start, end),
    ...acceptances(context, start, end, options.today),
    ...extractPart(context, start, options.files),
  ];
}

function writePicks({ analysis, path }: FileContext, start: number, end: number): readonly Refactoring[] {
  const picks = analysis.picks.flatMap(({ place, text, subject, property }) => {
    if (place.path !== path || text === undefined) return [];
    return [{ place, text, name: `${subject}.${property}` }];
  });
  const here = picks.filter(({ place }) => touches(place, start, end));
  const base = { kind: 'rewrite', snippet: false, decides: 'what was picked stays, whatever else changes' } as const;
  const one = here.map(({ place, text, name }) => ({
    ...base,
    title: `Write the pick: ${name} = ${text}`,
    edits: [{ place, text }],
  }));
  if (here.length === 0 || picks.length === 1) return one;
  const all = picks.map(({ place, text }) => ({ place, text }));
  return [...one, { ...base, title: `Write all ${picks.length} picks of this file`, edits: all }];
}

function acceptances(context: FileContext, start: number, end: number, today: string): readonly Refactoring[] {
  const { analysis, path, tree } = context;
  return analysis.findings
    .filter(finding => finding.place.path === path && touches(finding.place, start, end))
    .filter(finding => canBeAccepted(finding, context))
    .map((finding): Refactoring => {
      const until = `${Number(today.slice(0, 4)) + 1}${today.slice(4).replace('-02-29', '-02-28')}`;
      const line = `accept ${finding.code} on ${finding.subject}${boundOf(finding)} until ${until} because "\${1:reason}"\n`;
      return {
        title: `Accept ${finding.code} on ${finding.subject} with a reason`,
        kind: 'quickfix',
        edits: [{ place: { path, start: tree.text.length, end: tree.text.length }, text: lead(context) + line }],
        snippet: true,
        decides: 'the finding becomes a note as far as its bound, until its date',
        finding,
      };
    });
}

/** What is incomplete is completed, not agreed to. */
const neverAgreed: ReadonlySet<Code> = new Set<Code>(['missing_fact', 'unconnected', 'not_checked', 'accepted']);

/** An acceptance stands in the plant's own file, on something that is declared there. */
function canBeAccepted({ severity, hazard, code, subject }: Finding, { path, tree, analysis }: FileContext): boolean {
  if (analysis.plant === undefined || hazard || (severity !== 'error' && severity !== 'warning')) return false;
  if (textCodes.has(code) || neverAgreed.has(code) || code.startsWith('acceptance_')) return false;
  return subject !== undefined && entityByTag(path, tree, subject) !== undefined;
}

/** As far as the value goes now, rounded to the far side so that it is just inside. */
function boundOf({ value, limit }: Finding): string {
  if (value === undefined || limit === undefined || value.name === undefined) return '';
  const reading = readUnit(value.display.replace(/^\S+\s*/, ''));
  if (!reading.ok || !Number.isFinite(value.number) || value.number === 0) return '';
  const number = fromSI(value.number, reading.unit);
  const up = value.number > limit.number;
  const step = 10 ** (Math.floor(Math.log10(Math.abs(number))) - 2);
  const rounded = (up ? Math.ceil(number / step) : Math.floor(number / step)) * step;
  return ` ${up ? 'up' : 'down'} to ${showNumber(rounded, 3)} ${reading.unit.text}`.trimEnd();
}

/** Acceptances stand together; anything else is set off by a blank line. */
function lead({ tree }: FileContext): string {
  const last = tree.chunks.findLast(({ chunk }) => chunk.declaration !== undefined)?.chunk.declaration;
  const ends = tree.text === '' || tree.text.endsWith('\n');
  return (ends ? '' : '\n') + (last === undefined || last.type === 'accept' ? '' : '\n');
}

function touches(place: { readonly start: number; readonly end: number }, start: number, end: number): boolean {
  return place.start <= end && start <= place.end;
}
