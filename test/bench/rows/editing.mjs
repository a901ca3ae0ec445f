// Rows on an open document: edits, hover, completion, a burst of keys, memory.
import { setTimeout as pause } from 'node:timers/promises';
import { median, percentile, repeat, takeTurns } from '../measure.mjs';
import { openSession } from '../session.mjs';
import { subjects } from '../subjects.mjs';

const megabyte = 1e6;
const frame = 16.7;
const keyPace = 60;
/** Milliseconds after the first findings, for everyone: what a server does unasked then is done, and is in nobody's way. */
const authorReads = 3000;
/** Milliseconds in which nobody types: enough for a server to sweep its memory, as it will whenever an author thinks. */
const authorThinks = 15_000;

export const editing = {
  name: 'editing',
  about: 'one document open; edits change the last digit of a number somewhere in it',
  run: async options => {
    const bySize = new Map();
    for (const size of options.sizes) bySize.set(size, await measureSize(size, options));
    return [...bySize].flatMap(([size, measured]) => rowsOf(size, measured)).concat(ratios(bySize));
  },
};

/** Figures of all servers on documents of a size: name of the figure → name of the server → value. */
async function measureSize(size, { dist, rounds, say }) {
  const open = [];
  try {
    for (const subject of subjects(dist)) open.push(await openDocument(subject, size, say));
    return await measureOpen(open, size, rounds, say);
  } finally {
    await Promise.all(open.map(({ session }) => session.stop()));
  }
}

async function openDocument(subject, size, say) {
  say(`${subject.name}, ${size} lines`);
  const session = await openSession(subject);
  const document = session.open(subject.document(size), 'station');
  await document.opened;
  await document.settle(500);
  await pause(authorReads);
  if (subject.wrong !== undefined && (await document.spoil()).length === 0)
    throw new Error(`${subject.name} says nothing about a word in place of a number: it is not set up for this.`);
  await repeat(40, 3000, document.edit);
  await repeat(10, 500, document.hover);
  await repeat(5, 500, document.complete);
  return { name: subject.name, session, document };
}

async function measureOpen(open, size, rounds, say) {
  say(`edits, ${size} lines`);
  const edits = await takeTurns(rounds, open, ({ document }) => repeat(30, 1200, document.edit));
  const hovers = await takeTurns(rounds, open, ({ document }) => repeat(20, 400, document.hover));
  const completions = await takeTurns(rounds, open, ({ document }) => repeat(6, 800, document.complete));
  const figures = {
    editMedian: byName(edits, turns => median(turns.map(turn => median(times(turn))))),
    editSlow: byName(edits, turns => percentile(turns.flatMap(times), 0.95)),
    hover: byName(hovers, turns => median(turns.map(turn => median(times(turn))))),
    completion: byName(completions, turns => median(turns.map(turn => median(times(turn))))),
    memory: Object.fromEntries(open.map(({ name, session }) => [name, toMegabytes(session.peakMemory())])),
  };
  if (size === 1000) {
    say(`edits after pauses, ${size} lines`);
    figures.editRested = byName(await afterPauses(Math.ceil(rounds / 3), open), turns => median(turns.flat()));
  }
  say(`bursts, ${size} lines`);
  const bursts = await takeTurns(Math.ceil(rounds / 3), open, ({ name, document }) => {
    return document.burst(keyPace, 200 + 4 * figures.editMedian[name]);
  });
  return { ...figures, burst: byName(bursts, median) };
}

/** All rest together, then edit in turns. */
async function afterPauses(rounds, open) {
  const gathered = new Map(open.map(({ name }) => [name, []]));
  for (let round = 0; round < rounds; round++) {
    const order = open.map((_, index) => open[(index + round) % open.length]);
    await pause(authorThinks);
    const edits = await takeTurns(1, order, ({ document }) => repeat(30, 1200, document.edit));
    for (const [name, turns] of edits) gathered.get(name).push(turns.flatMap(times));
  }
  return gathered;
}

const times = turn => turn.map(({ time }) => time);
const byName = (gathered, reduce) => Object.fromEntries([...gathered].map(([name, turns]) => [name, reduce(turns)]));
const toMegabytes = bytes => (bytes === undefined ? undefined : bytes / megabyte);

function rowsOf(size, { editMedian, editSlow, editRested, hover, completion, burst, memory }) {
  const lines = `${size.toLocaleString('en')} lines`;
  const row = (name, what, figures, targets) => ({
    name: `${name} ${size}`,
    what: `${what}, ${lines}`,
    unit: 'ms',
    figures,
    ...targets,
  });
  const large = size >= 10_000;
  return [
    row('edit p50', 'edit → diagnostics, median', editMedian, {
      match: [{ most: 1, of: 'TypeScript' }],
      beyond: [{ most: large ? 1 : 2, of: 'JSON' }],
    }),
    row('edit p95', 'edit → diagnostics, 19 of 20 are faster', editSlow, {
      match: [...(size === 1000 ? [{ most: frame }] : []), { most: 1, of: 'TypeScript' }],
    }),
    ...(editRested === undefined
      ? []
      : [row('edit rested', 'edit after 15 s of rest → diagnostics, median', editRested)]),
    row('hover', 'hover', hover, {
      match: [{ most: 1 }, { most: 1, of: 'TypeScript' }],
      beyond: [{ most: 1, of: 'JSON' }],
    }),
    row('completion', 'completion right after an edit', completion, {
      match: [{ most: 1, of: 'TypeScript' }],
      beyond: [{ most: 1, of: 'JSON' }],
    }),
    row('burst', '41 keys at 60 ms: last key → diagnostics', burst, {
      match: [{ most: 2, of: 'one edit of ours' }],
      beyond: size === 1000 ? [{ most: frame }] : [],
      more: { 'one edit of ours': editMedian.ours },
    }),
    {
      ...row('memory', 'peak memory of the server', memory, {
        match: size >= 1000 ? [{ most: 1.2, of: 'JSON' }] : [],
        beyond: size === 1000 ? [{ most: 90 }] : large ? [{ most: 180 }] : [],
      }),
      unit: 'MB',
    },
  ];
}

function ratios(bySize) {
  const [small, large] = [bySize.get(1000), bySize.get(10_000)];
  const rows = [];
  const divide = (above, below) =>
    Object.fromEntries(Object.keys(below).map(name => [name, above[name] / below[name]]));
  if (small !== undefined) {
    // The quicker the median, the more the machine's own pauses weigh: whoever does nothing is far beyond the target.
    rows.push({
      name: 'edit spread',
      what: 'edit → diagnostics, p95 / p50, 1,000 lines',
      unit: '×',
      figures: divide(small.editSlow, small.editMedian),
      match: [{ most: 2 }],
      beyond: [{ most: 1.5 }],
    });
  }
  if (small !== undefined && large !== undefined) {
    rows.push({
      name: 'edit growth',
      what: 'growth of the median edit from 1,000 to 10,000 lines',
      unit: '×',
      figures: divide(large.editMedian, small.editMedian),
      match: [{ most: 8 }],
      beyond: [{ most: 3 }],
    });
  }
  return rows;
}
