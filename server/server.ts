// The language server: a table of what the editor may ask, and one place where exceptions end. Knows no node.
import {
  CodeActionKind,
  type Connection,
  DidChangeWatchedFilesNotification,
  type InitializeParams,
  type InitializeResult,
  TextDocumentSyncKind,
  TextDocuments,
} from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Environment } from './addresses.ts';
import { type Answers, answers } from './answers.ts';
import { createRooms, type Room, type Rooms } from './rooms.ts';
import { toDiagnostic } from './to-lsp.ts';
import { localDate } from './today.ts';
import type { FileFindings } from './workspace.ts';

/** What the editor's side may say about itself in `initializationOptions`. */
interface ClientWishes {
  /** It knows the command behind the links in a hover. */
  readonly derivationLinks: boolean;
}

interface Session {
  folders: readonly string[];
  wishes: ClientWishes;
  watchesFiles: boolean;
  changesFolders: boolean;
  stopped: boolean;
}

export function startServer(connection: Connection, environment: Environment): void {
  const documents = new TextDocuments(TextDocument);
  const session: Session = {
    folders: [],
    wishes: { derivationLinks: false },
    watchesFiles: false,
    changesFolders: false,
    stopped: false,
  };
  const failed = (what: string, error: unknown): void => {
    connection.console.error(`${what} failed: ${error instanceof Error ? error.stack : String(error)}`);
  };
  const rooms = createRooms({
    environment,
    settings: () => ({ today: localDate(new Date()) }),
    folders: () => session.folders,
    publish: (room, findings) => publish(connection, session, room, findings),
    failed: (uri, error) => failed(`The analysis of ${uri}`, error),
  });

  connection.onInitialize(params => initialize(params, session));
  connection.onInitialized(() => {
    if (session.watchesFiles) void watchFiles(connection);
    if (!session.changesFolders) return;
    connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
      const gone = new Set(removed.map(({ uri }) => uri));
      session.folders = [...session.folders.filter(uri => !gone.has(uri)), ...added.map(({ uri }) => uri)];
      rooms.scan();
    });
  });
  connection.onShutdown(() => {
    session.stopped = true;
    for (const { workspace } of rooms.all()) workspace.stop();
  });

  followDocuments(documents, rooms, connection);
  connection.onDidChangeWatchedFiles(({ changes }) => {
    for (const { uri } of changes) {
      const found = rooms.find(uri);
      found?.room.workspace.fileChanged(found.path);
    }
  });

  /** Whatever goes wrong inside costs this one answer: the editor gets none, the log gets the reason. */
  const guarded = <Question, Answer>(name: string, answer: (question: Question) => Promise<Answer>) => {
    return async (question: Question): Promise<Answer | null> => {
      if (session.stopped) return null;
      try {
        return await answer(question);
      } catch (error) {
        failed(name, error);
        return null;
      }
    };
  };

  answerRequests(
    connection,
    guarded,
    answers({ documents, rooms, derivationLinks: () => session.wishes.derivationLinks }),
  );
  documents.listen(connection);
  connection.listen();
}

type Guard = <Question, Answer>(
  name: string,
  answer: (question: Question) => Promise<Answer>,
) => (question: Question) => Promise<Answer | null>;

function answerRequests(connection: Connection, guarded: Guard, table: Answers): void {
  connection.onHover(guarded('hover', table.hover));
  connection.onCompletion(guarded('completion', table.completion));
  connection.onDocumentFormatting(guarded('formatting', table.formatting));
  connection.onDocumentSymbol(guarded('outline', table.outline));
  connection.onCodeAction(guarded('code actions', table.actions));
  connection.onDefinition(guarded('definition', table.definition));
  connection.onRequest('wattwright/derivation', guarded('derivation', table.derivation));
  connection.onRequest('wattwright/values', guarded('values', table.values));
}

function initialize(params: InitializeParams, session: Session): InitializeResult {
  const { workspaceFolders, rootUri, capabilities } = params;
  session.folders = workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
  session.wishes = readWishes(params.initializationOptions);
  session.watchesFiles = capabilities.workspace?.didChangeWatchedFiles?.dynamicRegistration === true;
  session.changesFolders = capabilities.workspace?.workspaceFolders === true;
  return {
    capabilities: {
      textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
      hoverProvider: true,
      completionProvider: { triggerCharacters: ['.', '"', '/'] },
      documentFormattingProvider: true,
      documentSymbolProvider: true,
      definitionProvider: true,
      codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.SourceFixAll] },
      workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
    },
    serverInfo: { name: 'wattwright' },
  };
}

function readWishes(options: unknown): ClientWishes {
  const given = typeof options === 'object' && options !== null && 'derivationLinks' in options;
  return { derivationLinks: given && options.derivationLinks === true };
}

function followDocuments(documents: TextDocuments<TextDocument>, rooms: Rooms, connection: Connection): void {
  documents.onDidChangeContent(({ document }) => {
    const { room, path } = rooms.opened(document.uri);
    room.workspace.edit(path, document.getText(), document.version);
  });
  documents.onDidSave(({ document }) => {
    const found = rooms.find(document.uri);
    found?.room.workspace.save(found.path);
  });
  documents.onDidClose(({ document }) => {
    const found = rooms.find(document.uri);
    found?.room.workspace.close(found.path);
    rooms.closed(document.uri);
    // Whatever happened in between: nothing stays behind on a document that was never on disk.
    if (!document.uri.startsWith('file:')) void connection.sendDiagnostics({ uri: document.uri, diagnostics: [] });
  });
}

async function watchFiles(connection: Connection): Promise<void> {
  await connection.client.register(DidChangeWatchedFilesNotification.type, {
    watchers: [{ globPattern: '**/*.plant' }],
  });
}

function publish(connection: Connection, session: Session, room: Room, { path, findings }: FileFindings): void {
  if (session.stopped) return;
  const version = room.workspace.sources.current(path)?.documentVersion;
  void connection.sendDiagnostics({
    uri: room.uriOf(path),
    ...(version === undefined ? {} : { version }),
    diagnostics: findings.map(finding => toDiagnostic(finding, room)),
  });
}
