// The command "Show Derivation": how a value came about, as a read-only page beside the text.
import { commands, Disposable, Uri, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { livePages } from './live-pages.ts';

export const showDerivationCommand = 'wattwright.showDerivation';

const scheme = 'wattwright-derivation';

interface Asked {
  readonly uri: string;
  readonly name: string;
}

interface ListedValue {
  readonly name: string;
  readonly display: string;
  readonly meaning: string;
}

export function showDerivation(client: BaseLanguageClient): Disposable {
  const pages = livePages(scheme, async page => {
    const asked = readAsked(page.query);
    const text = asked && (await client.sendRequest<string | null>('wattwright/derivation', asked));
    return text ?? 'There is no such value in this plant, or its file is not open any more.\n';
  });
  const command = commands.registerCommand(showDerivationCommand, async (argument: unknown) => {
    const asked = isAsked(argument) ? argument : await askForValue(client);
    if (asked === undefined) return;
    await pages.show(Uri.from({ scheme, path: `/${asked.name}.md`, query: JSON.stringify(asked) }));
  });
  return Disposable.from(pages, command);
}

/** From the command palette: any value of the plant in the active editor. */
async function askForValue(client: BaseLanguageClient): Promise<Asked | undefined> {
  const editor = window.activeTextEditor;
  if (editor?.document.languageId !== 'plant') return undefined;
  const uri = client.code2ProtocolConverter.asUri(editor.document.uri);
  const position = client.code2ProtocolConverter.asPosition(editor.selection.active);
  const values = await client.sendRequest<readonly ListedValue[] | null>('wattwright/values', { uri, position });
  if (values === null || values.length === 0) {
    void window.showInformationMessage('Wattwright: nothing can be derived from this file yet.');
    return undefined;
  }
  const items = values.map(({ name, display, meaning }) => ({ label: name, description: display, detail: meaning }));
  const options = { placeHolder: 'Value whose derivation to show', matchOnDetail: true };
  const chosen = await window.showQuickPick(items, options);
  return chosen && { uri, name: chosen.label };
}

function readAsked(query: string): Asked | undefined {
  try {
    const value: unknown = JSON.parse(query);
    return isAsked(value) ? { uri: value.uri, name: value.name } : undefined;
  } catch {
    return undefined;
  }
}

function isAsked(value: unknown): value is Asked {
  if (typeof value !== 'object' || value === null || !('uri' in value) || !('name' in value)) return false;
  return typeof value.uri === 'string' && typeof value.name === 'string';
}
