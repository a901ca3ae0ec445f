// Reads files for a server that has no disk, or not the disk on which they lie.
import { Disposable, FileSystemError, FileType, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { listPlantsRequest, readFileRequest } from '../../server/file-requests.ts';
import { decodeFile, type FileText, largestFile, tooLarge } from '../../server/host.ts';

export function answerFileRequests(client: BaseLanguageClient): Disposable {
  return Disposable.from(
    client.onRequest<FileText, void>(readFileRequest, ({ uri }: { readonly uri: string }) => readFile(Uri.parse(uri))),
    client.onRequest(listPlantsRequest, ({ uri, limit }: { readonly uri: string; readonly limit: number }) => {
      return listPlants(Uri.parse(uri), limit);
    }),
  );
}

async function readFile(uri: Uri): Promise<FileText> {
  try {
    const { type, size } = await workspace.fs.stat(uri);
    if (type === FileType.Directory) return { state: 'unreadable', reason: 'it is a folder' };
    if (size > largestFile) return tooLarge(size);
    return decodeFile(await workspace.fs.readFile(uri));
  } catch (error) {
    if (error instanceof FileSystemError && error.code === 'FileNotFound') return { state: 'missing' };
    return { state: 'unreadable', reason: error instanceof Error ? error.message : String(error) };
  }
}

/** Paths below the folder, in a stable order; folders behind links are not followed, they may lead round in a circle. */
async function listPlants(folder: Uri, limit: number): Promise<readonly string[]> {
  const found: string[] = [];
  const collect = async (at: string): Promise<void> => {
    const entries = await Promise.resolve(workspace.fs.readDirectory(Uri.joinPath(folder, at))).catch(() => []);
    entries.sort(([a], [b]) => (a < b ? -1 : 1));
    for (const [name, type] of entries) {
      if (found.length >= limit) return;
      const path = at === '' ? name : `${at}/${name}`;
      if (name.startsWith('.') || name === 'node_modules') continue;
      if (type === FileType.Directory) await collect(path);
      else if (type === FileType.File && name.endsWith('.plant')) found.push(path);
    }
  };
  await collect('');
  return found;
}
