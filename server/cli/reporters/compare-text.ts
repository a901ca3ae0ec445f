// `compare` for people at a terminal.
import { describeCounts } from '../../findings.ts';
import type { CompareOutput } from '../schemas.ts';
import { harmless, type Style } from '../terminal.ts';
import {
  byTrend,
  changeInWords,
  type FileOutput,
  type FindingOutput,
  factInWords,
  findingLabel,
  type LoneOutput,
  pointInWords,
  sideInWords,
  trendInWords,
  unknown,
  type ValueOutput,
} from './compare-words.ts';

export function compareAsText(comparison: CompareOutput, style: Style): string {
  const { changed, added, removed, remarks, problems } = comparison;
  const files = [
    ...changed.map(file => showFile(file, style)),
    ...added.map(file => showLone(file, 'is new', style)),
    ...removed.map(file => showLone(file, 'is gone', style)),
  ];
  const notes = [...problems, ...remarks].map(words => `${harmless(words)}\n`);
  return [...files, ...notes, summary(comparison, style)].join('\n');
}

function showFile(file: FileOutput, style: Style): string {
  const { path, movedFrom, plant, counts, doubts, renamed, facts, statements, picks } = file;
  const name = plant ?? 'parts';
  const moved = movedFrom === null ? '' : ` (before: ${movedFrom})`;
  return lines(
    `${style.bold(harmless(`${path}${moved}`))}: ${harmless(name)}, now ${describeCounts(counts)}`,
    ...doubts.map(words => `  ${style.colour('yellow', harmless(words))}`),
    ...renamed.map(({ before, after, evidence }) => `  ${harmless(`${before} is now ${after}: ${evidence}.`)}`),
    ...showValues(file, style),
    ...showFindings(file, style),
    ...section('Facts', [...facts.map(factInWords), ...statements.map(({ what, text }) => `${what}: ${text}`)]),
    ...section(
      'Picks',
      picks.map(({ name, before, after }) => `${name}: ${before ?? 'no pick'} → ${after ?? 'no pick'}`),
    ),
    '',
  );
}

function showValues({ values, elsewhere, still }: FileOutput, style: Style): readonly string[] {
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

function before(value: ValueOutput): string {
  return value.before?.display ?? unknown;
}

function after(value: ValueOutput): string {
  return value.after?.display ?? unknown;
}

function showFindings({ path, findings }: FileOutput, style: Style): readonly string[] {
  const one = (finding: FindingOutput) => `${findingLabel(finding)} ${path}:${finding.line}: ${finding.message}`;
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

function showLone({ path, plant, counts, findings }: LoneOutput, what: string, style: Style): string {
  const name = plant ?? 'parts';
  const graver =
    what === 'is new' ? findings.filter(({ severity }) => severity === 'error' || severity === 'warning') : [];
  const rows = graver.map(
    finding => `    ${harmless(`${findingLabel(finding)} ${path}:${finding.line}: ${finding.message}`)}`,
  );
  return lines(`${style.bold(harmless(path))}: ${harmless(name)} ${what}, ${describeCounts(counts)}`, ...rows, '');
}

function summary(
  { before: old, after: now, changed, added, removed, unchanged, worse }: CompareOutput,
  style: Style,
): string {
  const counted = [
    `${changed.length} changed`,
    added.length > 0 ? `${added.length} new` : '',
    removed.length > 0 ? `${removed.length} gone` : '',
    `${unchanged} unchanged`,
  ].filter(Boolean);
  const verdict = worse ? style.colour('yellow', 'something is worse') : style.colour('blue', 'nothing is worse');
  return `Compared ${harmless(sideInWords(old))} with ${harmless(sideInWords(now))}: ${counted.join(', ')}; ${verdict}.\n`;
}

function widest(texts: readonly string[]): number {
  return Math.max(0, ...texts.map(text => text.length));
}

function lines(...parts: readonly string[]): string {
  return parts.join('\n');
}
