// The language server as a process: over the channel of the parent where there is one, else over standard input/output.
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { clientEnvironment } from './client-environment.ts';
import { startWithLeisure } from './leisure.ts';
import { WholeMessageWriter } from './message-writer.ts';
import { nodeEnvironment } from './node-environment.ts';
import { takenBack } from './taken-back.ts';

const overChannel = process.argv.includes('--node-ipc');
const connection = overChannel ? createConnection(ProposedFeatures.all, takenBack) : overStreams();
const heard = startWithLeisure(connection, nodeEnvironment(clientEnvironment(connection)));
// Behind the connection's own ears, which get each message first.
if (overChannel) process.on('message', heard);
else process.stdin.on('data', heard);

/** The library takes a stream or a writer of messages; only of a stream to read from does it end with the input. */
function overStreams() {
  const writer = new WholeMessageWriter(process.stdout) as unknown as NodeJS.WritableStream;
  return createConnection(ProposedFeatures.all, process.stdin, writer, takenBack);
}
