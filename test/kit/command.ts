// Runs the built command in a folder of its own, as a person or a pipeline would.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const command = path.join(root, 'dist/wattwright.cjs');

export interface Folder {
  readonly at: string;
  /** Writes a file, and the folders above it. */
  write(name: string, content: string | Uint8Array): void;
  run(...words: readonly string[]): Outcome;
  remove(): void;
}

export interface Outcome {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** A folder that is a workspace: nothing above it counts. */
export function makeFolder(files: Readonly<Record<string, string>> = {}): Folder {
  if (!existsSync(command)) throw new Error('dist/wattwright.cjs is missing: run "npm run build" first.');
  const at = realpathSync(mkdtempSync(path.join(tmpdir(), 'wattwright-')));
  const write = (name: string, content: string | Uint8Array) => {
    const file = path.join(at, name);
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, content);
  };
  for (const [name, text] of Object.entries(files)) write(name, text);
  return {
    at,
    write,
    run: (...words) => {
      const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...words], {
        cwd: at,
        encoding: 'utf8',
        maxBuffer: 1e8,
      });
      return { code: status, out: stdout, err: stderr };
    },
    remove: () => rmSync(at, { recursive: true, force: true }),
  };
}
