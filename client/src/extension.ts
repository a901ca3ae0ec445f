// The extension: starts the language server and offers the commands; everything that knows plants is in the server.
import { type ExtensionContext, window } from 'vscode';
import {
  LanguageClient,
  type LanguageClientOptions,
  type ServerOptions,
  TransportKind,
} from 'vscode-languageclient/node';
import { openStarter } from './open-starter.ts';
import { restartServer } from './restart-server.ts';
import { showDerivation, showDerivationCommand } from './show-derivation.ts';

let client: LanguageClient | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const module = context.asAbsolutePath('dist/server.cjs');
  const server = { module, transport: TransportKind.ipc };
  const serverOptions: ServerOptions = { run: server, debug: server };
  const clientOptions: LanguageClientOptions = {
    documentSelector: [
      { scheme: 'file', language: 'plant' },
      { scheme: 'untitled', language: 'plant' },
    ],
    initializationOptions: { derivationLinks: true },
    // The only command that a link in a hover can run.
    markdown: { isTrusted: { enabledCommands: [showDerivationCommand] }, supportHtml: false },
  };
  client = new LanguageClient('wattwright', 'Wattwright', serverOptions, clientOptions);
  context.subscriptions.push(showDerivation(client), restartServer(client), openStarter(context));
  try {
    await client.start();
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    void window.showErrorMessage(`Wattwright: the language server did not start. ${reason}`);
  }
}

export async function deactivate(): Promise<void> {
  if (client?.needsStop()) await client.stop();
}
