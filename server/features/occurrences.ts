// What each name in a file stands for, found by the engine's own scopes: for references, rename and colours.
import type { Snapshot, WorkspacePath } from '../../engine/analysis.ts';
import type { Place } from '../../engine/finding.ts';
import { kindByName, propertyOf } from '../../engine/kinds/index.ts';
import type { Kind } from '../../engine/kinds/kind.ts';
import { resolveUse } from '../../engine/model/paths.ts';
import { Report } from '../../engine/model/report.ts';
import { type FileScope, type Placed, placeOf, Scopes } from '../../engine/model/scope.ts';
import { resultOf } from '../../engine/results/index.ts';
import type { Declaration, EntityDeclaration, Name, SourceTree } from '../../grammar/ast.ts';
import { type NameSite, nameSites, type Rule } from './name-sites.ts';

export type Sort =
  | 'plant'
  | 'component'
  | 'duty'
  | 'practice'
  | 'let'
  | 'part'
  | 'catalogue'
  | 'row'
  | 'case'
  | 'alias'
  /** Names of the language, not of the author: they can be looked for, and not renamed. */
  | 'property'
  | 'result'
  | 'file';

/** Something that has a name, wherever it is spoken of. */
export interface Named {
  /** Equal for the same thing, whichever file speaks of it. */
  readonly key: string;
  readonly sort: Sort;
  readonly name: string;
  /** The file that declares it. */
  readonly path: WorkspacePath;
  /** Of a row its catalogue, of a property or result its component or part. */
  readonly owner: Named | undefined;
}

export interface Occurrence {
  readonly place: Place;
  readonly named: Named;
  /** A case restates what is declared elsewhere. */
  readonly role: 'declaration' | 'restatement' | 'reference';
}

/** Files as one whole, with the scopes of all of them. */
export interface Names {
  readonly snapshot: Snapshot;
  scopeOf(path: WorkspacePath): FileScope | undefined;
  /** In the order of the text. */
  occurrencesIn(path: WorkspacePath): readonly Occurrence[];
  /** How many mistakes in names the scopes themselves have met: collisions, missing files. */
  readonly mistakes: () => number;
}

export function namesOf(snapshot: Snapshot): Names {
  const report = new Report();
  const scopes = new Scopes(snapshot, report);
  const known = new Map<WorkspacePath, readonly Occurrence[]>();
  const scopeOf = (path: WorkspacePath): FileScope | undefined => {
    const state = snapshot.files.get(path);
    return state?.state === 'text' ? scopes.of(path, state.tree) : undefined;
  };
  return {
    snapshot,
    scopeOf,
    occurrencesIn: path => {
      const found = known.get(path);
      if (found !== undefined) return found;
      const scope = scopeOf(path);
      const occurrences = scope === undefined ? [] : knownOccurrences(scope);
      known.set(path, occurrences);
      return occurrences;
    },
    mistakes: () => report.findings.length,
  };
}

interface Remembered {
  readonly path: WorkspacePath;
  /** Of the files that it uses, directly or through others. */
  readonly used: readonly SourceTree[];
  readonly occurrences: readonly Occurrence[];
}

const byTree = new WeakMap<SourceTree, Remembered>();

/** What names stand for is told by the file and by those that it uses: found once as long as none of them changes. */
function knownOccurrences(scope: FileScope): readonly Occurrence[] {
  const used = usedBy(scope);
  const before = byTree.get(scope.tree);
  if (before?.path === scope.path && before.used.length === used.length) {
    if (before.used.every((tree, index) => tree === used[index])) return before.occurrences;
  }
  const occurrences = occurrencesOf(scope);
  byTree.set(scope.tree, { path: scope.path, used, occurrences });
  return occurrences;
}

function usedBy(scope: FileScope): readonly SourceTree[] {
  const found = new Set([scope]);
  for (const one of found) for (const use of one.uses) found.add(use.scope);
  return [...found].map(({ tree }) => tree);
}

const bySnapshot = new WeakMap<Snapshot, Names>();

/** As `namesOf`, once for each snapshot. */
export function namesIn(snapshot: Snapshot): Names {
  const names = bySnapshot.get(snapshot) ?? namesOf(snapshot);
  bySnapshot.set(snapshot, names);
  return names;
}

/** The name at an offset: its end counts too, and of two that touch the later one. */
export function occurrenceAt(occurrences: readonly Occurrence[], offset: number): Occurrence | undefined {
  return occurrences.findLast(({ place }) => place.start <= offset && offset <= place.end);
}

/** Where something is declared: first the name itself, for a property that only a part states that of the part. */
export function declarationOf(names: Names, named: Named): Place | undefined {
  const find = (wanted: Named) => {
    return names.occurrencesIn(wanted.path).find(({ named: { key }, role }) => {
      return key === wanted.key && role === 'declaration';
    })?.place;
  };
  return find(named) ?? inheritedFrom(names, named) ?? (named.owner && find(named.owner));
}

function inheritedFrom(names: Names, { sort, name, owner }: Named): Place | undefined {
  if (sort !== 'property' || owner === undefined) return undefined;
  const scope = names.scopeOf(owner.path);
  const placed = scope?.entities.get(owner.name) ?? scope?.parts.get(owner.name);
  const base = placed?.node.base;
  if (scope === undefined || base === undefined || base.pick) return undefined;
  const template = resolve(scope, base.path, 'template').at(-1)?.named;
  if (template?.sort === 'part') return declarationOf(names, member(template, 'property', name));
  const row = names
    .scopeOf(template?.path ?? '')
    ?.catalogues.get(template?.owner?.name ?? '')
    ?.node.rows.find(one => one.name.text === template?.name);
  return row && template && placeInRow(names, template, name);
}

function placeInRow(names: Names, row: Named, name: string): Place | undefined {
  return names
    .occurrencesIn(row.path)
    .find(({ named }) => named.sort === 'property' && named.owner?.key === row.key && named.name === name)?.place;
}

function occurrencesOf(scope: FileScope): readonly Occurrence[] {
  return scope.declarations
    .flatMap(placed => {
      const sites = nameSites(placed.node, tag => ownerOf(scope, tag)?.node.kind.text);
      const references = sites.flatMap(site => resolveSite(scope, placed, site));
      return [...declared(scope, placed), ...references];
    })
    .toSorted((a, b) => a.place.start - b.place.start);
}

function declared(scope: FileScope, placed: Placed<Declaration>): readonly Occurrence[] {
  const { node } = placed;
  const at = (name: Name, named: Named): Occurrence => ({ place: placeOf(placed, name), named, role: 'declaration' });
  switch (node.type) {
    case 'entity': {
      const kind = kindByName.get(node.kind.text);
      if (node.name === undefined) return [];
      const owner = entityNamed(scope.path, node);
      return [at(node.name, owner), ...statedIn(node.properties, owner, kind, at)];
    }
    case 'catalogue': {
      if (node.name === undefined) return [];
      const catalogue = named(scope.path, 'catalogue', node.name.text);
      const kind = kindByName.get(node.kind?.text ?? '');
      const rows = node.rows.flatMap(row => {
        const owner = member(catalogue, 'row', row.name.text);
        return [at(row.name, owner), ...statedIn(row.properties, owner, kind, at)];
      });
      return [at(node.name, catalogue), ...rows];
    }
    case 'let':
    case 'case':
      return node.name === undefined ? [] : [at(node.name, named(scope.path, node.type, node.name.text))];
    case 'use':
      return usedIn(scope, placed, node);
    default:
      return [];
  }
}

function usedIn(
  scope: FileScope,
  placed: Placed<Declaration>,
  { path, alias }: Declaration & { type: 'use' },
): readonly Occurrence[] {
  const target = path === undefined ? undefined : resolveUse(scope.path, path.value);
  const file: readonly Occurrence[] =
    path === undefined || target === undefined
      ? []
      : [{ place: placeOf(placed, path), named: named(target, 'file', target), role: 'reference' }];
  if (alias === undefined) return file;
  const own = named(scope.path, 'alias', alias.text);
  return [...file, { place: placeOf(placed, alias), named: own, role: 'declaration' }];
}

function statedIn(
  properties: EntityDeclaration['properties'],
  owner: Named,
  kind: Kind | undefined,
  at: (name: Name, named: Named) => Occurrence,
): readonly Occurrence[] {
  return properties.flatMap(({ target }) => {
    const [name] = target;
    if (name === undefined || target.length > 1 || kind === undefined || !propertyOf(kind, name.text)) return [];
    return [at(name, member(owner, 'property', name.text))];
  });
}

function resolveSite(scope: FileScope, placed: Placed<Declaration>, site: NameSite): readonly Occurrence[] {
  return resolve(scope, site.names, site.rule).map(({ name, named }) => {
    const restated = site.restates === true && named.sort === 'property';
    return { place: placeOf(placed, name), named, role: restated ? 'restatement' : 'reference' };
  });
}

interface Resolved {
  readonly name: Name;
  readonly named: Named;
}

/** What the names of a path stand for, as far as they stand for something. */
function resolve(scope: FileScope, path: readonly Name[], rule: Rule): readonly Resolved[] {
  const [head, second] = path;
  if (head === undefined) return [];
  if (rule === 'case') {
    const is = scope.declarations.some(({ node }) => node.type === 'case' && node.name?.text === head.text);
    return is ? [{ name: head, named: named(scope.path, 'case', head.text) }] : [];
  }
  if (rule === 'tag' || rule === 'value') {
    const shared = rule === 'value' ? resolveShared(scope, path, ['lets']) : [];
    if (shared.length > 0) return shared;
    const owner = ownerOf(scope, head.text);
    if (owner === undefined) return [];
    const tag: Resolved = { name: head, named: entityNamed(owner.path, owner.node) };
    return rule === 'value' && second !== undefined ? [tag, ...memberOf(tag.named, owner.node, second)] : [tag];
  }
  return resolveShared(scope, path, rule === 'practice' ? ['practices'] : ['parts', 'catalogues']);
}

type SharedMap = 'lets' | 'parts' | 'catalogues' | 'practices';

/** A name of the file itself, of a file that it uses, or behind an alias. */
function resolveShared(scope: FileScope, path: readonly Name[], maps: readonly SharedMap[]): readonly Resolved[] {
  const [head, ...rest] = path;
  if (head === undefined) return [];
  const own = shared(scope, head.text, maps);
  if (own !== undefined) return withRow(scope, own, head, rest);
  for (const { alias, scope: used } of scope.uses) {
    if (alias === undefined) {
      const found = shared(used, head.text, maps);
      if (found !== undefined) return withRow(used, found, head, rest);
    } else if (alias === head.text) {
      const [behind, ...further] = rest;
      const found = behind && shared(used, behind.text, maps);
      const prefix: Resolved = { name: head, named: named(scope.path, 'alias', alias) };
      return behind && found ? [prefix, ...withRow(used, found, behind, further)] : [prefix];
    }
  }
  return [];
}

function shared(scope: FileScope, name: string, maps: readonly SharedMap[]): Named | undefined {
  const sorts = { lets: 'let', parts: 'part', catalogues: 'catalogue', practices: 'practice' } as const;
  const map = maps.find(one => scope[one].has(name));
  return map && named(scope.path, sorts[map], name);
}

function withRow(scope: FileScope, found: Named, name: Name, rest: readonly Name[]): readonly Resolved[] {
  const [row] = rest;
  const head: Resolved = { name, named: found };
  if (found.sort !== 'catalogue' || row === undefined) return [head];
  const rows = scope.catalogues.get(found.name)?.node.rows ?? [];
  if (!rows.some(one => one.name.text === row.text)) return [head];
  return [head, { name: row, named: member(found, 'row', row.text) }];
}

/** A component, a duty or the plant; else the practice that a case or a requirement may speak of. */
function ownerOf(scope: FileScope, tag: string): Placed<EntityDeclaration> | undefined {
  return (
    scope.entities.get(tag) ??
    scope.practices.get(tag) ??
    scope.uses
      .find(({ alias, scope: used }) => alias === undefined && used.practices.has(tag))
      ?.scope.practices.get(tag)
  );
}

function memberOf(owner: Named, node: EntityDeclaration, name: Name): readonly Resolved[] {
  const kind = kindByName.get(node.kind.text);
  if (kind === undefined) return [];
  if (propertyOf(kind, name.text)) return [{ name, named: member(owner, 'property', name.text) }];
  return resultOf(kind.name, name.text) ? [{ name, named: member(owner, 'result', name.text) }] : [];
}

function entityNamed(path: WorkspacePath, { part, kind, name }: EntityDeclaration): Named {
  const own = ['plant', 'duty', 'practice'] as const;
  const sort: Sort = part ? 'part' : (own.find(word => word === kind.text) ?? 'component');
  return named(path, sort, name?.text ?? '');
}

/** All names of a file share one space: the sort is no part of the key. */
function named(path: WorkspacePath, sort: Sort, name: string): Named {
  const key = sort === 'file' ? JSON.stringify([path]) : JSON.stringify([path, name]);
  return { key, sort, name, path, owner: undefined };
}

/** A row of a catalogue, a property or a result. */
export function member(owner: Named, sort: 'row' | 'property' | 'result', name: string): Named {
  return { key: `${owner.key}.${JSON.stringify(name)}`, sort, name, path: owner.path, owner };
}

/** The same thing, or one that belongs to it, under a new name. */
export function renamed(one: Named, target: Named, name: string): Named {
  if (one.key === target.key) {
    if (target.owner === undefined) return named(one.path, one.sort, name);
    return { ...one, name, key: `${target.owner.key}.${JSON.stringify(name)}` };
  }
  if (one.owner === undefined) return one;
  const owner = renamed(one.owner, target, name);
  return owner === one.owner ? one : { ...one, owner, key: `${owner.key}.${JSON.stringify(one.name)}` };
}
