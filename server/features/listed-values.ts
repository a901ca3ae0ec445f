// Every value of the plant, to choose one from: those of the component at the cursor first.
import type { FileContext } from './context.ts';
import { foremostOf } from './foremost-results.ts';
import { namesIn } from './occurrences.ts';
import { namedAt } from './references.ts';
import { entitiesOf, entityByTag } from './symbols.ts';

export interface ListedValue {
  readonly name: string;
  readonly display: string;
  readonly meaning: string;
}

/** `offset` is the cursor's; undefined where there is none. */
export function listedValues(context: FileContext, offset?: number): readonly ListedValue[] {
  const { values } = context.analysis;
  const first = offset === undefined ? [] : [...judgedAt(context, offset), ...ofComponentAt(context, offset)];
  const all = new Set(values.names);
  return [...new Set([...first.filter(name => all.has(name)), ...all])].map(name => {
    const row = values.worst(name);
    return { name, display: row?.display ?? '', meaning: row?.meaning ?? '' };
  });
}

/** What the findings at the cursor are about. */
function judgedAt({ path, analysis: { findings } }: FileContext, offset: number): readonly string[] {
  return findings
    .filter(({ place }) => place.path === path && place.start <= offset && offset <= place.end)
    .flatMap(({ value }) => value?.name ?? []);
}

/** Those of the component that the cursor names, as in a chain, or in whose block it stands: main ones first. */
function ofComponentAt(context: FileContext, offset: number): readonly string[] {
  const { path, tree, closure, analysis } = context;
  const around = entitiesOf(path, tree).find(({ start, declaration }) => {
    return start + declaration.start <= offset && offset <= start + declaration.end;
  });
  const named = namedAt(namesIn(closure.snapshot), path, offset)?.named;
  const tag = around?.declaration.name?.text ?? named?.owner?.name ?? named?.name;
  if (tag === undefined) return [];
  const kind = entityByTag(path, tree, tag)?.declaration.kind.text ?? '';
  const { names } = foremostOf(tag, kind, analysis.values);
  const known = (name: string): boolean => analysis.values.worst(name)?.value !== undefined;
  return [...names.filter(known), ...names.filter(name => !known(name))];
}
