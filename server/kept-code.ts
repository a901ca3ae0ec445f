// Loads a file with what an earlier run has compiled of it, which makes a start a good deal shorter.
import fs from 'node:fs';
import module from 'node:module';
import path from 'node:path';
import type v8 from 'node:v8';
import vm from 'node:vm';

declare const require: unknown;

/** What is kept begins with the size, of four bytes, and the count, of one; the code stands where V8 need not copy it. */
const headLength = 8;
const countAt = 4;

/** Looks at how much was compiled cost each run a little, so they end where nothing is to be gained. */
const looks = 6;

/** Milliseconds: a process that stays keeps what it needed for its start, before some of that is forgotten again. */
const settled = 10_000;

/**
 * As `require` would, but that compiled code is kept between runs once the file has run: then it holds all functions that
 * were needed. What Node keeps by itself holds only those that are compiled while a file is loaded, and compiling the
 * others is a third of a start.
 *
 * `content`: of the file, known when both are built: what was compiled of another content would run as this one. `name`:
 * of runs that need the same functions; undefined where nothing shall be kept.
 */
export function runKept(file: string, content: string, name: string | undefined): void {
  const place = name === undefined ? undefined : placeFor(content, name);
  const kept = place === undefined ? undefined : readKept(place);
  // Built as one function of what a module is given, in ASCII alone.
  const source = fs.readFileSync(file, 'latin1');
  const script = new vm.Script(source, { filename: file, ...(kept === undefined ? {} : { cachedData: kept.code }) });
  const served = kept !== undefined && script.cachedDataRejected !== true;
  if (place !== undefined) onceSettled(() => (served ? lookAgain(place, kept, script) : keep(place, script)));
  const loaded = { exports: {} };
  script.runInThisContext()(loaded.exports, require, loaded, file, path.dirname(file));
}

/** At the end of the run, or of its start where it goes on; afterwards nothing holds what was read any more. */
function onceSettled(act: () => void): void {
  const once = (): void => {
    clearTimeout(timer);
    process.off('exit', once);
    act();
  };
  const timer = setTimeout(once, settled).unref();
  process.on('exit', once);
}

/** Where Node would keep it; undefined where it shall keep nothing. */
function placeFor(content: string, name: string): string | undefined {
  const folder = module.enableCompileCache?.().directory;
  if (folder === undefined) return undefined;
  return path.join(folder, `wattwright-${process.version}-${process.arch}-${content}-${name}`);
}

interface Kept {
  /** Bytes of all functions that were compiled when it was kept. */
  readonly size: number;
  /** Of the runs since then, how many were looked at and found to have compiled little else. */
  readonly quiet: number;
  readonly code: Buffer;
}

function readKept(file: string): Kept | undefined {
  let handle: number | undefined;
  try {
    handle = fs.openSync(file, 'r');
    if (!isOwn(fs.fstatSync(handle))) return undefined;
    const bytes = fs.readFileSync(handle);
    if (bytes.length <= headLength) return undefined;
    return { size: bytes.readUInt32LE(0), quiet: bytes[countAt]!, code: bytes.subarray(headLength) };
  } catch {
    return undefined;
  } finally {
    if (handle !== undefined) fs.closeSync(handle);
  }
}

/** It is run as it stands, and may lie where all users of the computer write: nobody else may have written it. */
function isOwn({ uid, mode }: fs.Stats): boolean {
  return process.getuid === undefined || (uid === process.getuid() && (mode & 0o022) === 0);
}

/** What was kept of a run that did little, say on a text full of mistakes, is made anew after one that did more. */
function lookAgain(file: string, { size, quiet }: Kept, script: vm.Script): void {
  if (quiet >= looks) return;
  if (sizeOfCode() > 1.05 * size) keep(file, script);
  else writeCount(file, quiet + 1);
}

/** In bytes: of all functions that are compiled now. */
function sizeOfCode(): number {
  // Loaded only here: it takes time.
  return (require as (name: string) => typeof v8)('node:v8').getHeapCodeStatistics().bytecode_and_metadata_size;
}

/** Put in place whole, so that no other run reads half of it. That it can't be kept is no mistake of anybody's. */
function keep(file: string, script: vm.Script): void {
  const own = `${file}.${process.pid}`;
  try {
    const head = Buffer.alloc(headLength);
    head.writeUInt32LE(sizeOfCode(), 0);
    fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(own, Buffer.concat([head, script.createCachedData()]), { mode: 0o600 });
    fs.renameSync(own, file);
  } catch {
    fs.rmSync(own, { force: true });
  }
}

/** One byte alone: whoever reads meanwhile finds the count before or after. */
function writeCount(file: string, count: number): void {
  try {
    const handle = fs.openSync(file, 'r+');
    try {
      fs.writeSync(handle, Buffer.of(count), 0, 1, countAt);
    } finally {
      fs.closeSync(handle);
    }
  } catch {
    // Another run has replaced or removed it, or it may not be written: it is looked at once more.
  }
}
