// The language server as a worker in a browser.
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clientEnvironment } from './client-environment.ts';
import { startWithLeisure } from './leisure.ts';
import { takenBack } from './taken-back.ts';

declare const addEventListener: (type: 'message', listener: () => void) => void;

const [reader, writer] = [new BrowserMessageReader(globalThis), new BrowserMessageWriter(globalThis)];
const connection = createConnection(reader, writer, takenBack);
addEventListener('message', startWithLeisure(connection, clientEnvironment(connection)));
