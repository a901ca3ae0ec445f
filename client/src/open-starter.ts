// The command "Open Starter Workspace": copies the sample plants to a place of the author's choice, opens them, and in
// the window that comes then the draft with the mistakes, which the walkthrough speaks of next.
import { commands, type Disposable, type ExtensionContext, FileType, Uri, window, workspace } from 'vscode';

/** Remembers over the change of the window which folder is the starter. */
const awaited = 'wattwright.starter';

export function openStarter(context: ExtensionContext): Disposable {
  return commands.registerCommand('wattwright.openStarter', async () => {
    const chosen = await window.showOpenDialog({
      canSelectFiles: false,
      canSelectFolders: true,
      canSelectMany: false,
      openLabel: 'Put the starter here',
      title: 'Folder for the starter workspace',
    });
    const [parent] = chosen ?? [];
    if (parent === undefined) return;
    const target = await freeFolder(parent);
    try {
      await copyFolder(Uri.joinPath(context.extensionUri, 'client/starter'), target);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      void window.showErrorMessage(`Wattwright: the starter could not be copied. ${reason}`);
      return;
    }
    await context.globalState.update(awaited, target.toString());
    await commands.executeCommand('vscode.openFolder', target);
  });
}

/** In the window of a starter that was just put down; anywhere else it does nothing. */
export async function openFirstDraft({ globalState }: ExtensionContext): Promise<void> {
  const [folder] = workspace.workspaceFolders ?? [];
  if (folder === undefined || folder.uri.toString() !== globalState.get<string>(awaited)) return;
  await globalState.update(awaited, undefined);
  if (window.activeTextEditor !== undefined) return;
  // Where somebody has taken the file away meanwhile, the window stays as it is.
  await window.showTextDocument(Uri.joinPath(folder.uri, 'first-draft.plant')).then(undefined, () => {});
}

/** Never writes over something: the first name that is not taken. */
async function freeFolder(parent: Uri): Promise<Uri> {
  for (let number = 1; ; number += 1) {
    const folder = Uri.joinPath(parent, number === 1 ? 'plant-starter' : `plant-starter-${number}`);
    const taken = await workspace.fs.stat(folder).then(
      () => true,
      () => false,
    );
    if (!taken) return folder;
  }
}

/** File by file: what an extension ships may be read-only, and copying whole folders is not possible everywhere. */
async function copyFolder(from: Uri, to: Uri): Promise<void> {
  await workspace.fs.createDirectory(to);
  for (const [name, type] of await workspace.fs.readDirectory(from)) {
    const [source, target] = [Uri.joinPath(from, name), Uri.joinPath(to, name)];
    if (type === FileType.Directory) await copyFolder(source, target);
    else await workspace.fs.writeFile(target, await workspace.fs.readFile(source));
  }
}
