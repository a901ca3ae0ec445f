// The language server: a table of what the editor may ask, and one place where exceptions end. Knows no node.
import {
  type Connection,
  DidChangeWatchedFilesNotification,
  ErrorCodes,
  type InitializeParams,
  type InitializeResult,
  ResponseError,
  TextDocuments,
  WatchKind,
} from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { forgetExemplars } from '../grammar/exemplars.ts';
import { abilities } from './abilities.ts';
import type { Environment } from './addresses.ts';
import { answers } from './answers.ts';
import { committedTextRequest } from './file-requests.ts';
import type { FileText } from './host.ts';
import type { Leisure } from './leisure.ts';
import { createAnnounce } from './progress.ts';
import { findingPage } from './render/reference.ts';
import { answerRequests } from './request-table.ts';
import { createRooms, type Room, type Rooms } from './rooms.ts';
import { defaultSettings, type EditorSettings, readSettings } from './settings.ts';
import { createStatus } from './status.ts';
import { toDiagnostic } from './to-lsp.ts';
import { localDate } from './today.ts';
import { type ClientWishes, noWishes, readWishes } from './wishes.ts';
import type { FileFindings } from './workspace.ts';

/** Characters: no answer while somebody types may wait for the analysis of a longer text. */
const longestText = 500_000;

export interface Session {
  folders: readonly string[];
  wishes: ClientWishes;
  settings: EditorSettings;
  /** Whether the editor has said hello. */
  met: boolean;
  stopped: boolean;
}

/** `leisure`: what it does on its own account. */
export function startServer(connection: Connection, environment: Environment, leisure?: Leisure): void {
  const documents = new TextDocuments(TextDocument);
  const session: Session = { folders: [], wishes: noWishes, settings: defaultSettings, met: false, stopped: false };
  const failed = (what: string, error: unknown): void => {
    connection.console.error(`${what} failed: ${error instanceof Error ? error.stack : String(error)}`);
  };
  const today = () => localDate(new Date());
  const status = createStatus(connection, session);
  const rooms = createRooms({
    environment,
    settings: () => ({ today: today(), longest: longestText }),
    announce: createAnnounce(connection, session),
    whileTyping: () => session.settings.checkWhileTyping,
    folders: () => session.folders,
    publish: (room, findings) => {
      publish(connection, session, room, findings);
      status.changed(room, findings.path);
      leisure?.published(room.workspace, findings.path);
    },
    failed: (uri, error) => failed(`The analysis of ${uri}`, error),
  });

  connection.onInitialize(params => initialize(params, session));
  connection.onInitialized(() => {
    if (session.wishes.watchesFiles) void watchFiles(connection);
    if (session.wishes.changesFolders) followFolders(connection, session, rooms);
  });
  connection.onDidChangeConfiguration(({ settings }) => {
    const before = session.settings;
    session.settings = readSettings(settings);
    status.refresh();
    if (before.checkWhileTyping === session.settings.checkWhileTyping) return;
    for (const { workspace } of rooms.all()) workspace.recheck();
  });
  connection.onShutdown(() => {
    session.stopped = true;
    leisure?.stop();
    for (const { workspace } of rooms.all()) workspace.stop();
  });

  followDocuments(documents, rooms, connection);
  const changedOnDisk = (uri: string): void => {
    const found = rooms.find(uri);
    if (uri.endsWith('.plant')) found?.room.workspace.fileChanged(found.path);
    else found?.room.workspace.folderChanged(found.path);
  };
  connection.onDidChangeWatchedFiles(({ changes }) => {
    for (const { uri } of changes) changedOnDisk(uri);
  });
  // Not every editor watches files for a server.
  connection.workspace.onDidRenameFiles(({ files }) => {
    for (const { oldUri, newUri } of files) for (const uri of [oldUri, newUri]) changedOnDisk(uri);
  });

  /** Whatever goes wrong inside costs this one answer: the editor gets none, the log gets the reason. */
  const guarded = <Question, Answer>(name: string, answer: (question: Question) => Promise<Answer>) => {
    return async (question: Question): Promise<Answer | null> => {
      if (!session.met) throw new ResponseError(ErrorCodes.ServerNotInitialized, '`initialize` comes first');
      if (session.stopped) throw new ResponseError(ErrorCodes.InvalidRequest, '`shutdown` came before');
      try {
        return await answer(question);
      } catch (error) {
        // A refusal is an answer too: the author is told why.
        if (error instanceof ResponseError) throw error;
        failed(name, error);
        return null;
      }
    };
  };

  const { wishes, settings } = { wishes: () => session.wishes, settings: () => session.settings };
  const committed = (uri: string) => connection.sendRequest<FileText>(committedTextRequest, { uri });
  answerRequests(connection, guarded, answers({ documents, rooms, wishes, settings, today, committed }));
  documents.listen(connection);
  connection.listen();
}

function initialize(params: InitializeParams, session: Session): InitializeResult {
  if (session.met) throw new ResponseError(ErrorCodes.InvalidRequest, '`initialize` comes once');
  const { workspaceFolders, rootUri } = params;
  session.folders = workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
  session.met = true;
  session.wishes = readWishes(params);
  return { capabilities: abilities, serverInfo: { name: 'wattwright' } };
}

function followFolders(connection: Connection, session: Session, rooms: Rooms): void {
  connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
    const gone = new Set(removed.map(({ uri }) => uri));
    session.folders = [...session.folders.filter(uri => !gone.has(uri)), ...added.map(({ uri }) => uri)];
    rooms.scan();
  });
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
    if (documents.all().length === 0) forgetExemplars();
    // Whatever happened in between: nothing stays behind on a document that was never on disk.
    if (!document.uri.startsWith('file:')) void connection.sendDiagnostics({ uri: document.uri, diagnostics: [] });
  });
}

async function watchFiles(connection: Connection): Promise<void> {
  await connection.client.register(DidChangeWatchedFilesNotification.type, {
    // Of a folder that comes or goes with all its files the editor tells nothing but that it is there or gone.
    watchers: [{ globPattern: '**/*.plant' }, { globPattern: '**/*', kind: WatchKind.Create | WatchKind.Delete }],
  });
}

function publish(connection: Connection, session: Session, room: Room, { path, findings }: FileFindings): void {
  if (session.stopped) return;
  const version = room.workspace.sources.current(path)?.documentVersion;
  const page = (code: string) => `wattwright-reference:/${findingPage(code)}`;
  void connection.sendDiagnostics({
    uri: room.uriOf(path),
    ...(version === undefined ? {} : { version }),
    diagnostics: findings.map(finding => toDiagnostic(finding, room, session.wishes.referenceLinks ? page : undefined)),
  });
}
