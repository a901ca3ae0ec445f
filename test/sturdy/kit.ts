// The sample files of the sturdy tests, and what holds of an analysis of any text whatever.
import { readdirSync, readFileSync } from 'node:fs';
import type { Analysis, FileState } from '../../engine/analysis.ts';
import { analyze } from '../../engine/analyze.ts';
import { textCodes } from '../../engine/checks/codes.ts';
import type { Finding, Place } from '../../engine/finding.ts';
import { parse } from '../../grammar/parse.ts';

const folder = new URL('../../client/starter/', import.meta.url);

/** The starter workspace: plants, parts and house rules, by path. */
export const starter: ReadonlyMap<string, string> = new Map(
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map(path => path.replaceAll('\\', '/'))
    .filter(path => path.endsWith('.plant'))
    .sort()
    .map(path => [path, readFileSync(new URL(path, folder), 'utf8')]),
);

/** A plant that uses the file, or the file itself. */
export const rootOf = (path: string): string => (path === 'first-draft.plant' ? path : 'valley-station.plant');

/** Analyses the starter workspace with other texts in place of some, each time with the analysis before. */
export class Workspace {
  private readonly files = new Map<string, FileState>();
  private readonly root: string;
  private previous: Analysis | undefined;

  constructor(root: string) {
    this.root = root;
    for (const [path, text] of starter) this.files.set(path, { state: 'text', tree: parse(text) });
  }

  with(path: string, text: string): Analysis {
    const files = new Map(this.files).set(path, { state: 'text', tree: parse(text) });
    this.previous = analyze(this.root, { files }, { today: '2026-11-25' }, this.previous);
    return this.previous;
  }
}

export function analyseText(text: string): Analysis {
  const files = new Map<string, FileState>([['plant.plant', { state: 'text', tree: parse(text) }]]);
  return analyze('plant.plant', { files }, { today: '2026-11-25' });
}

export const isTextMistake = ({ code, severity }: Finding): boolean =>
  textCodes.has(code) && (severity === 'error' || severity === 'warning');

const unreadable = /\bNaN\b|undefined|Infinity|\[object/;

/** What is wrong with an analysis itself, whatever its text: places beyond the file, and numbers that are none. */
export function flawsOf(analysis: Analysis, lengthOf: (path: string) => number | undefined): readonly string[] {
  const flaws: string[] = [];
  const look = (place: Place, what: string): void => {
    const length = lengthOf(place.path);
    const inside = length !== undefined && place.start >= 0 && place.start <= place.end && place.end <= length;
    if (!inside) flaws.push(`${what} stands at ${place.path} [${place.start}, ${place.end}) of ${length}`);
  };
  const read = (text: string, what: string): void => {
    if (unreadable.test(text)) flaws.push(`${what} reads: ${text}`);
  };
  for (const finding of analysis.findings) {
    look(finding.place, finding.code);
    read(finding.message, finding.code);
    for (const number of [finding.value, finding.limit]) if (number !== undefined) read(number.display, finding.code);
    for (const related of finding.related) {
      look(related.place, `a place related to ${finding.code}`);
      read(related.message, finding.code);
    }
    for (const fix of finding.fixes) {
      read(fix.title, `a fix of ${finding.code}`);
      for (const { place, text } of fix.edits) {
        look(place, `a fix of ${finding.code}`);
        read(text, `a fix of ${finding.code}`);
      }
    }
  }
  for (const entry of analysis.outline) look(entry.place, `the outline of ${entry.name}`);
  for (const pick of analysis.picks) look(pick.place, `the pick of ${pick.subject}`);
  return flaws;
}

/** What is wrong with the values as they are shown. */
export function flawsOfValues({ values }: Analysis): readonly string[] {
  return values.names.flatMap(name =>
    values.all(name).flatMap(row => (unreadable.test(row.display) ? [`${name} reads: ${row.display}`] : [])),
  );
}

/** Lengths of the starter's files, one of them with another text. */
export const lengths =
  (path: string, text: string) =>
  (of: string): number | undefined =>
    of === path ? text.length : starter.get(of)?.length;
