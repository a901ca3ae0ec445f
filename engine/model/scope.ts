// What one file declares, and what the names in it can mean: its own declarations and those of the files it uses.
import type {
  CatalogueDeclaration,
  CatalogueRow,
  Declaration,
  EntityDeclaration,
  LetDeclaration,
  Name,
  SourceTree,
  Span,
  UseDeclaration,
} from '../../grammar/ast.ts';
import type { FileState, Snapshot, WorkspacePath } from '../analysis.ts';
import type { Place } from '../finding.ts';
import { isPackagePath, resolveUse } from './paths.ts';
import { type Report, reportProblems } from './report.ts';

/** A declaration with the place of its chunk. */
export interface Placed<T> {
  readonly node: T;
  readonly path: WorkspacePath;
  readonly start: number;
  /** Where its text could not be read with certainty; counted like the node's own places. */
  readonly doubts: readonly Span[];
  /** Whether its text has any mistake, those included that a fix surely mends. */
  readonly flawed: boolean;
}

/** What may be named in text that could not be read, or in a file that is not there: unknown, and silent. */
export interface Unread {
  /** A declaration without its name: any unknown name may be the one. */
  readonly nameless: boolean;
  /** Words of text that is no declaration. */
  readonly words: ReadonlySet<string>;
  /** Files that could not be used: undefined stands for one that brings its names in bare. */
  readonly uses: ReadonlySet<string | undefined>;
}

export interface FileScope {
  readonly path: WorkspacePath;
  readonly tree: SourceTree;
  readonly declarations: readonly Placed<Declaration>[];
  readonly lets: ReadonlyMap<string, Placed<LetDeclaration>>;
  readonly parts: ReadonlyMap<string, Placed<EntityDeclaration>>;
  readonly catalogues: ReadonlyMap<string, Placed<CatalogueDeclaration>>;
  readonly practices: ReadonlyMap<string, Placed<EntityDeclaration>>;
  /** Components, duties and the plant itself. */
  readonly entities: ReadonlyMap<string, Placed<EntityDeclaration>>;
  readonly uses: readonly Use[];
  readonly unread: Unread;
}

export interface Use {
  readonly declaration: Placed<UseDeclaration>;
  readonly alias: string | undefined;
  readonly scope: FileScope;
}

export type Template =
  | { readonly type: 'part'; readonly scope: FileScope; readonly part: Placed<EntityDeclaration> }
  | {
      readonly type: 'row';
      readonly scope: FileScope;
      readonly catalogue: Placed<CatalogueDeclaration>;
      readonly row: CatalogueRow;
    };

export function placeOf(placed: Placed<unknown>, span: Span): Place {
  return { path: placed.path, start: placed.start + span.start, end: placed.start + span.end };
}

const noDoubts: readonly Span[] = [];

/** Files that use files are followed this far: what needs more would exhaust the stack. */
const deepest = 100;

/** Builds scopes; one for each file, whoever uses it. */
export class Scopes {
  private readonly scopes = new Map<WorkspacePath, FileScope>();
  private readonly underWay: WorkspacePath[] = [];
  private readonly snapshot: Snapshot;
  private readonly report: Report;

  constructor(snapshot: Snapshot, report: Report) {
    this.snapshot = snapshot;
    this.report = report;
  }

  get files(): readonly FileScope[] {
    return [...this.scopes.values()];
  }

  of(path: WorkspacePath, tree: SourceTree): FileScope {
    const known = this.scopes.get(path);
    if (known !== undefined) return known;
    this.underWay.push(path);
    const scope = this.build(path, tree);
    this.underWay.pop();
    this.scopes.set(path, scope);
    return scope;
  }

  private build(path: WorkspacePath, tree: SourceTree): FileScope {
    const declarations: Placed<Declaration>[] = [];
    for (const placed of tree.chunks) {
      reportProblems(path, placed, this.report);
      const { declaration: node, problems } = placed.chunk;
      const doubts =
        problems.length === 0 ? noDoubts : problems.filter(({ fix }) => fix === undefined).map(({ span }) => span);
      if (node !== undefined)
        declarations.push({ node, path, start: placed.start, doubts, flawed: problems.length > 0 });
    }
    const uses: Use[] = [];
    const lost = new Set<string | undefined>();
    for (const placed of declarations) {
      if (placed.node.type !== 'use') continue;
      const use = this.use(path, { ...placed, node: placed.node });
      if (use === undefined) lost.add(placed.node.alias?.text);
      else uses.push(use);
    }
    const { mayUse, ...names } = unreadNames(tree);
    if (mayUse) lost.add(undefined);
    const unread = { ...names, uses: lost };
    return { path, tree, declarations, uses, unread, ...this.collect(declarations, uses) };
  }

  private use(path: WorkspacePath, declaration: Placed<UseDeclaration>): Use | undefined {
    const literal = declaration.node.path;
    if (literal === undefined || declaration.doubts.length > 0) return undefined;
    const place = placeOf(declaration, literal);
    if (literal.value.trim() === '') {
      this.report.add({ code: 'missing_file', place, message: 'This names no file, such as `parts/cells.plant`.' });
      return undefined;
    }
    if (isPackagePath(literal.value)) {
      this.report.add({
        code: 'not_evaluated',
        severity: 'note',
        place,
        message: 'Parts from installed packages are read but not evaluated yet; use a file by its relative path.',
      });
      return undefined;
    }
    const target = resolveUse(path, literal.value);
    const state: FileState =
      target === undefined ? { state: 'outside' } : (this.snapshot.files.get(target) ?? { state: 'missing' });
    if (target === undefined || state.state === 'outside') {
      this.report.add({
        code: 'outside_workspace',
        place,
        message: `\`${literal.value}\` leads out of the workspace; only files inside it can be used.`,
      });
      return undefined;
    }
    if (state.state === 'missing') {
      this.report.add({ code: 'missing_file', place, message: `There is no file \`${target}\` in the workspace.` });
      return undefined;
    }
    if (state.state === 'unreadable') {
      this.report.add({ code: 'missing_file', place, message: `\`${target}\` can't be read: ${state.reason}.` });
      return undefined;
    }
    if (this.underWay.includes(target)) {
      const circle = [...this.underWay.slice(this.underWay.indexOf(target)), target].join('` uses `');
      this.report.add({ code: 'cycle', place, message: `These files use each other in a circle: \`${circle}\`.` });
      return undefined;
    }
    if (this.underWay.length >= deepest) {
      const message = `This leads through more than ${deepest} files, each used by the one before.`;
      this.report.add({ code: 'wrong_value', place, message });
      return undefined;
    }
    const scope = this.of(target, state.tree);
    const plant = [...scope.entities.values()].find(entity => entity.node.kind.text === 'plant');
    if (plant !== undefined) {
      this.report.add({
        code: 'wrong_value',
        place,
        message: `\`${target}\` holds a plant; only files of parts, catalogues, practices and lets can be used.`,
        related: [{ place: placeOf(plant, plant.node.kind), message: 'The plant is here.' }],
      });
      return undefined;
    }
    const [component] = scope.entities.values();
    if (component !== undefined && !component.flawed) {
      this.report.add({
        code: 'wrong_value',
        place,
        message: `\`${target}\` holds components; only parts, catalogues, practices and lets can be used, and those are.`,
        related: [{ place: placeOf(component, component.node.kind), message: 'The first component is here.' }],
      });
    }
    return { declaration, alias: declaration.node.alias?.text, scope };
  }

  private collect(declarations: readonly Placed<Declaration>[], uses: readonly Use[]) {
    const lets = new Map<string, Placed<LetDeclaration>>();
    const parts = new Map<string, Placed<EntityDeclaration>>();
    const catalogues = new Map<string, Placed<CatalogueDeclaration>>();
    const practices = new Map<string, Placed<EntityDeclaration>>();
    const entities = new Map<string, Placed<EntityDeclaration>>();
    const seen = new Map<string, Place>();
    const take = (placed: Placed<Declaration>, name: Name | undefined): boolean => {
      if (name === undefined) return false;
      const place = placeOf(placed, name);
      const first = seen.get(name.text);
      if (first === undefined) {
        seen.set(name.text, place);
        return true;
      }
      this.report.add({
        code: 'duplicate',
        place,
        message: `The name \`${name.text}\` is taken already in this file.`,
        related: [{ place: first, message: 'It is declared here first.' }],
      });
      return false;
    };
    for (const placed of declarations) {
      const node = placed.node;
      if (node.type === 'let' && take(placed, node.name)) lets.set(node.name!.text, placed as Placed<typeof node>);
      if (node.type === 'catalogue' && take(placed, node.name))
        catalogues.set(node.name!.text, placed as Placed<typeof node>);
      if (node.type === 'case') take(placed, node.name);
      if (node.type !== 'entity' || !take(placed, node.name)) continue;
      const target = node.part ? parts : node.kind.text === 'practice' ? practices : entities;
      target.set(node.name!.text, placed as Placed<typeof node>);
    }
    this.reportCollisions(uses, seen);
    return { lets, parts, catalogues, practices, entities };
  }

  /** A name that two sources bring in is an error at the second `use`. */
  private reportCollisions(uses: readonly Use[], own: ReadonlyMap<string, Place>): void {
    if (uses.length === 0) return;
    const taken = new Map<string, string>();
    for (const [name] of own) taken.set(name, 'this file');
    for (const { declaration, alias, scope } of uses) {
      const names =
        alias === undefined
          ? [...scope.lets.keys(), ...scope.parts.keys(), ...scope.catalogues.keys(), ...scope.practices.keys()]
          : [alias];
      for (const name of names) {
        const where = taken.get(name);
        if (where === undefined) {
          taken.set(name, `\`${scope.path}\``);
          continue;
        }
        const again = where === `\`${scope.path}\``;
        this.report.add({
          code: 'duplicate',
          place: placeOf(declaration, declaration.node.path ?? declaration.node),
          message: again
            ? `${where} is used already.`
            : `The name \`${name}\` comes from ${where} already; give one of them a name of its own with \`as\`.`,
        });
      }
    }
  }
}

/** Words of text that is no declaration, whether a declaration lacks its name, and whether a `use` may be among it. */
function unreadNames(tree: SourceTree): Omit<Unread, 'uses'> & { readonly mayUse: boolean } {
  let nameless = false;
  let mayUse = false;
  const words = new Set<string>();
  for (const { chunk } of tree.chunks) {
    if (chunk.problems.length === 0) continue;
    const node = chunk.declaration;
    const isNameless = node !== undefined && hasNoName(node);
    const isRead = node !== undefined && node.type !== 'use' && !isNameless;
    const rest = isRead ? chunk.text.slice(0, node.start) + chunk.text.slice(node.end) : chunk.text;
    for (const [word] of rest.normalize('NFC').matchAll(/[\p{L}_][\p{L}\p{M}\p{Nd}_]*/gu)) words.add(word);
    nameless ||= isNameless || /\blet\s*=/.test(rest);
    mayUse ||= rest.includes('.plant"');
  }
  return { nameless, words, mayUse };
}

function hasNoName(node: Declaration): boolean {
  switch (node.type) {
    case 'entity':
    case 'let':
    case 'catalogue':
    case 'case':
      return node.name === undefined;
    default:
      return false;
  }
}

/** Whether an unknown name may stand where nothing could be read: then it is silent. */
export function mayBeUnread({ unread, uses }: FileScope, path: readonly string[], canBeUsed: boolean): boolean {
  const head = path[0] ?? '';
  if (unread.nameless || unread.words.has(head)) return true;
  if (!canBeUsed) return false;
  if (unread.uses.has(undefined) || unread.uses.has(head)) return true;
  return uses.some(({ alias, scope }) => {
    const key = alias === undefined ? head : alias === head ? path[1] : undefined;
    if (key === undefined) return false;
    // What a used file holds beside parts and the like is told at its `use` or in the file itself.
    return scope.unread.nameless || scope.unread.words.has(key) || scope.entities.has(key);
  });
}

/** Finds what a name means in the scope itself or, bare or behind an alias, in the files that it uses. */
export function find<T>(
  scope: FileScope,
  path: readonly string[],
  pick: (scope: FileScope) => ReadonlyMap<string, T>,
): { found: T; scope: FileScope; rest: readonly string[] } | undefined {
  const [head, ...rest] = path;
  if (head === undefined) return undefined;
  const own = pick(scope).get(head);
  if (own !== undefined) return { found: own, scope, rest };
  for (const use of scope.uses) {
    const key = use.alias === undefined ? head : use.alias === head ? rest[0] : undefined;
    const found = key === undefined ? undefined : pick(use.scope).get(key);
    if (found !== undefined) return { found, scope: use.scope, rest: use.alias === undefined ? rest : rest.slice(1) };
  }
  return undefined;
}

/** A part, or a row of a catalogue, by its path. */
export function findTemplate(scope: FileScope, path: readonly string[]): Template | undefined {
  const part = find(scope, path, s => s.parts);
  if (part !== undefined && part.rest.length === 0) return { type: 'part', scope: part.scope, part: part.found };
  const catalogue = find(scope, path, s => s.catalogues);
  if (catalogue === undefined || catalogue.rest.length !== 1) return undefined;
  const row = catalogue.found.node.rows.find(candidate => candidate.name.text === catalogue.rest[0]);
  return row === undefined ? undefined : { type: 'row', scope: catalogue.scope, catalogue: catalogue.found, row };
}

/** Paths of all parts and catalogue rows that `is` could name here. */
export function templatePaths(scope: FileScope): readonly string[] {
  const of = (s: FileScope, prefix: string): string[] => [
    ...[...s.parts.keys()].map(name => prefix + name),
    ...[...s.catalogues].flatMap(([name, catalogue]) =>
      catalogue.node.rows.map(row => `${prefix}${name}.${row.name.text}`),
    ),
  ];
  return [
    ...of(scope, ''),
    ...scope.uses.flatMap(use => of(use.scope, use.alias === undefined ? '' : `${use.alias}.`)),
  ];
}
