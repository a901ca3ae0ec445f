// The committed table of how many small changes of the engine's code its tests notice: its rows, read and written.
import { createHash } from 'node:crypto';

export interface Score {
  readonly noticed: number;
  readonly missed: number;
  /** First digits of the checksum of the text that was changed: tells whether the file is still the same. */
  readonly text: string;
}

/** Files whose rows the table must have: those of physics and checks that hold more than lists and words. */
export const isSubject = (file: string): boolean =>
  /^engine\/(physics|checks)\/[\w-]+\.ts$/.test(file) && !onlyWords.has(file);

/** Nothing to change that a test could notice. */
const onlyWords: ReadonlySet<string> = new Set(
  ['codes', 'example', 'documentation', 'without-check', 'check', 'index'].map(name => `engine/checks/${name}.ts`),
);

/** First digits of the checksum of a file's text. */
export const checksumOf = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 8);

/** Whether a score is of the text as it stands. */
export const isUpToDate = (score: Score | undefined, text: string): boolean => score?.text === checksumOf(text);

/** Aim, per cent; what has fewer noticed bears a remark that says why. */
export const leastShare = 85;

/** Per cent of the changes that were noticed; undefined where nothing was changed. */
export const percent = ({ noticed, missed }: Score): number | undefined =>
  noticed + missed === 0 ? undefined : (100 * noticed) / (noticed + missed);

const heading = `# What the tests of the engine notice

\`npm run mutation FILE…\` changes a file in hundreds of small ways, one at a time, and counts which changes its tests notice; the changes that they missed then stand in \`dist.mutation/*.txt\`. \`npm run mutation-scores\` writes what was counted into this table and leaves the other rows as they were. Aim: 85 % and more of each file. What is missed beyond that has been read: it changes nothing that anybody sees (an equivalent change, a word of a citation), or a remark below says what it is.

"not scored" means that nobody has counted. Where a file has changed since, its score is of the older text; a score also ages with the tests and with what the file imports.
`;

/** The whole text of the table; `textNow` is the checksum of a file as it stands. */
export function scoresTable(
  subjects: readonly string[],
  scores: ReadonlyMap<string, Score>,
  remarks: Readonly<Record<string, string>>,
  textNow: (file: string) => string,
): string {
  const rows = subjects.map(file => {
    const score = scores.get(file);
    if (score === undefined) return `| ${file} | not scored | | | | |`;
    const share = percent(score);
    const shown = share === undefined ? 'nothing to change' : `${share.toFixed(1)} %`;
    const age = score.text === textNow(file) ? '' : 'has changed since';
    return `| ${file} | ${shown} | ${score.noticed} | ${score.missed} | ${score.text} | ${age} |`;
  });
  const said = Object.entries(remarks).map(([file, remark]) => `- \`${file}\`: ${remark}`);
  return [
    heading,
    '| file | score | noticed | missed | of the text | now |',
    '| --- | --- | --- | --- | --- | --- |',
    ...rows,
    ...(said.length === 0 ? [] : ['', '## Remarks', '', ...said]),
    '',
  ].join('\n');
}

/** Scores by file, as a table written earlier has them. */
export function scoresOf(table: string): Map<string, Score> {
  const rows = table.matchAll(/^\| (\S+) \| [^|]+ \| (\d+) \| (\d+) \| (\w+) \|/gm);
  return new Map(
    [...rows].map(([, file, noticed, missed, text]) => [
      file!,
      { noticed: Number(noticed), missed: Number(missed), text: text! },
    ]),
  );
}
