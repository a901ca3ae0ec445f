// Which of a component's dozens of results a hover over it lists: the main ones first, and those that are known.
import type { ValueRow, ValueTable } from '../../engine/analysis.ts';
import { mainResults } from './main-results.ts';

/** The rest is in the derivation view and in the terminal. */
const mostResults = 8;

export interface Foremost {
  readonly names: readonly string[];
  /** How many of the names there is room for. */
  readonly room: number;
}

export function foremostOf(tag: string, kind: string, values: ValueTable): Foremost {
  const main = new Set(mainResults(kind).map(result => `${tag}.${result}`));
  const own = values.namesOf(tag);
  const names = [...own.filter(name => main.has(name)), ...own.filter(name => !main.has(name))];
  // A line that says "and 1 more" takes the place of the one.
  return { names, room: names.length === mostResults + 1 ? names.length : mostResults };
}

/**
 * Looks at one after the other until there is no more room for results that are known: no more are computed. What is
 * `dear` counts as known without a look.
 */
export function* lookThrough(
  { names, room }: Foremost,
  values: ValueTable,
  dear: ReadonlySet<string> = none,
): Generator<ValueRow> {
  let known = 0;
  for (const name of names) {
    if (known === room) return;
    const row = dear.has(name.slice(name.indexOf('.') + 1)) ? undefined : values.worst(name);
    if (row === undefined || row.value !== undefined) known += 1;
    if (row !== undefined) yield row;
  }
}

const none: ReadonlySet<string> = new Set();
