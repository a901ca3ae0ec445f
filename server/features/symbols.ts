// The names that a file can use: its own components and duties, and the parts that it brings in.
import type { WorkspacePath } from '../../engine/analysis.ts';
import { usedPaths } from '../../engine/model/paths.ts';
import type {
  CatalogueDeclaration,
  Declaration,
  EntityDeclaration,
  LetDeclaration,
  SourceTree,
} from '../../grammar/ast.ts';
import type { Closure } from '../sources.ts';

/** A declaration and where its chunk begins in its file. */
export interface Declared<D extends Declaration = Declaration> {
  readonly path: WorkspacePath;
  readonly start: number;
  readonly declaration: D;
}

export function declarationsOf(path: WorkspacePath, tree: SourceTree): readonly Declared[] {
  return tree.chunks.flatMap(({ start, chunk: { declaration } }) =>
    declaration === undefined ? [] : [{ path, start, declaration }],
  );
}

/** Components, duties, plant and practices of the file itself; parts are no components. */
export function entitiesOf(path: WorkspacePath, tree: SourceTree): readonly Declared<EntityDeclaration>[] {
  return declarationsOf(path, tree).filter(
    (declared): declared is Declared<EntityDeclaration> =>
      declared.declaration.type === 'entity' && !declared.declaration.part && declared.declaration.name !== undefined,
  );
}

/** The first with a tag. */
export function entityByTag(
  path: WorkspacePath,
  tree: SourceTree,
  tag: string,
): Declared<EntityDeclaration> | undefined {
  const found = byTagIn(tree).get(tag);
  return found && { path, ...found };
}

type Found = Omit<Declared<EntityDeclaration>, 'path'>;

const byTags = new WeakMap<SourceTree, ReadonlyMap<string, Found>>();

/** Looked through once for each text: it is asked for at every word. */
function byTagIn(tree: SourceTree): ReadonlyMap<string, Found> {
  const known = byTags.get(tree);
  if (known !== undefined) return known;
  const byTag = new Map<string, Found>();
  for (const { start, chunk } of tree.chunks) {
    const { declaration } = chunk;
    if (declaration?.type !== 'entity' || declaration.part || declaration.name === undefined) continue;
    if (!byTag.has(declaration.name.text)) byTag.set(declaration.name.text, { start, declaration });
  }
  byTags.set(tree, byTag);
  return byTag;
}

/** Something that `is`, `follows` or an expression can name, as it has to be written here. */
export interface Visible {
  readonly written: string;
  readonly declared: Declared<EntityDeclaration | CatalogueDeclaration | LetDeclaration>;
}

/** Parts, catalogues, practices and lets of the file and of the files that it uses. */
export function visibleFrom(path: WorkspacePath, tree: SourceTree, closure: Closure | undefined): readonly Visible[] {
  const own = shareable(path, tree).map(declared => ({ written: nameOf(declared), declared }));
  const used = usedPaths(path, tree).flatMap(({ target, place }) => {
    const state = target === undefined ? undefined : closure?.snapshot.files.get(target);
    if (target === undefined || state?.state !== 'text') return [];
    const prefix = aliasAt(tree, place.start);
    return shareable(target, state.tree).map(declared => ({ written: prefix + nameOf(declared), declared }));
  });
  return [...own, ...used];
}

function shareable(path: WorkspacePath, tree: SourceTree): readonly Visible['declared'][] {
  return declarationsOf(path, tree).filter((declared): declared is Visible['declared'] => {
    const { declaration } = declared;
    if (declaration.type === 'entity') return declaration.part || declaration.kind.text === 'practice';
    return declaration.type === 'catalogue' || declaration.type === 'let';
  });
}

function nameOf({ declaration }: Visible['declared']): string {
  return declaration.name?.text ?? '';
}

function aliasAt(tree: SourceTree, offset: number): string {
  const placed = tree.chunks.findLast(({ start }) => start <= offset);
  const declaration = placed?.chunk.declaration;
  return declaration?.type === 'use' && declaration.alias !== undefined ? `${declaration.alias.text}.` : '';
}
