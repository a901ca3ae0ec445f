// Names that mean nothing here, or not what is wanted: what they are instead, and what was probably meant.
import type { Place } from '../finding.ts';
import { kindByName } from '../kinds/index.ts';
import { nearest } from './nearest.ts';
import { type Report, replaceFix } from './report.ts';
import { type FileScope, find, mayBeUnread } from './scope.ts';

export interface UnknownName {
  readonly scope: FileScope;
  readonly path: readonly string[];
  readonly place: Place;
  /** Such as "There is no part `x` here", without its full stop. */
  readonly message: string;
  readonly candidates: readonly string[];
  /** Whether a used file could have brought it in: parts, catalogues, practices and lets, never components. */
  readonly canBeUsed: boolean;
}

/** One finding with the nearest name; silent where the name may stand in text that could not be read. */
export function reportUnknown(report: Report, unknown: UnknownName): void {
  if (mayBeUnread(unknown.scope, unknown.path, unknown.canBeUsed)) {
    report.holdBack();
    return;
  }
  const near = nearestPath(unknown.path.join('.'), unknown.candidates);
  report.add({
    code: 'unknown_name',
    place: unknown.place,
    message: near === undefined ? `${unknown.message}.` : `${unknown.message}: did you mean \`${near}\`?`,
    fixes: near === undefined ? [] : [replaceFix(unknown.place, near)],
  });
}

/** The nearest spelling; or the one candidate that ends alike, where only what stands in front is missing or wrong. */
export function nearestPath(written: string, candidates: readonly string[]): string | undefined {
  const near = nearest(written, candidates);
  if (near !== undefined) return near;
  const last = written.slice(written.lastIndexOf('.') + 1);
  const alike = candidates.filter(candidate => candidate.slice(candidate.lastIndexOf('.') + 1) === last);
  return alike.length === 1 ? alike[0] : undefined;
}

/** `a transformer`, `a let`, `a catalogue`: what a name stands for; undefined where it stands for nothing. */
export function describeName(scope: FileScope, path: readonly string[]): string | undefined {
  const is = <T>(pick: (scope: FileScope) => ReadonlyMap<string, T>) => find(scope, path, pick)?.rest.length === 0;
  const entity = path.length === 1 ? scope.entities.get(path[0]!) : undefined;
  if (entity !== undefined) return kindByName.has(entity.node.kind.text) ? `a ${entity.node.kind.text}` : undefined;
  if (is(s => s.lets)) return 'a let';
  if (is(s => s.parts)) return 'a part';
  if (is(s => s.catalogues)) return 'a catalogue';
  return is(s => s.practices) ? 'a practice' : undefined;
}

/** All names of one sort that a scope can use, those behind an alias with it. */
export function namesIn<T>(scope: FileScope, pick: (scope: FileScope) => ReadonlyMap<string, T>): readonly string[] {
  const used = scope.uses.flatMap(({ alias, scope: other }) =>
    [...pick(other).keys()].map(name => (alias === undefined ? name : `${alias}.${name}`)),
  );
  return [...pick(scope).keys(), ...used];
}

/** The rows of a catalogue by their paths. */
export function rowPaths(scope: FileScope, path: readonly string[]): readonly string[] {
  const catalogue = find(scope, path, s => s.catalogues);
  if (catalogue === undefined || catalogue.rest.length > 0) return [];
  return catalogue.found.node.rows.map(row => `${path.join('.')}.${row.name.text}`);
}
