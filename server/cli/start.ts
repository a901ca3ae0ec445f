// The file behind the command `wattwright`: makes sure of the Node version, then loads the rest, compiled by an earlier run.
import path from 'node:path';
import { runKept } from '../kept-code.ts';

declare const __dirname: string;
/** Of the content of `cli.cjs`. */
declare const WATTWRIGHT_CLI: string;

if (Number(process.versions.node.split('.')[0]) < 22) {
  process.stderr.write(`wattwright needs Node 22 or newer; this is ${process.version}.\n`);
  process.exitCode = 2;
} else runKept(path.join(__dirname, 'cli.cjs'), WATTWRIGHT_CLI, keptAs(process.argv[2]));

/** Each command needs functions of its own; the server, which is hardly any of this file, keeps its own. */
function keptAs(command = ''): string | undefined {
  if (command === 'lsp') return undefined;
  return /^[a-z]{1,20}$/.test(command) ? command : 'other';
}
