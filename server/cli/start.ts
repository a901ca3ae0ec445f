// The file behind the command `wattwright`: makes sure of the Node version, then loads the rest, compiled by an earlier run.
import fs from 'node:fs';
import module from 'node:module';
import path from 'node:path';
import vm from 'node:vm';

declare const require: unknown;
declare const __dirname: string;
/** Of the content of `cli.cjs`, known when both are built: what was compiled of another content would run as this one. */
declare const WATTWRIGHT_CLI: string;

if (Number(process.versions.node.split('.')[0]) < 22) {
  process.stderr.write(`wattwright needs Node 22 or newer; this is ${process.version}.\n`);
  process.exitCode = 2;
} else run(path.join(__dirname, 'cli.cjs'));

/**
 * As `require` would, but that compiled code is kept between runs once the command has run: then it holds all functions
 * that the command needs. What Node keeps by itself holds only those that are compiled while a file is loaded, and
 * compiling the others is a third of a start.
 */
function run(file: string): void {
  const kept = keptFor(process.argv[2]);
  const cachedData = kept === undefined ? undefined : readIfThere(kept);
  // Built as one function of what a module is given, in ASCII alone.
  const source = fs.readFileSync(file, 'latin1');
  const script = new vm.Script(source, { filename: file, ...(cachedData === undefined ? {} : { cachedData }) });
  if (kept !== undefined && (cachedData === undefined || script.cachedDataRejected === true))
    process.on('exit', () => keep(kept, script));
  const loaded = { exports: {} };
  script.runInThisContext()(loaded.exports, require, loaded, file, __dirname);
}

/** Where Node would keep it, by command, since each needs functions of its own; undefined where nothing shall be kept. */
function keptFor(command = ''): string | undefined {
  const folder = module.enableCompileCache?.().directory;
  if (folder === undefined) return undefined;
  const name = /^[a-z]{1,20}$/.test(command) ? command : 'other';
  return path.join(folder, `wattwright-${process.version}-${process.arch}-${WATTWRIGHT_CLI}-${name}`);
}

function readIfThere(file: string): Buffer | undefined {
  try {
    return fs.readFileSync(file);
  } catch {
    return undefined;
  }
}

/** Put in place whole, so that no other run reads half of it. That it can't be kept is no mistake of anybody's. */
function keep(file: string, script: vm.Script): void {
  const own = `${file}.${process.pid}`;
  try {
    fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(own, script.createCachedData(), { mode: 0o600 });
    fs.renameSync(own, file);
  } catch {
    fs.rmSync(own, { force: true });
  }
}
