// The command "Restart Language Server".
import { commands, type Disposable, window } from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';

export function restartServer(client: LanguageClient): Disposable {
  return commands.registerCommand('wattwright.restartServer', async () => {
    try {
      await client.restart();
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      void window.showErrorMessage(`Wattwright: the language server did not restart. ${reason}`);
    }
  });
}
