// The extension in a browser: the language server is a worker, and reads files through the editor.
import { type ExtensionContext, Uri, workspace } from 'vscode';
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  LanguageClient,
  type MessageTransports,
} from 'vscode-languageclient/browser';
import { clientOptions, startProduct, stopProduct } from './product.ts';

let worker: Worker | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const start = async (): Promise<MessageTransports> => {
    // A restart leaves the old one without anybody to talk to.
    worker?.terminate();
    worker = new Worker(await scriptAddress(Uri.joinPath(context.extensionUri, 'dist/web/server.js')));
    // Not the worker itself: the editor puts a class of its own in place of `Worker`, which the client does not know.
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
  };
  await startProduct(context, new LanguageClient('wattwright', 'Wattwright', start, clientOptions(context)));
}

export async function deactivate(): Promise<void> {
  await stopProduct();
  worker?.terminate();
}

/** Where the extension lies on a remote computer no worker may start from its address: then from its text. */
async function scriptAddress(script: Uri): Promise<string> {
  if (script.scheme !== 'vscode-remote') return script.toString(true);
  const text = new TextDecoder().decode(await workspace.fs.readFile(script));
  return URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
}
