import fc from 'fast-check';
import { isDeepStrictEqual } from 'node:util';
import { formatText } from '../../grammar/print.ts';
import { parse } from '../../grammar/parse.ts';
import { mutants } from './mutants.ts';
import { commentsOf, meaningOf, samples } from './samples.ts';
const seed = Number(process.argv[2] ?? 1), n = Number(process.argv[3] ?? 5000);
const files = fc.oneof(mutants(Object.values(samples), 3), mutants(Object.values(samples), 25), mutants(Object.values(samples), 60));
const r = fc.check(fc.property(files, text => {
  const tree=parse(text);
  if (tree.chunks.map(c=>c.chunk.text).join('')!==text) throw new Error('tiles');
  for (const {chunk} of tree.chunks) for (const p of chunk.problems) if (p.span.start<0||p.span.end>chunk.text.length||p.span.end<p.span.start) throw new Error('span');
  const once = formatText(text);
  if (formatText(once)!==once) throw new Error('idem');
  if (!isDeepStrictEqual(meaningOf(once), meaningOf(text))) throw new Error('meaning');
  if (!isDeepStrictEqual(commentsOf(once), commentsOf(text))) throw new Error('comments');
}), { numRuns: n, seed });
console.log(r.failed ? String((r.errorInstance as Error)?.stack)+'\n'+r.counterexample?.[0] : 'ok');
