// `compare --format markdown`: for the summary of a workflow and for the one comment on a pull request. Whatever comes
// from a file is escaped: it mentions nobody, loads nothing, links nowhere.
import { describeCounts } from '../../findings.ts';
import type { CompareOutput } from '../schemas.ts';
import {
  byGravity,
  byTrend,
  changeInWords,
  type FileOutput,
  type FindingOutput,
  factInWords,
  type LoneOutput,
  pointInWords,
  sideInWords,
  trendInWords,
  unknown,
  type ValueOutput,
} from './compare-words.ts';
import { type Block, fitted, row } from './fitted.ts';

export interface MarkdownShape {
  /** Characters: what is longer is cut by rule, hazards last to go, and it says so. */
  readonly most?: number;
  /** For a page that stands beside a text: long names may be broken. */
  readonly narrow?: boolean;
}

export function compareAsMarkdown(
  comparison: CompareOutput,
  { most = Number.POSITIVE_INFINITY, narrow = false }: MarkdownShape = {},
): string {
  const { changed, added, removed, remarks, problems } = comparison;
  const blocks: Block[] = [
    block([
      row(
        100,
        `**${verdict(comparison)}** ${escaped(`Compared ${sideInWords(comparison.before)} with ${sideInWords(comparison.after)}.`)}`,
      ),
    ]),
    block(problems.map(words => row(90, `> ⚠ ${escaped(words)}`))),
    ...byGravity(changed).flatMap(file => fileBlocks(file, narrow)),
    ...added.flatMap(file => loneBlocks(file, 'new')),
    ...removed.flatMap(file => loneBlocks(file, 'gone')),
    block(remarks.map(words => row(20, `_${escaped(words)}_`))),
    block([row(100, `_${caution}_`)]),
  ];
  return fitted(blocks, most);
}

const caution =
  'Results support, and never replace, the judgement of a licensed engineer; local codes, the makers’ instructions and the standards that apply come first.';

function block(rows: Block['rows'], heading: string | undefined = undefined): Block {
  return { heading, rows };
}

function verdict({ changed, added, removed, unchanged, problems, worse }: CompareOutput): string {
  if (changed.length + added.length + removed.length === 0) {
    return problems.length > 0 && unchanged === 0 ? 'Nothing could be compared.' : 'No result and no finding changes.';
  }
  const news = [...changed.flatMap(({ findings }) => findings.new), ...added.flatMap(one => one.findings)];
  const hazards = news.filter(({ hazard }) => hazard).length;
  const errors = news.filter(({ severity }) => severity === 'error').length;
  const nearer = changed.flatMap(({ values }) => values).filter(({ trend }) => trend === 'towards').length;
  const parts = [
    hazards > 0 ? `${plural(hazards, 'new hazard')}` : '',
    errors > 0 ? plural(errors, 'new error') : '',
    nearer > 0 ? `${plural(nearer, 'result')} nearer to ${nearer === 1 ? 'its limit' : 'their limits'}` : '',
  ].filter(Boolean);
  if (parts.length > 0) return `${parts.join(', ')}.`;
  return worse ? 'Something is worse.' : 'Nothing is worse.';
}

function fileBlocks(file: FileOutput, narrow: boolean): readonly Block[] {
  const { path, movedFrom, plant, counts } = file;
  const moved = movedFrom === null ? '' : ` (before: ${escaped(movedFrom)})`;
  const title = `### ${escaped(plant ?? 'Parts')} – ${escaped(path)}${moved}`;
  const { findings, values, elsewhere, still, facts, statements, picks, renamed, doubts } = file;
  const details = [
    ...renamed.map(({ before, after, evidence }) => `${before} is now ${after}: ${evidence}`),
    ...picks.map(({ name, before, after }) => `pick of ${name}: ${before ?? 'none'} → ${after ?? 'none'}`),
    ...facts.map(factInWords),
    ...statements.map(({ what, text }) => `${what}: ${text}`),
  ];
  const quiet = [
    elsewhere > 0 ? `${plural(elsewhere, 'result')} moved only at points that are not the worst.` : '',
    values.length + elsewhere > 0
      ? `${plural(still, 'result')} and ${plural(findings.unchanged, 'finding')} are the same.`
      : '',
  ].filter(Boolean);
  return [
    block([row(95, `Now ${describeCounts(counts)}.`), ...doubts.map(words => row(80, `> ⚠ ${escaped(words)}`))], title),
    block([
      ...findings.new
        .toSorted((a, b) => weightOf(b) - weightOf(a))
        .map(finding => row(weightOf(finding), findingLine('new', finding, path))),
      ...findings.changed.map(({ before, after }) => {
        return row(weightOf(after), findingLine(`was ${before.severity}, now`, after, path));
      }),
      ...findings.gone.map(finding => row(30, findingLine('gone:', finding, path))),
    ]),
    table(
      values.filter(({ trend }) => trend !== 'none'),
      narrow,
    ),
    ...folded(
      'Results that nothing judges',
      table(
        values.filter(({ trend }) => trend === 'none'),
        narrow,
      ),
    ),
    block(quiet.map(words => row(10, words))),
    ...folded('What was changed', block(details.map(words => row(15, `- ${escaped(words)}`)))),
  ];
}

/** Behind a line that opens it. */
function folded(title: string, inner: Block): readonly Block[] {
  if (inner.rows.length === 0) return [];
  const head = `<details><summary>${title}</summary>\n`;
  const heading = inner.heading === undefined ? head : `${head}\n${inner.heading}`;
  return [{ ...inner, heading, tight: true, end: '\n</details>' }];
}

function table(values: readonly ValueOutput[], narrow: boolean): Block {
  // Few columns: the page stands beside a text, or in the column of a comment.
  const head = '| result | before | after | change |\n|---|--:|--:|---|';
  return {
    heading: head,
    tight: true,
    rows: byTrend(values).map(value => {
      const mark = value.trend === 'towards' ? '▲' : value.trend === 'away' ? '▽' : '';
      const trend = [mark, trendInWords(value)].filter(Boolean).join(' ');
      const name = escaped(value.name);
      const cells = [
        [narrow ? breakable(name) : name, escaped(pointInWords(value))],
        [escaped(unbroken(value.before?.display ?? unknown))],
        [escaped(unbroken(value.after?.display ?? unknown))],
        [escaped(unbroken(changeInWords(value))), escaped(trend)],
      ];
      const shown = cells.map(lines => lines.filter(Boolean).join('<br>'));
      return row(weightOfTrend[value.trend], `| ${shown.join(' | ')} |`);
    }),
  };
}

/** Between the words of an escaped name. */
function breakable(name: string): string {
  return name.replace(/\.|\\_/g, '$&<wbr>');
}

/** In a narrow column a number stays beside its unit. */
function unbroken(quantity: string): string {
  return quantity.replaceAll(' ', '\u00a0');
}

const weightOfTrend: Readonly<Record<ValueOutput['trend'], number>> = { towards: 50, away: 25, none: 14 };

function findingLine(what: string, finding: FindingOutput, path: string): string {
  const { code, hazard, severity, message, accepted, line } = finding;
  const label = [hazard ? 'hazard,' : '', severity, accepted ? '(accepted)' : ''].filter(Boolean).join(' ');
  return `- ${what} **${label}** ${escaped(code)}, ${escaped(path)} line ${line}: ${escaped(message)}`;
}

/** Hazards go last. */
function weightOf({ hazard, severity }: FindingOutput): number {
  if (hazard) return 99;
  return { error: 70, warning: 60, note: 12, hint: 11 }[severity];
}

function loneBlocks(file: LoneOutput, what: 'new' | 'gone'): readonly Block[] {
  const { path, plant, counts, findings } = file;
  const title = `### ${escaped(plant ?? 'Parts')} – ${escaped(path)} is ${what}`;
  const shown =
    what === 'gone' ? [] : findings.filter(({ severity }) => severity === 'error' || severity === 'warning');
  return [
    block(
      [row(95, what === 'gone' ? `It had ${describeCounts(counts)}.` : `It has ${describeCounts(counts)}.`)],
      title,
    ),
    block(shown.map(finding => row(weightOf(finding), findingLine('new', finding, path)))),
  ];
}

/**
 * Text as text, in GitHub's and GitLab's Markdown alike: no mark-up, no HTML, and a character of no width where a name,
 * a number or an address would be made into a link or a mention.
 */
export function escaped(text: string): string {
  return text
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Surrogate}]+/gu, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replace(/[\\`*_{}[\]()!|~$^]/g, '\\$&')
    .replace(/[@#]|:(?=\/\/)|(?<=www)\.|(?<=GH)-(?=\d)/gi, '$&\u200b');
}

function plural(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? '' : 's'}`;
}
