// The command "Open Reference": kinds, results, findings and units as pages, also behind the code of a finding.
import { commands, Disposable, EventEmitter, FileSystemError, FileType, Uri, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { ReferencePage } from '../../server/render/reference.ts';

export const openReferenceCommand = 'wattwright.openReference';

const scheme = 'wattwright-reference';

/** The pages as read-only files, so that links between them work as between files. */
export function referenceFiles(client: BaseLanguageClient): Disposable {
  const read = async (uri: Uri): Promise<Uint8Array> => {
    await client.start();
    const page = uri.path.replace(/^\//, '');
    const text = await client.sendRequest<string | null>('wattwright/reference', { page });
    if (text === null) throw FileSystemError.FileNotFound(uri);
    return new TextEncoder().encode(text);
  };
  const refuse = (uri: Uri): never => {
    throw FileSystemError.NoPermissions(uri);
  };
  const changed = new EventEmitter<never>();
  const provider = workspace.registerFileSystemProvider(
    scheme,
    {
      onDidChangeFile: changed.event,
      watch: () => new Disposable(() => {}),
      stat: async uri => ({ type: FileType.File, ctime: 0, mtime: 0, size: (await read(uri)).length }),
      readFile: read,
      readDirectory: refuse,
      createDirectory: refuse,
      writeFile: refuse,
      delete: refuse,
      rename: refuse,
    },
    { isReadonly: true },
  );
  return Disposable.from(changed, provider);
}

export function openReference(client: BaseLanguageClient): Disposable {
  return commands.registerCommand(openReferenceCommand, async (argument: unknown) => {
    const page = pageIn(argument) ?? (await askForPage(client));
    if (page === undefined) return;
    await commands.executeCommand('markdown.showPreview', Uri.from({ scheme, path: `/${page}` }));
  });
}

/** From the command palette. */
async function askForPage(client: BaseLanguageClient): Promise<string | undefined> {
  const pages = await client.sendRequest<readonly ReferencePage[] | null>('wattwright/referencePages');
  const items = (pages ?? []).map(({ page, title, about }) => ({
    label: title,
    description: groupOf(page),
    detail: about,
    page,
  }));
  const chosen = await window.showQuickPick(items, {
    placeHolder: 'Page of the reference',
    matchOnDescription: true,
    matchOnDetail: true,
  });
  return chosen?.page;
}

/** From a link in a hover. */
function pageIn(argument: unknown): string | undefined {
  if (typeof argument !== 'object' || argument === null || !('page' in argument)) return undefined;
  return typeof argument.page === 'string' ? argument.page : undefined;
}

function groupOf(page: string): string {
  return page.includes('/') ? page.slice(0, page.indexOf('/')) : '';
}
