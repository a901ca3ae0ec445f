// Extract a part: a component's own facts become a part that others can be made of, here or in a file of parts.
import { kindByName } from '../../engine/kinds/index.ts';
import type { EntityDeclaration, Property } from '../../grammar/ast.ts';
import type { FileContext } from './context.ts';
import { nameSites } from './name-sites.ts';
import { namesIn } from './occurrences.ts';
import type { Refactoring } from './refactorings.ts';
import { relativePaths } from './relative-paths.ts';
import { type Declared, entitiesOf } from './symbols.ts';

const common = { kind: 'extract', snippet: false } as const;

/** Offered on the head of a component whose facts can stand alone. */
export function extractPart(context: FileContext, offset: number, files: readonly string[]): readonly Refactoring[] {
  const entity = entitiesOf(context.path, context.tree).find(({ start, declaration }) => {
    return start + declaration.start <= offset && offset <= start + (declaration.block?.start ?? -1);
  });
  const stays = entity && whyItStays(entity.declaration, context);
  if (entity === undefined || stays !== undefined) return [];
  const name = freeName(entity.declaration, context);
  const { kind, name: tag } = entity.declaration;
  const here: Refactoring = {
    ...common,
    title: `Extract ${tag?.text} into the part ${name}`,
    decides: `the facts of ${tag?.text} become those of a part`,
    edits: [
      {
        place: at(context, entity.start),
        text: `part ${kind.text} ${name}${inherits(entity)} ${block(entity, context)}\n\n`,
      },
      becomesPart(entity, name, context),
    ],
  };
  return [here, ...intoFile(entity, name, context, files)];
}

/** In a file of its own nothing of this file can be named. */
function intoFile(
  entity: Declared<EntityDeclaration>,
  name: string,
  context: FileContext,
  files: readonly string[],
): readonly Refactoring[] {
  const { declaration } = entity;
  if (declaration.base !== undefined || nameSites(declaration, () => undefined).length > 0) return [];
  const path = freePath(declaration, context, files);
  const [written] = relativePaths(context.path, [path]);
  return [
    {
      ...common,
      title: `Extract ${declaration.name?.text} into the part ${name} in a file of its own`,
      decides: `the facts of ${declaration.name?.text} become those of a part in a new file`,
      create: { path, text: `part ${declaration.kind.text} ${name} ${block(entity, context)}\n` },
      edits: [useEdit(context, written ?? path), becomesPart(entity, name, context)],
    },
  ];
}

function whyItStays({ kind, name, block, base, properties }: EntityDeclaration, { tree }: FileContext) {
  if (name === undefined || block === undefined || properties.length === 0) return 'there is nothing to extract';
  if (kindByName.get(kind.text)?.role === 'none') return 'it stands nowhere in the one-line';
  if (base?.pick === true || properties.some(isPick)) return 'a choice belongs to the component that it is made for';
  const placed = tree.chunks.find(
    ({ chunk }) => chunk.declaration?.type === 'entity' && chunk.declaration.name === name,
  );
  return placed === undefined || placed.chunk.problems.length > 0 ? 'its text has a mistake' : undefined;
}

function isPick({ value }: Property): boolean {
  return value?.type === 'pick';
}

function block({ start, declaration }: Declared<EntityDeclaration>, { tree }: FileContext): string {
  const { block: span } = declaration;
  return span === undefined ? '{}' : tree.text.slice(start + span.start, start + span.end);
}

function inherits({ declaration: { base } }: Declared<EntityDeclaration>): string {
  return base === undefined ? '' : ` is ${base.path.map(({ text }) => text).join('.')}`;
}

/** From behind the tag to the end of the block. */
function becomesPart({ start, declaration }: Declared<EntityDeclaration>, part: string, { path }: FileContext) {
  const from = start + (declaration.name?.end ?? declaration.end);
  return { place: { path, start: from, end: start + declaration.end }, text: ` is ${part}` };
}

/** `BatteryB1`, with a number where the file knows that name already. */
function freeName({ kind, name }: EntityDeclaration, { path, closure }: FileContext): string {
  const base = `${kind.text.charAt(0).toUpperCase()}${kind.text.slice(1)}${name?.text ?? ''}`;
  const names = namesIn(closure.snapshot);
  const taken = new Set(
    [...closure.snapshot.files.keys()].flatMap(file => names.occurrencesIn(file).map(({ named }) => named.name)),
  );
  // Words that could not be read might be meant for a name that is still to come.
  for (const word of names.scopeOf(path)?.unread.words ?? []) taken.add(word);
  return firstFree(base, candidate => !taken.has(candidate));
}

function freePath({ kind, name }: EntityDeclaration, { path, closure }: FileContext, files: readonly string[]): string {
  const folder = path.includes('/') ? `${path.slice(0, path.lastIndexOf('/'))}/parts` : 'parts';
  const taken = new Set([...files, ...closure.snapshot.files.keys()].map(file => file.toLowerCase()));
  const base = `${kind.text}-${name?.text ?? ''}`.toLowerCase().replaceAll('_', '-');
  const free = firstFree(base, candidate => !taken.has(`${folder}/${candidate}.plant`.toLowerCase()));
  return `${folder}/${free}.plant`;
}

function firstFree(base: string, isFree: (candidate: string) => boolean): string {
  let candidate = base;
  for (let number = 2; !isFree(candidate); number += 1) candidate = `${base}_${number}`;
  return candidate;
}

/** Behind the last `use`, else behind the plant, else at the top. */
function useEdit(context: FileContext, written: string) {
  const { chunks, text } = context.tree;
  const use = chunks.findLast(({ chunk }) => chunk.declaration?.type === 'use');
  const placed =
    use ??
    chunks.find(({ chunk: { declaration } }) => {
      return declaration?.type === 'entity' && declaration.kind.text === 'plant';
    });
  if (placed?.chunk.declaration === undefined) return { place: at(context, 0), text: `use "${written}"\n\n` };
  const lineEnd = text.indexOf('\n', placed.start + placed.chunk.declaration.end);
  const offset = lineEnd === -1 ? text.length : lineEnd;
  return { place: at(context, offset), text: `${use === undefined ? '\n' : ''}\nuse "${written}"` };
}

function at({ path }: FileContext, offset: number) {
  return { path, start: offset, end: offset };
}
