// The committed table of comparisons is whole: every source has its rows, and no row is of a file that is gone.
import { expect, it } from 'vitest';
import { countOf, referenceTable, rowsOfTable } from '../kit/reference-table.ts';
import { files, textOf } from './sources.ts';

const table = textOf('test/reference/README.md');
const byFile = rowsOfTable(table);
const rows = [...byFile.values()].flat();

it('the table of comparisons has every file of its folder, and no other: "npm run reference-table" writes it', () => {
  const sources = files.filter(file => /^test\/reference\/.*\.test\.ts$/.test(file));
  expect([...byFile.keys()].map(file => `test/reference/${file}`)).toEqual(sources);
});

it('its counts are those of its rows, and nothing in it was written by hand', () => {
  expect(referenceTable(byFile)).toBe(table);
});

it('a hundred figures at least were seen in their sources, and a hundred are computed by outside programs', () => {
  const count = (evidence: string) =>
    rows
      .map(countOf)
      .filter(row => row.evidence === evidence)
      .reduce((sum, { figures }) => sum + figures, 0);
  expect(count('seen in source')).toBeGreaterThanOrEqual(100);
  expect(count('outside program')).toBeGreaterThanOrEqual(100);
});

it('each row shows how near it came, and how near it must come', () => {
  const measure = String.raw`(none|(< )?\d[\d.e-]*( %| absolute)?)`;
  expect(rows.filter(row => !new RegExp(String.raw`\| ${measure} \| ${measure} \|$`).test(row))).toEqual([]);
});
