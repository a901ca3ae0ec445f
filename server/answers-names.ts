// Answers about names and what they stand for, across the files of a folder.
import {
  type CallHierarchyIncomingCall,
  type CallHierarchyItem,
  type CallHierarchyOutgoingCall,
  type DocumentHighlight,
  type Location,
  type LocationLink,
  LSPErrorCodes,
  type PrepareRenameResult,
  type ReferenceParams,
  type RenameFilesParams,
  type RenameParams,
  ResponseError,
  type TextDocumentPositionParams,
  type WorkspaceEdit,
  type WorkspaceSymbol,
} from 'vscode-languageserver';
import { definition } from './features/definition.ts';
import { movesOf, usesAfterRenaming } from './features/file-rename.ts';
import { inputsOf, usersOf, type ValueItem, valueItemAt } from './features/hierarchy.ts';
import { highlights } from './features/highlights.ts';
import { type Names, namesIn } from './features/occurrences.ts';
import { namedAt, references } from './features/references.ts';
import { prepareRename, rename } from './features/rename.ts';
import { workspaceSymbols } from './features/workspace-symbols.ts';
import type { AnswersOptions, Opened, OpenFiles, Parsed } from './open-file.ts';
import { stringIn } from './requests.ts';
import type { Room } from './rooms.ts';
import { fromPosition, toHierarchyItem, toHighlight, toLocation, toLocationLink, toWorkspaceSymbol } from './to-lsp.ts';
import { toWorkspaceEdit } from './to-lsp-edits.ts';

export interface NameAnswers {
  definition(params: TextDocumentPositionParams): Promise<Location | LocationLink[] | null>;
  references(params: ReferenceParams): Promise<Location[]>;
  highlights(params: TextDocumentPositionParams): Promise<DocumentHighlight[]>;
  prepareRename(params: TextDocumentPositionParams): Promise<PrepareRenameResult | null>;
  rename(params: RenameParams): Promise<WorkspaceEdit | null>;
  /** Asked before files get other names: references follow. */
  renameFiles(params: RenameFilesParams): Promise<WorkspaceEdit | null>;
  workspaceSymbols(params: { readonly query: string }): Promise<WorkspaceSymbol[]>;
  hierarchy(params: TextDocumentPositionParams): Promise<CallHierarchyItem[] | null>;
  hierarchyUsers(params: { readonly item: CallHierarchyItem }): Promise<CallHierarchyIncomingCall[]>;
  hierarchyInputs(params: { readonly item: CallHierarchyItem }): Promise<CallHierarchyOutgoingCall[]>;
}

export function nameAnswers(options: AnswersOptions, files: OpenFiles): NameAnswers {
  return {
    definition: async ({ textDocument, position }) => {
      const file = await files.parsed(textDocument.uri);
      const found = file && definition(file.context, fromPosition(file.lines, position));
      if (file === undefined || found === undefined) return null;
      if (options.wishes().locationLinks) return [toLocationLink(found, file.room)];
      return toLocation(found.target, file.room);
    },
    references: async ({ textDocument, position, context }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return [];
      const offset = fromPosition(file.lines, position);
      const names = await namesAround(file, offset);
      const places = references(names, file.context.path, offset, context.includeDeclaration);
      return places.map(place => toLocation(place, file.room));
    },
    highlights: async ({ textDocument, position }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return [];
      const found = highlights(file.context, fromPosition(file.lines, position));
      return found.map(highlight => toHighlight(highlight, file.room));
    },
    prepareRename: async ({ textDocument, position }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return null;
      const { path, closure } = file.context;
      const offset = fromPosition(file.lines, position);
      const prepared = prepareRename(namesIn(closure.snapshot), path, offset);
      if (!prepared.ok) return refuse(prepared.why);
      // While the author writes the new name there is time for reading; what fails now will fail again, and be told.
      namesAround(file, offset).then(lookThrough, () => {});
      return { range: toLocation(prepared.place, file.room).range, placeholder: prepared.name };
    },
    rename: async ({ textDocument, position, newName }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return null;
      const offset = fromPosition(file.lines, position);
      const { path } = file.context;
      const renaming = rename(await namesAround(file, offset), path, offset, newName);
      if (!renaming.ok) return refuse(renaming.why);
      return toWorkspaceEdit(renaming.edits, { files: file.room, wishes: options.wishes().edits, from: path });
    },
    renameFiles: async ({ files: renamed }) => {
      const edits = options.rooms.ofFolders().map(room => editsOfRenaming(room, renamed, options));
      const documentChanges = (await Promise.all(edits)).flatMap(edit => edit.documentChanges ?? []);
      const changes = Object.assign({}, ...(await Promise.all(edits)).map(edit => edit.changes ?? {}));
      return options.wishes().edits.versions ? { documentChanges } : { changes };
    },
    workspaceSymbols: async ({ query }) => {
      const rooms = new Set([...options.rooms.ofFolders(), ...options.rooms.all()]);
      const found = [...rooms].map(async room => {
        const { snapshot } = await room.workspace.everything();
        return workspaceSymbols(namesIn(snapshot), query).map(symbol => toWorkspaceSymbol(symbol, room));
      });
      return (await Promise.all(found)).flat();
    },
    ...hierarchyAnswers(files),
  };
}

function hierarchyAnswers(files: OpenFiles) {
  const related = async (
    { data }: CallHierarchyItem,
    list: (context: Opened['context'], name: string) => readonly ValueItem[],
  ): Promise<readonly CallHierarchyItem[]> => {
    const [uri, name] = [stringIn(data, 'uri'), stringIn(data, 'name')];
    const file = uri === undefined ? undefined : await files.fresh(uri);
    if (file === undefined || uri === undefined || name === undefined) return [];
    return list(file.context, name).map(item => toHierarchyItem(item, uri, file.room));
  };
  return {
    hierarchy: async ({ textDocument, position }: TextDocumentPositionParams) => {
      const file = await files.fresh(textDocument.uri);
      const item = file && valueItemAt(file.context, fromPosition(file.lines, position));
      return file && item ? [toHierarchyItem(item, textDocument.uri, file.room)] : null;
    },
    hierarchyUsers: async ({ item }: { readonly item: CallHierarchyItem }) => {
      return (await related(item, usersOf)).map(from => ({ from, fromRanges: [from.range] }));
    },
    hierarchyInputs: async ({ item }: { readonly item: CallHierarchyItem }) => {
      return (await related(item, inputsOf)).map(to => ({ to, fromRanges: [item.range] }));
    },
  };
}

/** A file that comes from or goes to another workspace is none of the room's affair. */
async function editsOfRenaming(
  room: Room,
  renamed: RenameFilesParams['files'],
  { rooms, wishes }: AnswersOptions,
): Promise<WorkspaceEdit> {
  const moved = renamed.flatMap(({ oldUri, newUri }) => {
    const [from, to] = [rooms.find(oldUri), rooms.find(newUri)];
    return from?.room === room && to?.room === room ? [{ from: from.path, to: to.path }] : [];
  });
  if (moved.length === 0) return {};
  const { snapshot } = await room.workspace.everything();
  // Nobody looks at one of the files in particular: none of the edits is a change elsewhere.
  return toWorkspaceEdit(usesAfterRenaming(snapshot, movesOf(moved)), {
    files: room,
    wishes: wishes().edits,
    from: moved[0]?.from ?? '',
  });
}

/** The names of all files that may speak of the thing at an offset: those that use the file that declares it. */
async function namesAround({ context, room }: Parsed, offset: number): Promise<Names> {
  const own = namesIn(context.closure.snapshot);
  const declaring = namedAt(own, context.path, offset)?.named.path ?? context.path;
  const around = await room.workspace.around(declaring);
  const files = new Map([...context.closure.snapshot.files, ...around.snapshot.files]);
  return namesIn({ files });
}

/** Looks at every file once, so that the next look is short; lets others have their turn in between. */
async function lookThrough(names: Names): Promise<void> {
  for (const path of names.snapshot.files.keys()) {
    names.occurrencesIn(path);
    await new Promise(resolve => setTimeout(resolve));
  }
}

function refuse(why: string): never {
  throw new ResponseError(LSPErrorCodes.RequestFailed, why);
}
