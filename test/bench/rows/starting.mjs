// Rows on a server that is started: until it answers, until it has found something, until ten files are done.
import { median, takeTurns } from '../measure.mjs';
import { openSession } from '../session.mjs';
import { subjects } from '../subjects.mjs';

const fileCount = 10;

export const starting = {
  name: 'starting',
  about: 'a fresh process each time',
  run: async ({ dist, sizes, rounds, say }) => {
    const actors = subjects(dist);
    const rows = [];
    say('start');
    const starts = await takeTurns(rounds, actors, subject => start(subject, 1000));
    rows.push(
      row('start initialized', 'process start → initialized', starts, ({ initialized }) => initialized),
      row('start findings', 'process start → findings of 1,000 lines', starts, ({ findings }) => findings),
    );
    for (const size of sizes.filter(size => size <= 1000)) {
      say(`ten files, ${size} lines`);
      const opened = await takeTurns(Math.ceil(rounds / 3), actors, subject => openMany(subject, size));
      rows.push({ ...row(`ten files ${size}`, `process start → findings of ten files of ${size.toLocaleString('en')} lines`, opened, time => time), match: [], beyond: [] }); // biome-ignore format: one row
    }
    return rows;
  },
};

function row(name, what, gathered, pick) {
  const figures = Object.fromEntries([...gathered].map(([subject, turns]) => [subject, median(turns.map(pick))]));
  return {
    name,
    what,
    unit: 'ms',
    figures,
    match: [{ most: 1.5, of: 'JSON' }],
    beyond: [{ most: 1.2, of: 'nothing' }],
  };
}

async function start(subject, size) {
  const text = subject.document(size);
  const session = await openSession(subject);
  await session.open(text, 'station').opened;
  const findings = performance.now() - session.started;
  await session.stop();
  return { initialized: session.initialized, findings };
}

/** Ten different documents, opened at once. */
async function openMany(subject, size) {
  const texts = Array.from({ length: fileCount }, (_, index) => subject.document(size, index + 1));
  const session = await openSession(subject);
  await Promise.all(texts.map((text, index) => session.open(text, `station${index}`).opened));
  const time = performance.now() - session.started;
  await session.stop();
  return time;
}
