// The command "Copy Environment for a Report": what whoever reads a bug report asks first, and nothing of the plants.
import { commands, type Disposable, type ExtensionContext, env, UIKind, version, window, workspace } from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';

export function copyEnvironment(context: ExtensionContext, client: BaseLanguageClient): Disposable {
  return commands.registerCommand('wattwright.copyEnvironment', async () => {
    await env.clipboard.writeText(describe(context, client));
    void window.showInformationMessage('Wattwright: the environment is in the clipboard, ready for a report.');
  });
}

function describe({ extension }: ExtensionContext, client: BaseLanguageClient): string {
  const { version: own } = extension.packageJSON as { readonly version: string };
  const settings = workspace.getConfiguration('wattwright');
  const host = typeof process === 'undefined' ? 'browser worker' : `Node ${process.versions.node}, ${process.platform}`;
  const schemes = new Set((workspace.workspaceFolders ?? []).map(({ uri }) => uri.scheme));
  const open = workspace.textDocuments.filter(({ languageId }) => languageId === 'plant').length;
  const lines = [
    `Wattwright ${own}`,
    `Editor: ${env.appName} ${version}, ${env.uiKind === UIKind.Web ? 'in a browser' : 'on the desktop'}`,
    `Host: ${host}${env.remoteName === undefined ? '' : `, remote ${env.remoteName}`}`,
    `Language server: ${State[client.state]}`,
    `Workspace: ${schemes.size === 0 ? 'no folder' : [...schemes].join(', ')}, ${workspace.isTrusted ? 'trusted' : 'not trusted'}`,
    `Plant files open: ${open}`,
    `Settings: ${JSON.stringify(settings)}`,
  ];
  return `${lines.join('\n')}\n`;
}
