// Hierarchy of values: from a fact or a result up to what is computed with it, and down to what it is computed from.
import type { Analysis, DerivationInput } from '../../engine/analysis.ts';
import type { Place } from '../../engine/finding.ts';
import type { SourceTree } from '../../grammar/ast.ts';
import type { FileContext } from './context.ts';
import { chunkAt } from './locate.ts';
import { declarationOf, namesIn } from './occurrences.ts';
import { namedAt } from './references.ts';

export interface ValueItem {
  /** `T1.loading`, `T1.rated_power`. */
  readonly name: string;
  readonly display: string;
  readonly is: 'fact' | 'result';
  /** Where it is stated; for a result the tag of its component. */
  readonly place: Place;
}

/** The value that is named there, or the fact in whose line that is. */
export function valueItemAt(context: FileContext, offset: number): ValueItem | undefined {
  const names = namesIn(context.closure.snapshot);
  for (const at of [offset, targetAround(context.tree, offset)]) {
    const named = at === undefined ? undefined : namedAt(names, context.path, at)?.named;
    if (named?.owner !== undefined && (named.sort === 'property' || named.sort === 'result'))
      return itemOf(context, `${named.owner.name}.${named.name}`);
  }
  return undefined;
}

/** Where the property around an offset says what it is. */
function targetAround(tree: SourceTree, offset: number): number | undefined {
  const placed = chunkAt(tree, offset);
  const declaration = placed?.chunk.declaration;
  if (placed === undefined || (declaration?.type !== 'entity' && declaration?.type !== 'case')) return undefined;
  const at = offset - placed.start;
  const around = declaration.properties.find(({ start, end }) => start <= at && at <= end);
  const target = around?.target.at(-1);
  return target && placed.start + target.start;
}

/** Undefined for a name that the plant does not have. */
export function itemOf(context: FileContext, name: string): ValueItem | undefined {
  const row = context.analysis.values.worst(name);
  const place = placeOf(context, name);
  if (place === undefined) return undefined;
  return { name, display: row?.display ?? '', is: row === undefined ? 'fact' : 'result', place };
}

/** What it is computed from, one level. */
export function inputsOf(context: FileContext, name: string): readonly ValueItem[] {
  const row = context.analysis.values.worst(name);
  return distinct((row?.inputs ?? []).flatMap(input => toItem(context, input)));
}

/** What is computed with it, one level. */
export function usersOf(context: FileContext, name: string): readonly ValueItem[] {
  const { values } = context.analysis;
  const users = values.names.filter(user => user !== name && inputNames(values, user).has(name));
  return users.flatMap(user => itemOf(context, user) ?? []);
}

function inputNames(values: Analysis['values'], name: string): ReadonlySet<string> {
  return new Set((values.worst(name)?.inputs ?? []).map(nameOf));
}

function toItem(context: FileContext, input: DerivationInput): readonly ValueItem[] {
  const name = nameOf(input);
  const place = (input.kind === 'fact' ? input.place : undefined) ?? placeOf(context, name);
  const known = place !== undefined && context.closure.sources.has(place.path);
  return known ? [{ name, display: input.display, is: input.kind === 'value' ? 'result' : 'fact', place }] : [];
}

/** `MAIN.voltage (lowest)` is a corner of `MAIN.voltage`. */
function nameOf({ key, name }: DerivationInput): string {
  return key?.name ?? name.replace(/ \(.*\)$/, '');
}

function placeOf({ path, closure }: FileContext, name: string): Place | undefined {
  const names = namesIn(closure.snapshot);
  const [tag = '', property = ''] = name.split('.');
  const owner = names
    .occurrencesIn(path)
    .find(({ named, role }) => role === 'declaration' && named.name === tag)?.named;
  if (owner === undefined) return undefined;
  const own = names.occurrencesIn(path).find(({ named }) => named.owner?.key === owner.key && named.name === property);
  return declarationOf(names, own?.named ?? owner);
}

function distinct(items: readonly ValueItem[]): readonly ValueItem[] {
  return [...new Map(items.map(item => [item.name, item])).values()];
}
