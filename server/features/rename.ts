// Rename: gives a thing another name in all files, and refuses where any name would come to mean something else.
import type { FileState, WorkspacePath } from '../../engine/analysis.ts';
import type { FileEdit, Place } from '../../engine/finding.ts';
import { parse } from '../../grammar/parse.ts';
import { isKeyword } from '../../grammar/words.ts';
import { type Named, type Names, namesOf, type Occurrence, renamed, type Sort } from './occurrences.ts';
import { namedAt, occurrencesOf } from './references.ts';

export type Renaming =
  | { readonly ok: true; readonly edits: readonly FileEdit[] }
  /** In words for the author. */
  | { readonly ok: false; readonly why: string };

export type Renamable =
  | { readonly ok: true; readonly place: Place; readonly name: string }
  | { readonly ok: false; readonly why: string };

/** What would be renamed, before the author has written the new name. */
export function prepareRename(names: Names, path: WorkspacePath, offset: number): Renamable {
  const at = namedAt(names, path, offset);
  if (at === undefined) return { ok: false, why: 'Only a name that a plant or part gives can be renamed.' };
  const { sort, name, path: file } = at.named;
  if (sort === 'property' || sort === 'result')
    return { ok: false, why: `\`${name}\` is a word of the language and can't be renamed.` };
  if (sort === 'file') return { ok: false, why: 'A file is renamed in the file explorer.' };
  if (file.split('/').includes('node_modules'))
    return { ok: false, why: `\`${name}\` comes from an installed package, which is not to be changed here.` };
  return { ok: true, place: at.place, name };
}

export function rename(names: Names, path: WorkspacePath, offset: number, wanted: string): Renaming {
  const prepared = prepareRename(names, path, offset);
  const target = namedAt(names, path, offset)?.named;
  if (!prepared.ok || target === undefined) return { ok: false, why: prepared.ok ? '' : prepared.why };
  const name = wanted.trim().normalize('NFC');
  const unfit = unfitName(name) ?? taken(names, target, name);
  if (unfit !== undefined) return { ok: false, why: unfit };
  const edits = occurrencesOf(names, target, path).map(({ place }) => ({ place, text: name }));
  const changed = changedMeaning(names, target, name, edits);
  return changed === undefined ? { ok: true, edits } : { ok: false, why: changed };
}

function unfitName(name: string): string | undefined {
  if (isKeyword(name)) return `\`${name}\` is a word of the language and can't be a name.`;
  if (/^[\p{L}_][\p{L}\p{M}\p{Nd}_]*$/u.test(name)) return undefined;
  return 'A name is made of letters, digits and _, and does not begin with a digit.';
}

/** The new name in a file that declares or uses the thing: with it, one of the two would be lost. */
function taken(names: Names, target: Named, name: string): string | undefined {
  if (name === target.name) return undefined;
  for (const path of names.snapshot.files.keys()) {
    const occurrences = names.occurrencesIn(path);
    const other = occurrences.find(({ named, role }) => {
      return role === 'declaration' && named.name === name && named.owner?.key === target.owner?.key;
    });
    if (other === undefined || (path !== target.path && !uses(occurrences, target))) continue;
    return `The name \`${name}\` is taken already: ${inWords(other.named.sort)} in \`${path}\`.`;
  }
  return undefined;
}

function uses(occurrences: readonly Occurrence[], target: Named): boolean {
  return occurrences.some(({ named }) => named.key === target.key || named.key === JSON.stringify([target.path]));
}

function inWords(sort: Sort): string {
  return sort === 'alias' ? 'an alias' : `a ${sort}`;
}

/** Reads the files as they would be: each name has to stand for what it stands for now, and nothing may be worse. */
function changedMeaning(names: Names, target: Named, name: string, edits: readonly FileEdit[]): string | undefined {
  const after = namesOf({ files: edited(names, edits) });
  for (const path of names.snapshot.files.keys()) {
    const [old, now] = [names.occurrencesIn(path), after.occurrencesIn(path)];
    const odd = old.findIndex((one, index) => now[index]?.named.key !== renamed(one.named, target, name).key);
    if (odd === -1 && old.length === now.length) continue;
    return `With the name \`${name}\`, \`${(old[odd] ?? now[old.length])?.named.name}\` in \`${path}\` would come to mean something else.`;
  }
  if (after.mistakes() > names.mistakes()) return `The name \`${name}\` would collide with another one.`;
  return undefined;
}

function edited(names: Names, edits: readonly FileEdit[]): ReadonlyMap<WorkspacePath, FileState> {
  const byFile = new Map<WorkspacePath, FileEdit[]>();
  for (const edit of edits) byFile.set(edit.place.path, [...(byFile.get(edit.place.path) ?? []), edit]);
  return new Map(
    [...names.snapshot.files].map(([path, state]): [WorkspacePath, FileState] => {
      const own = byFile.get(path);
      if (state.state !== 'text' || own === undefined) return [path, state];
      return [path, { state: 'text', tree: parse(applyEdits(state.tree.text, own), state.tree) }];
    }),
  );
}

/** The text with edits that don't overlap. */
export function applyEdits(text: string, edits: readonly FileEdit[]): string {
  let result = text;
  for (const { place, text: inserted } of edits.toSorted((a, b) => b.place.start - a.place.start))
    result = result.slice(0, place.start) + inserted + result.slice(place.end);
  return result;
}
