// `compare` for people at a terminal.
import type { MovedValue, PlantComparison } from '../../../engine/compare/comparison.ts';
import type { Finding } from '../../../engine/finding.ts';
import type { ComparedFile, LoneFile, WorkspaceComparison } from '../../compare/workspace-comparison.ts';
import { describeCounts } from '../../findings.ts';
import { harmless, type Style } from '../terminal.ts';
import {
  byTrend,
  changeInWords,
  factInWords,
  findingLabel,
  pointInWords,
  trendInWords,
  unknown,
} from './compare-words.ts';

export function compareAsText(comparison: WorkspaceComparison, style: Style): string {
  const { changed, added, removed, remarks, problems } = comparison;
  const files = [
    ...changed.map(file => showFile(file, style)),
    ...added.map(file => showLone(file, 'is new', style)),
    ...removed.map(file => showLone(file, 'is gone', style)),
  ];
  const notes = [...problems, ...remarks].map(words => `${harmless(words)}\n`);
  return [...files, ...notes, summary(comparison, style)].join('\n');
}

function showFile(file: ComparedFile, style: Style): string {
  const { path, movedFrom, plant, comparison, counts } = file;
  const name = plant === undefined ? 'parts' : plant;
  const moved = movedFrom === undefined ? '' : ` (before: ${movedFrom})`;
  return lines(
    `${style.bold(harmless(`${path}${moved}`))}: ${harmless(name)}, now ${describeCounts(counts)}`,
    ...comparison.doubts.map(words => `  ${style.colour('yellow', harmless(words))}`),
    ...comparison.renamed.map(
      ({ before, after, evidence }) => `  ${harmless(`${before} is now ${after}: ${evidence}.`)}`,
    ),
    ...showValues(comparison, style),
    ...showFindings(file, style),
    ...section('Facts', [
      ...comparison.facts.map(factInWords),
      ...comparison.statements.map(({ what, text }) => `${what}: ${text}`),
    ]),
    ...section(
      'Picks',
      comparison.picks.map(({ name, before, after }) => `${name}: ${before ?? 'no pick'} → ${after ?? 'no pick'}`),
    ),
    '',
  );
}

function showValues({ values, elsewhere, still }: PlantComparison, style: Style): readonly string[] {
  const rows = byTrend(values);
  const names = widest(rows.map(({ name }) => name));
  const olds = widest(rows.map(before));
  const news = widest(rows.map(after));
  const shown = rows.map(value => {
    const colour = value.trend === 'towards' ? 'yellow' : value.trend === 'away' ? 'blue' : 'grey';
    const remark = [changeInWords(value), trendInWords(value)].filter(Boolean).join(', ');
    const where = pointInWords(value);
    const numbers = `${before(value).padStart(olds)} → ${after(value).padEnd(news)}`;
    const tail = where === '' ? '' : style.colour('grey', `  ${where}`);
    return `    ${style.bold(value.name.padEnd(names))}  ${numbers}  ${style.colour(colour, remark)}${tail}`;
  });
  const others = [
    elsewhere > 0 ? `${elsewhere} moved only at points that are not their worst` : '',
    `${still} are the same`,
  ];
  if (values.length === 0 && elsewhere === 0) return [];
  return [`  Results`, ...shown, `    ${others.filter(Boolean).join('; ')}`];
}

function before(value: MovedValue): string {
  return value.before?.display ?? unknown;
}

function after(value: MovedValue): string {
  return value.after?.display ?? unknown;
}

function showFindings({ path, comparison: { findings }, lineOf }: ComparedFile, style: Style): readonly string[] {
  const one = (finding: Finding) => `${findingLabel(finding)} ${path}:${lineOf(finding)}: ${finding.message}`;
  const rows = [
    ...findings.new.map(finding => style.colour('red', `new   ${harmless(one(finding))}`)),
    ...findings.changed.map(
      ({ before: was, after: is }) => `now   ${harmless(one(is))} (before: ${findingLabel(was)})`,
    ),
    ...findings.gone.map(finding => style.colour('blue', `gone  ${harmless(one(finding))}`)),
  ];
  if (rows.length === 0) return [];
  return ['  Findings', ...rows.map(row => `    ${row}`), `    ${findings.unchanged} are unchanged`];
}

function section(title: string, rows: readonly string[]): readonly string[] {
  return rows.length === 0 ? [] : [`  ${title}`, ...rows.map(row => `    ${harmless(row)}`)];
}

function showLone({ path, plant, counts, findings, lineOf }: LoneFile, what: string, style: Style): string {
  const name = plant === undefined ? 'parts' : plant;
  const graver =
    what === 'is new' ? findings.filter(({ severity }) => severity === 'error' || severity === 'warning') : [];
  const rows = graver.map(
    finding => `    ${harmless(`${findingLabel(finding)} ${path}:${lineOf(finding)}: ${finding.message}`)}`,
  );
  return lines(`${style.bold(harmless(path))}: ${harmless(name)} ${what}, ${describeCounts(counts)}`, ...rows, '');
}

function summary(
  { before: old, after: now, changed, added, removed, unchanged, worse }: WorkspaceComparison,
  style: Style,
): string {
  const counted = [
    `${changed.length} changed`,
    added.length > 0 ? `${added.length} new` : '',
    removed.length > 0 ? `${removed.length} gone` : '',
    `${unchanged} unchanged`,
  ].filter(Boolean);
  const verdict = worse ? style.colour('yellow', 'something is worse') : style.colour('blue', 'nothing is worse');
  return `Compared ${harmless(old)} with ${harmless(now)}: ${counted.join(', ')}; ${verdict}.\n`;
}

function widest(texts: readonly string[]): number {
  return Math.max(0, ...texts.map(text => text.length));
}

function lines(...parts: readonly string[]): string {
  return parts.join('\n');
}
