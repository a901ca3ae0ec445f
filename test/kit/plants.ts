// Plants as text in tests: several files in one string, expectations under the lines, values and fixes by name.

import { expect } from 'vitest';
import type { Analysis, FileState, ValueRow } from '../../engine/analysis.ts';
import { analyze } from '../../engine/analyze.ts';
import type { Finding, Fix, Place, PointView, Severity } from '../../engine/finding.ts';
import { parse } from '../../grammar/parse.ts';

/** Files by path, the analysed one first. */
export type Files = ReadonlyMap<string, string>;

export interface Analysed {
  readonly files: Files;
  readonly analysis: Analysis;
}

export interface Expectation {
  readonly path: string;
  /** From 1. */
  readonly line: number;
  /** Of the carets, from 0, end exclusive. */
  readonly from: number;
  readonly to: number;
  readonly severity: Severity;
  readonly code: string;
  /** How the message begins; undefined where only the code is expected. */
  readonly text: string | undefined;
}

export type Edit = readonly [from: string, to: string];

const separator = /^#### (\S+)\n/m;
const expectation = /^[\t ]*#?[\t ]*(\^+) (error|warning|note|hint)\[([a-z_]+)\](?:: (.*))?$/;

export const root = 'plant.plant';

/** Splits a text at lines such as `#### parts/x.plant`; what stands before the first is `plant.plant`. */
export function filesOf(text: string): Files {
  const [first = '', ...rest] = text.split(separator);
  const files = new Map<string, string>();
  if (first.trim() !== '' || rest.length === 0) files.set(root, first);
  for (let index = 0; index + 1 < rest.length; index += 2) files.set(rest[index]!, rest[index + 1]!);
  return files;
}

/** Analyses the first file with the others beside it. */
export function analysed(source: string | Files, today?: string, previous?: Analysis): Analysed {
  const files = typeof source === 'string' ? filesOf(source) : source;
  const states = new Map<string, FileState>();
  for (const [path, text] of files) states.set(path, { state: 'text', tree: parse(text) });
  const [path] = files.keys();
  if (path === undefined) throw new Error('no file to analyse');
  return { files, analysis: analyze(path, { files: states }, { today }, previous) };
}

/** Replaces each text, which must stand there, once. */
export function edited(text: string, ...edits: readonly Edit[]): string {
  return edits.reduce((before, [from, to]) => {
    if (!before.includes(from)) throw new Error(`\`${from}\` does not stand in the text`);
    return before.replace(from, () => to);
  }, text);
}

/** The text with the edits of a fix made, in all files that it touches. */
export function fixed(files: Files, fix: Fix): Files {
  const result = new Map(files);
  for (const { place, text } of [...fix.edits].sort((a, b) => b.place.start - a.place.start)) {
    const before = result.get(place.path);
    if (before === undefined) throw new Error(`the fix edits ${place.path}, which is not there`);
    result.set(place.path, before.slice(0, place.start) + text + before.slice(place.end));
  }
  return result;
}

/** Errors and warnings. */
export function complaints({ analysis }: Analysed): readonly Finding[] {
  return analysis.findings.filter(({ severity }) => severity === 'error' || severity === 'warning');
}

/** `error uncontrolled_charging`, one for each complaint. */
export function complaintCodes(plant: Analysed): readonly string[] {
  return complaints(plant).map(({ severity, code }) => `${severity} ${code}`);
}

export function findingsOf({ analysis }: Analysed, code: string, subject?: string): readonly Finding[] {
  return analysis.findings.filter(
    finding => finding.code === code && (subject === undefined || finding.subject === subject),
  );
}

/** The only finding with this code; fails where there is none, or more than one. */
export function theFinding(plant: Analysed, code: string, subject?: string): Finding {
  const found = findingsOf(plant, code, subject);
  if (found.length === 1) return found[0]!;
  const all = plant.analysis.findings.map(finding => `${finding.severity} ${finding.code}: ${finding.message}`);
  throw new Error(`${found.length} findings \`${code}\` among\n${all.join('\n')}`);
}

/** The only finding with this code as its reader sees it: words, the text it sits on, texts that it names, offers. */
export function told(plant: Analysed, code: string, subject?: string) {
  const { message, place, related, limit, fixes } = theFinding(plant, code, subject);
  return {
    message,
    at: textAt(plant, place),
    related: related.map(other => [textAt(plant, other.place), other.message]),
    limit: limit?.display,
    fixes: fixes.map(({ title }) => title),
  };
}

export function textAt({ files }: Analysed, place: Place): string {
  return files.get(place.path)?.slice(place.start, place.end) ?? '';
}

/** The line on which a place begins, without its blanks at either end. */
export function lineAt({ files }: Analysed, place: Place): string {
  const text = files.get(place.path) ?? '';
  const end = text.indexOf('\n', place.start);
  return text.slice(text.lastIndexOf('\n', place.start - 1) + 1, end < 0 ? undefined : end).trim();
}

/** Number of the line, from 1, on which a place begins. */
export function lineNumber({ files }: Analysed, place: Place): number {
  return (files.get(place.path) ?? '').slice(0, place.start).split('\n').length;
}

/** A value at its worst; fails where it is unknown. */
export function worst({ analysis }: Analysed, name: string): KnownRow {
  return known(analysis.values.worst(name), name);
}

/** A value at the point with these coordinates; fails where they don't name one point. */
export function valueAt({ analysis }: Analysed, name: string, point: Partial<PointView>): number {
  const rows = analysis.values.all(name).filter(row => matches(row.point, point));
  if (rows.length !== 1) throw new Error(`${rows.length} points of ${name} at ${JSON.stringify(point)}`);
  return known(rows[0], name).value;
}

/** Reads values at a point: of each value the row whose own coordinates agree with it. */
export function reader({ analysis }: Analysed): (name: string, point: Partial<PointView>) => number {
  const rows = new Map<string, ReturnType<typeof analysis.values.all>>();
  return (name, point) => {
    const all = rows.get(name) ?? analysis.values.all(name);
    rows.set(name, all);
    const keys = ['case', 'duty', 'voltage', 'direction', 'soc'] as const;
    const found = all.filter(row =>
      keys.every(key => (key !== 'case' && row.point[key] === undefined) || row.point[key] === point[key]),
    );
    if (found.length !== 1) throw new Error(`${found.length} rows of ${name} at ${JSON.stringify(point)}`);
    return found[0]!.value ?? Number.NaN;
  };
}

/** All of a row, also what is worked out only for whoever looks. */
export function laidOut(row: ValueRow | undefined) {
  return row && { ...row, inputs: row.inputs, limit: row.limit, stretches: row.stretches };
}

type KnownRow = ValueRow & { readonly value: number };

function known(row: ValueRow | undefined, name: string): KnownRow {
  if (row === undefined || !isKnown(row)) throw new Error(`${name} is not known`);
  return row;
}

function isKnown(row: ValueRow): row is KnownRow {
  return row.value !== undefined;
}

function matches(point: PointView, wanted: Partial<PointView>): boolean {
  return Object.entries(wanted).every(([name, value]) => {
    const actual = point[name as keyof PointView];
    return typeof value === 'number' && typeof actual === 'number' ? Math.abs(actual - value) < 1e-9 : actual === value;
  });
}

/**
 * Analyses a text with expectations under its lines, such as `  ^^^ error[dc_window]: The battery takes`: carets where
 * the finding sits, then its code, then, if wanted, how its message begins. Every error and warning must be expected;
 * notes and hints may be left out.
 */
export function expectFindings(text: string, today?: string): Analysed {
  const marked = [...filesOf(text)].map(([path, content]) => readExpectations(path, content));
  const plant = analysed(new Map(marked.map(({ path, plain }) => [path, plain])), today);
  const open = [...plant.analysis.findings];
  const missing: string[] = [];
  for (const wanted of marked.flatMap(({ expectations }) => expectations)) {
    const index = open.findIndex(finding => meets(plant, finding, wanted));
    if (index < 0) missing.push(describeExpectation(wanted));
    else open.splice(index, 1);
  }
  const unexpected = open
    .filter(({ severity }) => severity === 'error' || severity === 'warning' || missing.length > 0)
    .map(finding => describeFinding(plant, finding));
  expect({ missing, unexpected }).toEqual({ missing: [], unexpected: [] });
  return plant;
}

function readExpectations(path: string, content: string) {
  const plain: string[] = [];
  const expectations: Expectation[] = [];
  for (const line of content.split('\n')) {
    const found = expectation.exec(line);
    if (found === null) {
      plain.push(line);
      continue;
    }
    const [, carets = '', severity, code = '', text] = found;
    const from = line.indexOf('^');
    const common = { path, line: plain.length, from, to: from + carets.length, code, text };
    expectations.push({ ...common, severity: severity as Severity });
  }
  return { path, plain: plain.join('\n'), expectations };
}

function meets(plant: Analysed, finding: Finding, wanted: Expectation): boolean {
  if (finding.code !== wanted.code || finding.severity !== wanted.severity) return false;
  if (wanted.text !== undefined && !finding.message.startsWith(wanted.text)) return false;
  const { path, line, from, to } = whereOf(plant, finding.place);
  return path === wanted.path && line === wanted.line && from === wanted.from && to === wanted.to;
}

/** A place of several lines counts as far as its first line goes. */
function whereOf(plant: Analysed, place: Place) {
  const text = plant.files.get(place.path) ?? '';
  const start = text.lastIndexOf('\n', place.start - 1) + 1;
  const lineEnd = text.indexOf('\n', place.start);
  const end = Math.min(place.end, lineEnd < 0 ? text.length : lineEnd);
  return { path: place.path, line: lineNumber(plant, place), from: place.start - start, to: end - start };
}

function describeExpectation({ path, line, from, to, severity, code, text }: Expectation): string {
  return `${path}:${line} [${from}, ${to}) ${severity}[${code}]${text === undefined ? '' : `: ${text}`}`;
}

function describeFinding(plant: Analysed, finding: Finding): string {
  return describeExpectation({
    ...whereOf(plant, finding.place),
    severity: finding.severity,
    code: finding.code,
    text: finding.message,
  });
}
