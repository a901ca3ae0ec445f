// Writes into README.md what "npm run mutation" has counted in dist.mutation, and keeps the rows of the other files.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { checksumOf, isSubject, scoresOf, scoresTable } from '../kit/mutation-scores.ts';
import { files, textOf } from '../tidy/sources.ts';
import { remarks } from './remarks.ts';

const folder = import.meta.dirname;
const out = path.resolve(folder, '../../dist.mutation');
const readme = path.join(folder, 'README.md');

/** Scores by file, as the reports of a folder count them. */
function reported() {
  const reports = existsSync(out) ? readdirSync(out).filter(name => name.endsWith('.json')) : [];
  return reports.flatMap(name => {
    const report = JSON.parse(readFileSync(path.join(out, name), 'utf8'));
    return Object.entries(report.files).map(([file, { source, mutants }]) => {
      const count = (...states) => mutants.filter(({ status }) => states.includes(status)).length;
      return [
        file,
        { noticed: count('Killed', 'Timeout'), missed: count('Survived', 'NoCoverage'), text: checksumOf(source) },
      ];
    });
  });
}

const before = existsSync(readme) ? scoresOf(readFileSync(readme, 'utf8')) : new Map();
const fresh = reported();
const scores = new Map([...before, ...fresh]);
writeFileSync(
  readme,
  scoresTable(files.filter(isSubject), scores, remarks, file => checksumOf(textOf(file))),
);
process.stdout.write(`Wrote ${fresh.length} scores into test/mutation/README.md.\n`);
