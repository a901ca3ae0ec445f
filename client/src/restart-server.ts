// The command "Restart Language Server".
import { commands, type Disposable, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

export function restartServer(client: BaseLanguageClient): Disposable {
  return commands.registerCommand('wattwright.restartServer', async () => {
    try {
      if (client.needsStop()) await client.stop();
      await client.start();
      // Asked for, so it is answered; a line that goes by itself is enough.
      window.setStatusBarMessage('Wattwright: the language server runs anew.', 5000);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      void window.showErrorMessage(`Wattwright: the language server did not restart. ${reason}`);
    }
  });
}
