// The language server as a process: over the channel of the parent where there is one, else over standard input/output.
import { setFlagsFromString } from 'node:v8';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { clientEnvironment } from './client-environment.ts';
import { nodeEnvironment } from './node-environment.ts';
import { startServer } from './server.ts';
import { takenBack } from './taken-back.ts';

// Left to itself the heap grows to a multiple of what lives in it before its old part is swept: an edit throws most of
// its analysis away, and the editor's computer has others to serve. At twice what lives the sweeps stay rare; at half
// as much again an edit would pay for them.
setFlagsFromString('--heap-growing-percent=100');

const overChannel = process.argv.includes('--node-ipc');
const connection = overChannel
  ? createConnection(ProposedFeatures.all, takenBack)
  : createConnection(ProposedFeatures.all, process.stdin, process.stdout, takenBack);
startServer(connection, nodeEnvironment(clientEnvironment(connection)));
