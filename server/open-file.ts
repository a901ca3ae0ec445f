// From the address of a document to what a feature works with.
import type { TextDocuments } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { FileContext, TreeContext } from './features/context.ts';
import type { FileText } from './host.ts';
import type { LineIndex } from './lines.ts';
import type { Room, Rooms } from './rooms.ts';
import type { EditorSettings } from './settings.ts';
import type { ClientWishes } from './wishes.ts';
import type { Checked } from './workspace.ts';

export interface AnswersOptions {
  readonly documents: TextDocuments<TextDocument>;
  readonly rooms: Rooms;
  readonly wishes: () => ClientWishes;
  readonly settings: () => EditorSettings;
  /** `2026-11-25`. */
  readonly today: () => string;
  /** The file as it stands in the last commit, which only the editor knows. */
  readonly committed: (uri: string) => Promise<FileText>;
}

/** A file in its current text, ready for a feature that needs no analysis. */
export interface Parsed {
  readonly context: TreeContext;
  readonly lines: LineIndex;
  readonly room: Room;
}

export interface Opened extends Parsed {
  readonly context: FileContext;
}

/** Opens documents for the features; undefined for one that the editor has not opened, or that can't be read. */
export interface OpenFiles {
  parsed(uri: string): Promise<Parsed | undefined>;
  fresh(uri: string): Promise<Opened | undefined>;
  /** Where an analysis takes long, once the author pauses: for what is shown unasked. */
  settled(uri: string): Promise<Opened | undefined>;
}

export function openFiles(options: AnswersOptions): OpenFiles {
  const { documents, rooms, wishes } = options;
  const find = (uri: string) => (documents.get(uri) === undefined ? undefined : rooms.find(uri));

  const opened = async (
    uri: string,
    check: (found: { readonly room: Room; readonly path: string }) => Promise<Checked | undefined>,
  ): Promise<Opened | undefined> => {
    const found = find(uri);
    const checked = found && (await check(found));
    const source = found && checked?.closure.sources.get(found.path);
    if (found === undefined || checked === undefined || source?.state.state !== 'text') return undefined;
    const { analysis, closure } = checked;
    const link = (name: string) => (wishes().derivationLinks ? derivationLink(uri, name) : undefined);
    const page = (name: string) => (wishes().referenceLinks ? pageLink(name) : undefined);
    const context = { path: found.path, tree: source.state.tree, analysis, closure, link, page };
    return { context, lines: source.lines, room: found.room };
  };

  return {
    parsed: async uri => {
      const found = find(uri);
      const closure = found && (await found.room.workspace.parsed(found.path));
      const source = found && closure?.sources.get(found.path);
      if (found === undefined || closure === undefined || source?.state.state !== 'text') return undefined;
      return {
        context: { path: found.path, tree: source.state.tree, closure },
        lines: source.lines,
        room: found.room,
      };
    },
    fresh: uri => opened(uri, ({ room, path }) => room.workspace.fresh(path)),
    settled: uri => opened(uri, ({ room, path }) => room.workspace.settled(path)),
  };
}

/** One fixed command; the pages are named by the words of the language alone. */
function pageLink(page: string): string {
  return `command:wattwright.openReference?${encodeURIComponent(JSON.stringify([{ page }]))}`;
}

/** One fixed command; what comes from the file is its data and nothing else. */
function derivationLink(uri: string, name: string): string {
  const encoded = encodeURIComponent(JSON.stringify([{ uri, name }]));
  return `command:wattwright.showDerivation?${encoded.replace(/[()]/g, one => (one === '(' ? '%28' : '%29'))}`;
}
