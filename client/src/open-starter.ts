// The command "Open Starter Workspace": copies the sample plants to a place of the author's choice and opens them.
import { commands, type Disposable, type ExtensionContext, FileType, Uri, window, workspace } from 'vscode';

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
    await commands.executeCommand('vscode.openFolder', target);
  });
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
