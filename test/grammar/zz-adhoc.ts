import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { parse } from '../../grammar/parse.ts';
import { formatText } from '../../grammar/print.ts';
import { mutants } from './mutants.ts';
import { commentsOf, meaningOf, samples } from './samples.ts';

const seed = Number(process.argv[2] ?? 1),
  n = Number(process.argv[3] ?? 5000);
const files = fc.oneof(
  mutants(Object.values(samples), 3),
  mutants(Object.values(samples), 25),
  mutants(Object.values(samples), 60),
);
const r = fc.check(
  fc.property(files, text => {
    const tree = parse(text);
    if (tree.chunks.map(c => c.chunk.text).join('') !== text) throw new Error('tiles');
    for (const { chunk } of tree.chunks)
      for (const p of chunk.problems)
        if (p.span.start < 0 || p.span.end > chunk.text.length || p.span.end < p.span.start) throw new Error('span');
    const once = formatText(text);
    if (formatText(once) !== once) throw new Error('idem');
    if (!isDeepStrictEqual(meaningOf(once), meaningOf(text))) throw new Error('meaning');
    if (!isDeepStrictEqual(commentsOf(once), commentsOf(text))) throw new Error('comments');
  }),
  { numRuns: n, seed },
);

import { writeFileSync } from 'node:fs';

if (r.failed) {
  const x = String(r.counterexample?.[0]);
  const a = formatText(x),
    b = formatText(a);
  writeFileSync('/tmp/ce.txt', x);
  const A = a.split('\n'),
    B = b.split('\n'),
    X = x.split('\n');
  const i = A.findIndex((l, k) => l !== B[k]);
  console.log(
    (r.errorInstance as Error).message,
    'at',
    i,
    JSON.stringify(A.slice(Math.max(0, i - 3), i + 4)),
    JSON.stringify(B.slice(Math.max(0, i - 3), i + 4)),
  );
  const s = samples;
  const orig = Object.values(s).flatMap(v => v.split('\n'));
  console.log('odd lines', JSON.stringify(X.filter(l => !orig.includes(l))));
} else console.log('ok');
