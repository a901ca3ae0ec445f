// The file behind the command `wattwright`: makes sure of the Node version, then loads the rest from Node's cache.
import module from 'node:module';

declare const require: (file: string) => unknown;

if (Number(process.versions.node.split('.')[0]) < 22) {
  process.stderr.write(`wattwright needs Node 22 or newer; this is ${process.version}.\n`);
  process.exitCode = 2;
} else {
  // Keeps compiled code on disk between runs: half of the start-up time goes without it.
  module.enableCompileCache?.();
  require('./cli.cjs');
}
