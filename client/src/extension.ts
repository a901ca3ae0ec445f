// The extension on a computer of one's own: the language server is a process.
import type { ExtensionContext } from 'vscode';
import { LanguageClient, type ServerOptions, TransportKind } from 'vscode-languageclient/node';
import { serverNodeOptions } from '../../server/node-options.ts';
import { clientOptions, startProduct, stopProduct } from './product.ts';

export async function activate(context: ExtensionContext): Promise<void> {
  const module = context.asAbsolutePath('dist/server.cjs');
  const server = { module, transport: TransportKind.ipc, options: { execArgv: serverNodeOptions } };
  const serverOptions: ServerOptions = { run: server, debug: server };
  await startProduct(context, new LanguageClient('wattwright', 'Wattwright', serverOptions, clientOptions(context)));
}

export async function deactivate(): Promise<void> {
  await stopProduct();
}
