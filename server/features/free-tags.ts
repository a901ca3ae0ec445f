// Whole declarations from the suggestions: each proposes a name that its file has not given yet.
import type { SourceTree } from '../../grammar/ast.ts';

const firstPlaceholder = /\$\{1:([^}]*)\}/;

/** Every name that a file gives, whatever to. */
export function namesGiven({ chunks }: SourceTree): ReadonlySet<string> {
  return new Set(
    chunks.flatMap(({ chunk: { declaration } }) => {
      return declaration !== undefined && 'name' in declaration && declaration.name ? [declaration.name.text] : [];
    }),
  );
}

/** The tag of a snippet, which is its first placeholder, counted on where it is taken: `B1`, `B2`; `MAIN`, `MAIN2`. */
export function freeTag(snippet: string, taken: ReadonlySet<string>): string {
  const tag = firstPlaceholder.exec(snippet)?.[1] ?? '';
  const stem = tag.replace(/\d+$/, '');
  let number = Number(tag.slice(stem.length)) || 1;
  let free = tag;
  while (taken.has(free)) {
    number += 1;
    free = `${stem}${number}`;
  }
  return free;
}

export function withFreeTag(snippet: string, taken: ReadonlySet<string>): string {
  return snippet.replace(firstPlaceholder, () => `\${1:${freeTag(snippet, taken)}}`);
}
