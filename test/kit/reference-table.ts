// The table of all comparisons with the outside world, as Markdown: what, with which code of ours, whose figures, how near.
import type { Compared, ReferenceEvidence } from './reference.ts';

export interface ComparedFile {
  /** `rashid-rectifier.test.ts`. */
  readonly file: string;
  /** Files of the engine that it asks. */
  readonly asks: readonly string[];
  readonly compared: readonly Compared[];
}

/** Rows of a file, as lines of Markdown; the file's name stands in the first one. */
export function referenceRows({ file, asks, compared }: ComparedFile): readonly string[] {
  return grouped(compared).map((group, index) => {
    const [first] = group;
    return line([
      index === 0 ? `[${file.replace('.test.ts', '')}](${file})` : '',
      first!.quantity,
      index === 0 ? asks.map(shortened).join(', ') : '',
      sourcesOf(group),
      first!.evidence,
      String(group.length),
      largest(group, 'deviation'),
      largest(group, 'tolerance'),
    ]);
  });
}

/** The rows of each file in a table that was written before. */
export function rowsOfTable(table: string): ReadonlyMap<string, readonly string[]> {
  const rows = new Map<string, string[]>();
  let current: string[] = [];
  for (const row of table.split('\n').filter(one => cellsOf(one).length === heads.length)) {
    const file = /^\| \[[\w-]+\]\(([\w-]+\.test\.ts)\)/.exec(row)?.[1];
    if (file !== undefined) {
      current = [];
      rows.set(file, current);
    }
    if (rows.size > 0) current.push(row);
  }
  return rows;
}

/** Evidence and number of figures of a row. */
export function countOf(row: string): { readonly evidence: string; readonly figures: number } {
  const cells = cellsOf(row);
  return { evidence: cells[4] ?? '', figures: Number(cells[5]) };
}

export function referenceTable(byFile: ReadonlyMap<string, readonly string[]>): string {
  const rows = [...byFile].sort(([a], [b]) => (a < b ? -1 : 1)).flatMap(([, own]) => own);
  const counts = rows.map(countOf);
  const sum = (evidence?: string) =>
    counts
      .filter(one => evidence === undefined || one.evidence === evidence)
      .reduce((all, one) => all + one.figures, 0);
  const evidence = Object.entries(meanings).map(([name, meaning]) => line([name, String(sum(name)), meaning]));
  return `# What is compared with what

${sum()} figures of the engine stand against figures from outside, in ${byFile.size} files. Made by \`npm run reference-table\` from a run of the tests in this folder (\`npm run reference-table iec-60228\` writes the rows of one file anew); a test fails where a file is missing here.

${[...headOf(['evidence', 'figures', 'meaning']), ...evidence].join('\n')}

A deviation is relative, or a difference in the unit of the quantity where it says _absolute_. "Largest deviation seen" is what the run that wrote the row saw; every run holds the tolerance beside it, which is often the last digit that a book prints.

${[...headOf(heads), ...rows].join('\n')}
`;
}

const heads = [
  'file',
  'quantity',
  'code asked',
  'outside source',
  'evidence',
  'figures',
  'largest deviation seen',
  'tolerance',
];

const meanings: Readonly<Record<ReferenceEvidence, string>> = {
  'seen in source': 'the figure was read in the source itself',
  'outside program': 'the program computes it while the test runs',
  'inputs seen in source, result recomputed independently': 'data read in the source, worked out apart from our code',
  'inputs from memory, result recomputed independently': 'data from memory, worked out apart from our code',
  'recomputed independently': 'worked out apart from our code by another way',
  'from memory': 'the figure is remembered, the source was not at hand',
  'common practice, no source': 'what is customary; nobody publishes it',
};

/** Those of one quantity and evidence, kept apart where they are measured in different ways. */
function grouped(compared: readonly Compared[]): readonly (readonly Compared[])[] {
  const groups = new Map<string, Compared[]>();
  for (const one of compared) {
    const key = `${one.quantity}|${one.evidence}|${one.absolute}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()];
}

const mostSources = 3;

function sourcesOf(group: readonly Compared[]): string {
  const sources = [...new Set(group.map(({ source }) => source))];
  const more = sources.length - mostSources;
  return more > 0 ? `${sources.slice(0, mostSources).join('; ')}; and ${more} more` : sources.join('; ');
}

/** Figures of computers differ in their last digits; below this nobody learns anything. */
const exact = 1e-12;

function largest(group: readonly Compared[], which: 'deviation' | 'tolerance'): string {
  const worst = Math.max(...group.map(one => one[which]));
  if (group[0]!.absolute) return `${written(worst)} absolute`;
  if (worst < exact) return worst === 0 ? 'none' : `< ${exact}`;
  return worst < 1e-6 ? written(worst) : `${written(worst * 100)} %`;
}

const written = (value: number): string =>
  value !== 0 && value < exact ? `< ${exact}` : String(Number(value.toPrecision(2)));

const shortened = (file: string): string => `\`${file.replace(/^engine\//, '').replace(/\.ts$/, '')}\``;

const line = (cells: readonly string[]): string => `| ${cells.map(cell => cell.replaceAll('|', '\\|')).join(' | ')} |`;

const headOf = (columns: readonly string[]): readonly string[] => [line(columns), line(columns.map(() => '---'))];

const cellsOf = (row: string): readonly string[] => (row.startsWith('| ') ? row.slice(2, -2).split(/(?<!\\) \| /) : []);
