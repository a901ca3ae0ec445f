// Runs a netlist through the circuit simulator ngspice and hands back its numbers, for tests that compare with it.

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const longestRun = 300_000;
const reportsFailure = /\berror\b|aborted|is not available|no such vector|\bmeas .*failed/i;
const scalarLine =
  /^\s*([A-Za-z_][\w.#()[\]]*)\s*=\s*([-+]?\d[\d.]*(?:[eE][-+]?\d+)?)(?:\s*,\s*([-+]?\d[\d.]*(?:[eE][-+]?\d+)?))?/;

/**
 * Runs a netlist whose `.control` block prints what is wanted, by `print` of single values or by `meas`.
 * Names come back in lower case; a complex value comes back twice, as `name` (real) and `name.im`.
 * `print` gives twelve digits, `meas` seven; of a name printed twice the last counts.
 * Throws when ngspice is not installed, reports an error, or prints no value: a test must then fail, never skip.
 */
export function runNgspice(netlist: string): Map<string, number> {
  return inScratchFolder(folder => {
    const values = new Map<string, number>();
    const output = simulate(netlist, folder);
    for (const line of output.split('\n')) {
      const found = scalarLine.exec(line);
      if (found === null) continue;
      const name = found[1]!.toLowerCase();
      values.set(name, Number(found[2]));
      if (found[3] !== undefined) values.set(`${name}.im`, Number(found[3]));
    }
    if (values.size === 0) throw new Error(`ngspice printed no value:\n${output}`);
    return values;
  });
}

/**
 * Runs a netlist and returns the sampled vectors of its last analysis: key `scale` is time (s) or frequency (Hz).
 * The vectors are expressions as `wrdata` takes them; only the real part of each is returned (use `mag(...)` in AC).
 */
export function runNgspiceVectors(netlist: string, vectors: readonly string[]): Map<string, Float64Array> {
  return inScratchFolder(folder => {
    const write = ['set wr_singlescale', `wrdata vectors.txt ${vectors.join(' ')}`, '.endc'].join('\n');
    simulate(netlist.replace(/^\s*\.endc\s*$/im, write), folder);
    return readColumns(readFileSync(join(folder, 'vectors.txt'), 'utf8'), vectors);
  });
}

function readColumns(text: string, vectors: readonly string[]): Map<string, Float64Array> {
  const rows = text
    .split('\n')
    .filter(line => line.trim() !== '')
    .map(line => line.trim().split(/\s+/).map(Number));
  if (rows.length === 0) throw new Error('ngspice wrote no sample');
  const names = ['scale', ...vectors];
  // A complex plot writes a real and an imaginary column for each vector, and only a real one for the scale.
  const width = rows[0]!.length;
  const step = width === 1 + 2 * vectors.length ? 2 : 1;
  return new Map(
    names.map((name, i) => [name, Float64Array.from(rows, row => row[i === 0 ? 0 : 1 + (i - 1) * step]!)]),
  );
}

function simulate(netlist: string, folder: string): string {
  const file = join(folder, 'circuit.cir');
  // Twelve digits in every print; the closing quit makes the exit code tell of the simulation, not of a missing plot.
  const text = netlist
    .replace(/^\s*\.control\s*$/im, '.control\nset numdgt=12')
    .replace(/^\s*\.endc\s*$/im, 'quit 0\n.endc');
  writeFileSync(file, text);
  const run = spawnSync('ngspice', ['-n', '-b', file], {
    cwd: folder,
    encoding: 'utf8',
    timeout: longestRun,
  });
  if (run.error !== undefined) {
    throw new Error(`ngspice did not run; install the Debian package ngspice. ${run.error.message}`);
  }
  const output = `${run.stdout}\n${run.stderr}`;
  if (run.status !== 0 || reportsFailure.test(output)) throw new Error(`ngspice failed:\n${output}`);
  return run.stdout;
}

function inScratchFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'netlist-'));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
