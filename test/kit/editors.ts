// Editors and folders for tests of the built server; importing it makes them go after each test.
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach } from 'vitest';
import { type Editor, type EditorOptions, startEditor } from './language-server.ts';

const editors: Editor[] = [];
const folders: string[] = [];
afterEach(async () => {
  for (const editor of editors.splice(0)) if (editor.process.exitCode === null) await editor.stop();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

export async function start(options: EditorOptions = {}): Promise<Editor> {
  const editor = await startEditor(options);
  editors.push(editor);
  return editor;
}

/** A folder on disk, its address, and that of each of its files. */
export function makeFolder(files: Iterable<readonly [name: string, text: string]>) {
  const at = realpathSync(mkdtempSync(path.join(tmpdir(), 'wattwright-')));
  folders.push(at);
  const write = (name: string, text: string): void => {
    mkdirSync(path.dirname(path.join(at, name)), { recursive: true });
    writeFileSync(path.join(at, name), text);
  };
  for (const [name, text] of files) write(name, text);
  return { at, write, address: pathToFileURL(at).href, uri: (name: string) => pathToFileURL(path.join(at, name)).href };
}
