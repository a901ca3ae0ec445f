// Runs the server that is built for a browser as a browser's worker would, and passes messages on between it and standard
// input and output, so that tests can talk to it as to a process. It finds what a worker has, and nothing of Node.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import vm from 'node:vm';
import { type Message, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';

type Listener = (event: { readonly data: unknown }) => void;

const file = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../dist/web/server.js');
const writer = new StreamMessageWriter(process.stdout);
const listeners: Listener[] = [];

const worker = vm.createContext({
  console,
  performance,
  queueMicrotask,
  setTimeout,
  clearTimeout,
  setInterval,
  clearInterval,
  structuredClone,
  TextDecoder,
  TextEncoder,
  URL,
  addEventListener: (type: string, listener: Listener) => {
    if (type === 'message') listeners.push(listener);
  },
  postMessage: (message: unknown) => void writer.write(structuredClone(message) as Message),
});
// It is its own `self`, whose `onmessage` is one listener among the others.
vm.runInContext(
  `globalThis.self = globalThis;
   let told;
   Object.defineProperty(globalThis, 'onmessage', {
     get: () => told,
     set: listener => {
       if (told === undefined) addEventListener('message', event => told(event));
       told = listener;
     },
   });`,
  worker,
);
vm.runInContext(readFileSync(file, 'utf8'), worker, { filename: file });

new StreamMessageReader(process.stdin).listen(message => {
  for (const listener of listeners) listener({ data: structuredClone(message) });
  // A browser ends a worker that is told to go.
  if ('method' in message && message.method === 'exit') process.exit(0);
});
