// The language server as a worker in a browser.
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clientEnvironment } from './client-environment.ts';
import { startServer } from './server.ts';

const connection = createConnection(new BrowserMessageReader(globalThis), new BrowserMessageWriter(globalThis));
startServer(connection, clientEnvironment(connection));
