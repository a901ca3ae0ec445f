// Keeps in mind the folders that tests of the command make, and removes them after each test.
import { afterEach } from 'vitest';
import { type Folder, makeFolder } from './command.ts';

const folders: Folder[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) folder.remove();
});

export function given<T extends Folder>(folder: T): T {
  folders.push(folder);
  return folder;
}

export function givenFiles(files: Readonly<Record<string, string>>): Folder {
  return given(makeFolder(files));
}
