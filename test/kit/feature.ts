// Runs an editor feature on a text with a mark where the cursor stands, without a server around it.
import { analyze } from '../../engine/analyze.ts';
import type { CompletionContext } from '../../server/features/completion.ts';
import { relativePaths } from '../../server/features/relative-paths.ts';
import type { Host } from '../../server/host.ts';
import { createSources } from '../../server/sources.ts';
import { cursorMark, readMarked } from './marked.ts';

export interface At {
  readonly context: CompletionContext;
  readonly offset: number;
  readonly text: string;
}

/** Further files follow behind lines such as `--- parts/string.plant`; the mark stands in the first file. */
export async function at(marked: string): Promise<At> {
  const { files, first } = splitFiles(marked);
  const { text, offset } = readMarked(first);
  files.set('plant.plant', text);
  const sources = createSources(hostOf(files));
  const closure = await sources.loadClosure('plant.plant');
  const state = closure.snapshot.files.get('plant.plant');
  if (state?.state !== 'text') throw new Error('The first file has no text.');
  const analysis = analyze('plant.plant', closure.snapshot, { today: '2026-11-25' });
  const link = (name: string) => `command:show?${name}`;
  const usable = relativePaths('plant.plant', [...files.keys()]);
  return { context: { path: 'plant.plant', tree: state.tree, analysis, closure, link, usable }, offset, text };
}

/** A folder that exists in memory only. */
export function hostOf(files: ReadonlyMap<string, string>): Host {
  return {
    read: async path => {
      const text = files.get(path);
      return text === undefined ? { state: 'missing' } : { state: 'text', text };
    },
    listPlants: async () => [...files.keys()].filter(path => path.endsWith('.plant')).sort(),
  };
}

function splitFiles(marked: string) {
  const [first = '', ...rest] = marked.split(/^--- (.+)\n/m);
  const files = new Map<string, string>();
  for (let index = 0; index + 1 < rest.length; index += 2) files.set(rest[index]!, rest[index + 1]!);
  return { first: first.includes(cursorMark) ? first : `${first}${cursorMark}`, files };
}
