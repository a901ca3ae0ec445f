// The committed table of mutation scores names every file, and a low score is not left without a word.
import { expect, it } from 'vitest';
import { isSubject, leastShare, percent, scoresOf, scoresTable } from '../kit/mutation-scores.ts';
import { remarks } from '../mutation/remarks.ts';
import { files, textOf } from './sources.ts';

const table = textOf('test/mutation/README.md');
const scores = scoresOf(table);
const named = [...table.matchAll(/^\| (engine\/\S+) \|/gm)].map(([, file]) => file!);

it('the table has every file of physics and checks, and no other: "npm run mutation-scores" writes it', () => {
  expect(named).toEqual(files.filter(isSubject));
});

it('nothing in it was written by hand', () => {
  const aged = new Set([...table.matchAll(/^\| (\S+) \|.*\| has changed since \|$/gm)].map(([, file]) => file!));
  const textNow = (file: string) => (aged.has(file) ? '' : scores.get(file)!.text);
  expect(scoresTable(named, scores, remarks, textNow)).toBe(table);
});

it('each score below 85 % has a remark that says why, and no file with a higher one has', () => {
  const low = [...scores].filter(([, score]) => (percent(score) ?? 100) < leastShare).map(([file]) => file);
  const remarked = Object.keys(remarks);
  expect(low.filter(file => !remarked.includes(file))).toEqual([]);
  expect(remarked.filter(file => !named.includes(file) || (scores.has(file) && !low.includes(file)))).toEqual([]);
});
