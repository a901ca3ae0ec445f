// Answers what the editor asks: finds the file, lets the feature work on offsets, converts what comes back.
import {
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  type CompletionItem,
  type CompletionParams,
  type DefinitionParams,
  type DocumentFormattingParams,
  type DocumentSymbol,
  type DocumentSymbolParams,
  type Hover,
  type HoverParams,
  type Location,
  type TextDocuments,
  type TextEdit,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { actionsAt, fixAll } from './features/actions.ts';
import { completion } from './features/completion.ts';
import type { FileContext } from './features/context.ts';
import { definition } from './features/definition.ts';
import { derivationPage } from './features/derivation.ts';
import { formatting } from './features/formatting.ts';
import { hover } from './features/hover.ts';
import { outline } from './features/outline.ts';
import { relativePaths } from './features/relative-paths.ts';
import type { LineIndex } from './lines.ts';
import type { Room, Rooms } from './rooms.ts';
import {
  fromPosition,
  toCodeAction,
  toCompletionItem,
  toDiagnostic,
  toRange,
  toSymbol,
  toWorkspaceEdit,
} from './to-lsp.ts';

export interface AnswersOptions {
  readonly documents: TextDocuments<TextDocument>;
  readonly rooms: Rooms;
  readonly derivationLinks: () => boolean;
}

export interface Answers {
  hover(params: HoverParams): Promise<Hover | null>;
  completion(params: CompletionParams): Promise<CompletionItem[]>;
  formatting(params: DocumentFormattingParams): Promise<TextEdit[]>;
  outline(params: DocumentSymbolParams): Promise<DocumentSymbol[]>;
  actions(params: CodeActionParams): Promise<CodeAction[]>;
  definition(params: DefinitionParams): Promise<Location | null>;
  derivation(params: unknown): Promise<string | null>;
  values(params: unknown): Promise<readonly { readonly name: string; readonly display: string }[]>;
}

/** A file in its current text, ready for a feature. */
interface Opened {
  readonly context: FileContext;
  readonly lines: LineIndex;
  readonly room: Room;
}

export function answers(options: AnswersOptions): Answers {
  const open = (uri: string) => openFile(uri, options);
  return {
    hover: async ({ textDocument, position }) => {
      const file = await open(textDocument.uri);
      const found = file && hover(file.context, fromPosition(file.lines, position));
      if (file === undefined || found === undefined) return null;
      const range = toRange(file.lines, found.start, found.end);
      return { contents: { kind: 'markdown', value: found.markdown }, range };
    },
    completion: async ({ textDocument, position }) => {
      const file = await open(textDocument.uri);
      if (file === undefined) return [];
      const usable = relativePaths(file.context.path, file.room.workspace.partsFiles());
      const items = completion({ ...file.context, usable }, fromPosition(file.lines, position));
      return items.map((item, index) => toCompletionItem(item, index, file.lines));
    },
    formatting: async ({ textDocument }) => {
      const file = options.documents.get(textDocument.uri);
      if (file === undefined) return [];
      return formatting(file.getText()).map(({ start, end, text }) => {
        return { range: { start: file.positionAt(start), end: file.positionAt(end) }, newText: text };
      });
    },
    outline: async ({ textDocument }) => {
      const file = await open(textDocument.uri);
      return file === undefined ? [] : outline(file.context).map(entry => toSymbol(entry, file.lines));
    },
    actions: async params => {
      const file = await open(params.textDocument.uri);
      return file === undefined ? [] : actions(params, file);
    },
    definition: async ({ textDocument, position }) => {
      const file = await open(textDocument.uri);
      if (file === undefined) return null;
      const place = definition(file.context, fromPosition(file.lines, position));
      const lines = place && file.context.closure.sources.get(place.path)?.lines;
      if (place === undefined || lines === undefined) return null;
      return { uri: file.room.uriOf(place.path), range: toRange(lines, place.start, place.end) };
    },
    derivation: async params => {
      const name = stringIn(params, 'name');
      const file = await open(stringIn(params, 'uri') ?? '');
      return (file && name && derivationPage(file.context, name)) || null;
    },
    values: async params => {
      const { values } = (await open(stringIn(params, 'uri') ?? ''))?.context.analysis ?? {};
      return (values?.names ?? []).map(name => ({ name, display: values?.worst(name)?.display ?? '' }));
    },
  };
}

/** Undefined for a document that the editor has not opened, or that can't be analysed. */
async function openFile(
  uri: string,
  { documents, rooms, derivationLinks }: AnswersOptions,
): Promise<Opened | undefined> {
  const found = documents.get(uri) === undefined ? undefined : rooms.find(uri);
  if (found === undefined) return undefined;
  const { room, path } = found;
  const checked = await room.workspace.fresh(path);
  const source = checked?.closure.sources.get(path);
  if (checked === undefined || source?.state.state !== 'text') return undefined;
  const { analysis, closure } = checked;
  const link = (name: string) => (derivationLinks() ? derivationLink(uri, name) : undefined);
  return { context: { path, tree: source.state.tree, analysis, closure, link }, lines: source.lines, room };
}

/** One fixed command; what comes from the file is its data and nothing else. */
function derivationLink(uri: string, name: string): string {
  const encoded = encodeURIComponent(JSON.stringify([{ uri, name }]));
  return `command:wattwright.showDerivation?${encoded.replace(/[()]/g, one => (one === '(' ? '%28' : '%29'))}`;
}

function actions({ range, context }: CodeActionParams, { context: file, lines, room }: Opened): CodeAction[] {
  const wanted = (kind: CodeActionKind) => context.only?.every(only => !`${kind}.`.startsWith(`${only}.`)) !== true;
  const found: CodeAction[] = [];
  if (wanted(CodeActionKind.QuickFix)) {
    const at = actionsAt(file, fromPosition(lines, range.start), fromPosition(lines, range.end));
    found.push(...at.map(({ fix, finding }) => toCodeAction(fix, finding, toDiagnostic(finding, room), room)));
  }
  const all = context.only !== undefined && wanted(CodeActionKind.SourceFixAll) ? fixAll(file) : undefined;
  if (all !== undefined) {
    found.push({ title: all.title, kind: CodeActionKind.SourceFixAll, edit: toWorkspaceEdit(all.edits, room) });
  }
  return found;
}

/** Our own requests come from anywhere: nothing is taken for granted. */
function stringIn(params: unknown, key: 'uri' | 'name'): string | undefined {
  if (typeof params !== 'object' || params === null) return undefined;
  const value: unknown = Reflect.get(params, key);
  return typeof value === 'string' ? value : undefined;
}
