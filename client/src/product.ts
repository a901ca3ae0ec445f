// What the extension does wherever it runs: starts the client and offers the commands; the server knows the plants.
import { type Disposable, type ExtensionContext, type LogOutputChannel, window, workspace } from 'vscode';
import { type BaseLanguageClient, type LanguageClientOptions, State } from 'vscode-languageclient';
import { answerFileRequests } from './answer-file-requests.ts';
import { copyEnvironment } from './copy-environment.ts';
import { languageStatus } from './language-status.ts';
import { openReference, openReferenceCommand, referenceFiles } from './open-reference.ts';
import { openFirstDraft, openStarter } from './open-starter.ts';
import { restartServer } from './restart-server.ts';
import { showChanges } from './show-changes.ts';
import { showDerivation, showDerivationCommand } from './show-derivation.ts';

let running: BaseLanguageClient | undefined;

export function clientOptions(context: ExtensionContext): LanguageClientOptions {
  const log: LogOutputChannel = window.createOutputChannel('Wattwright', { log: true });
  context.subscriptions.push(log);
  // Folders may lie in a repository or a file system of an extension: whatever is open is checked, history is not.
  const schemes = new Set(['file', 'untitled', ...(workspace.workspaceFolders ?? []).map(({ uri }) => uri.scheme)]);
  return {
    documentSelector: [...schemes].map(scheme => ({ scheme, language: 'plant' })),
    initializationOptions: { derivationLinks: true, referenceLinks: true },
    synchronize: { configurationSection: 'wattwright' },
    outputChannel: log,
    // The only commands that a link in a hover can run.
    markdown: { isTrusted: { enabledCommands: [showDerivationCommand, openReferenceCommand] }, supportHtml: false },
  };
}

export async function startProduct(context: ExtensionContext, client: BaseLanguageClient): Promise<void> {
  running = client;
  const parts: readonly Disposable[] = [
    answerFileRequests(client),
    showDerivation(client),
    showChanges(client),
    referenceFiles(client),
    openReference(client),
    languageStatus(client),
    copyEnvironment(context, client),
    restartServer(client),
    // Otherwise the log of a session without trouble is empty, and nobody can tell whether anything runs.
    client.onDidChangeState(({ newState }) => client.info(`Language server: ${State[newState]}`)),
    openStarter(context),
  ];
  context.subscriptions.push(...parts);
  const draft = openFirstDraft(context);
  try {
    await client.start();
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    void window.showErrorMessage(`Wattwright: the language server did not start. ${reason}`);
  }
  await draft;
}

export async function stopProduct(): Promise<void> {
  if (running?.needsStop()) await running.stop();
}
