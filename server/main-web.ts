// The language server as a worker in a browser.
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clientEnvironment } from './client-environment.ts';
import { startServer } from './server.ts';
import { takenBack } from './taken-back.ts';

const [reader, writer] = [new BrowserMessageReader(globalThis), new BrowserMessageWriter(globalThis)];
const connection = createConnection(reader, writer, takenBack);
startServer(connection, clientEnvironment(connection));
