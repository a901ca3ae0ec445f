// Runs an editor feature on a text with a mark where the cursor stands, without a server around it.
import type { Snapshot } from '../../engine/analysis.ts';
import { analyze } from '../../engine/analyze.ts';
import type { FileEdit } from '../../engine/finding.ts';
import { parse } from '../../grammar/parse.ts';
import type { FileContext } from '../../server/features/context.ts';
import { type Names, namesOf } from '../../server/features/occurrences.ts';
import { relativePaths } from '../../server/features/relative-paths.ts';
import { applyEdits } from '../../server/features/rename.ts';
import type { Host } from '../../server/host.ts';
import { createSources } from '../../server/sources.ts';
import { cursorMark, readMarked } from './marked.ts';

export interface At {
  readonly context: FileContext & { readonly usable: readonly string[] };
  readonly offset: number;
  readonly text: string;
  /** All files as one, also those that the first does not use. */
  readonly names: Names;
  readonly files: ReadonlyMap<string, string>;
}

/** Further files follow behind lines such as `--- parts/string.plant`; the mark stands in the first file. */
export async function at(marked: string): Promise<At> {
  const { files: others, first } = splitFiles(marked);
  const { text, offset } = readMarked(first);
  const files = new Map([['plant.plant', text], ...others]);
  const sources = createSources(hostOf(files));
  const closure = await sources.loadClosure('plant.plant');
  const state = closure.snapshot.files.get('plant.plant');
  if (state?.state !== 'text') throw new Error('The first file has no text.');
  const analysis = analyze('plant.plant', closure.snapshot, { today: '2026-11-25' });
  const link = (name: string) => `command:show?${name}`;
  const usable = relativePaths('plant.plant', [...files.keys()]);
  const names = namesOf(snapshotOf(files));
  return {
    names,
    files,
    context: { path: 'plant.plant', tree: state.tree, analysis, closure, link, usable },
    offset,
    text,
  };
}

export function snapshotOf(files: ReadonlyMap<string, string>): Snapshot {
  return { files: new Map([...files].map(([path, text]) => [path, { state: 'text', tree: parse(text) }])) };
}

/** The files with edits made. */
export function withEdits(files: ReadonlyMap<string, string>, edits: readonly FileEdit[]): Map<string, string> {
  return new Map(
    [...files].map(([path, text]) => [
      path,
      applyEdits(
        text,
        edits.filter(({ place }) => place.path === path),
      ),
    ]),
  );
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
