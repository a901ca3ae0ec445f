// The language server as a process: over the channel of the parent where there is one, else over standard input/output.
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { clientEnvironment } from './client-environment.ts';
import { nodeEnvironment } from './node-environment.ts';
import { startServer } from './server.ts';
import { takenBack } from './taken-back.ts';

const overChannel = process.argv.includes('--node-ipc');
const connection = overChannel
  ? createConnection(ProposedFeatures.all, takenBack)
  : createConnection(ProposedFeatures.all, process.stdin, process.stdout, takenBack);
startServer(connection, nodeEnvironment(clientEnvironment(connection)));
