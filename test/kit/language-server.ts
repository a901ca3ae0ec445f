// Talks to the built language server as an editor does: a process of its own, over standard input and output.
import { type ChildProcess, type ChildProcessByStdio, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import {
  createProtocolConnection,
  type Diagnostic,
  type InitializeParams,
  type InitializeResult,
  type LogMessageParams,
  MessageType,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import type { FileStatus } from '../../server/status.ts';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

export interface Editor {
  readonly connection: ProtocolConnection;
  readonly process: ChildProcess;
  readonly initialized: InitializeResult;
  /** Everything that was published, oldest first. */
  readonly published: readonly PublishDiagnosticsParams[];
  /** What was said of whole files, oldest first. */
  readonly statuses: readonly FileStatus[];
  /** What the server wrote to its log, but for what is shown at the level `debug` alone. */
  readonly log: readonly string[];
  readonly debugLog: readonly string[];
  open(uri: string, text: string, version?: number): Promise<void>;
  /** Replaces the whole text. */
  change(uri: string, text: string, version: number): Promise<void>;
  close(uri: string): Promise<void>;
  /** The findings of that version of the document; of any version where it is not said. */
  diagnosticsOf(uri: string, version?: number): Promise<readonly Diagnostic[]>;
  /** Resolves with the exit code. */
  stop(): Promise<number | null>;
}

export interface EditorOptions {
  /** File in dist/ and the words behind it. */
  readonly command?: readonly string[];
  /** Beyond that of this process. */
  readonly environment?: NodeJS.ProcessEnv;
  readonly folder?: string;
  readonly initializationOptions?: InitializeParams['initializationOptions'];
  /** Beyond watching files. */
  readonly capabilities?: InitializeParams['capabilities'];
}

/** Starts a server and says hello. The build must be there: run `npm run build` first. */
export async function startEditor(options: EditorOptions = {}): Promise<Editor> {
  const { connection, child } = startServer(options.command, options.environment);
  const published: PublishDiagnosticsParams[] = [];
  const log: string[] = [];
  const debugLog: string[] = [];
  const statuses: FileStatus[] = [];
  const waiting = new Set<() => void>();
  connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
    published.push(params);
    for (const look of waiting) look();
  });
  connection.onNotification('window/logMessage', ({ type, message }: LogMessageParams) => {
    (type === MessageType.Debug ? debugLog : log).push(message);
  });
  connection.onNotification('wattwright/status', (status: FileStatus) => void statuses.push(status));
  connection.onRequest('client/registerCapability', () => null);
  const initialized = await hello(connection, options);

  const diagnosticsOf = (uri: string, version?: number): Promise<readonly Diagnostic[]> =>
    new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        waiting.delete(look);
        reject(new Error(`No diagnostics of ${uri} version ${version}. Log: ${log.join('\n')}`));
      }, 10_000);
      const look = () => {
        const found = published.findLast(one => one.uri === uri && (version === undefined || one.version === version));
        if (found === undefined) return;
        clearTimeout(timer);
        waiting.delete(look);
        resolve(found.diagnostics);
      };
      waiting.add(look);
      look();
    });

  return {
    connection,
    process: child,
    initialized,
    published,
    statuses,
    log,
    debugLog,
    open: (uri, text, version = 1) => {
      const textDocument = { uri, languageId: 'plant', version, text };
      return connection.sendNotification('textDocument/didOpen', { textDocument });
    },
    change: (uri, text, version) => {
      const change = { textDocument: { uri, version }, contentChanges: [{ text }] };
      return connection.sendNotification('textDocument/didChange', change);
    },
    close: uri => connection.sendNotification('textDocument/didClose', { textDocument: { uri } }),
    diagnosticsOf,
    stop: () => stop(connection, child),
  };
}

/** A server that nobody has said hello to yet. */
export function startServer(
  [file = '', ...words]: readonly string[] = ['server.cjs', '--stdio'],
  environment: NodeJS.ProcessEnv = {},
): {
  readonly connection: ProtocolConnection;
  readonly child: ChildProcessByStdio<Writable, Readable, null>;
} {
  const program = path.join(root, 'dist', file);
  if (!existsSync(program)) throw new Error(`dist/${file} is missing: run "npm run build" first.`);
  const child = spawn(process.execPath, [program, ...words], {
    stdio: ['pipe', 'pipe', 'inherit'],
    env: { ...process.env, ...environment },
  });
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  connection.listen();
  return { connection, child };
}

async function hello(
  connection: ProtocolConnection,
  { folder, initializationOptions, capabilities = {} }: EditorOptions,
): Promise<InitializeResult> {
  const result = await connection.sendRequest<InitializeResult>('initialize', {
    processId: process.pid,
    rootUri: null,
    workspaceFolders: folder === undefined ? null : [{ uri: folder, name: 'plants' }],
    initializationOptions,
    capabilities: {
      ...capabilities,
      workspace: { ...capabilities.workspace, didChangeWatchedFiles: { dynamicRegistration: true } },
    },
  });
  await connection.sendNotification('initialized', {});
  return result;
}

async function stop(connection: ProtocolConnection, child: ChildProcess): Promise<number | null> {
  const exited = new Promise<number | null>(resolve => child.once('exit', code => resolve(code)));
  await connection.sendRequest('shutdown');
  await connection.sendNotification('exit');
  const code = await exited;
  connection.dispose();
  return code;
}
