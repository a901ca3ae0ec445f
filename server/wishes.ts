// What the editor's side can do, as it said when it said hello.
import type { InitializeParams } from 'vscode-languageserver';

export interface ClientWishes {
  /** It knows the command behind the links in a hover. */
  readonly derivationLinks: boolean;
  /** It can show the pages of our reference behind a finding's code. */
  readonly referenceLinks: boolean;
  readonly watchesFiles: boolean;
  readonly changesFolders: boolean;
  readonly showsProgress: boolean;
  readonly locationLinks: boolean;
  readonly refreshesTokens: boolean;
  readonly refreshesLenses: boolean;
  readonly refreshesInlays: boolean;
  readonly edits: EditWishes;
}

export interface EditWishes {
  /** Edits with the version of the text that they are made for. */
  readonly versions: boolean;
  readonly annotations: boolean;
  readonly snippets: boolean;
  readonly creates: boolean;
}

export const noWishes: ClientWishes = readWishes({ capabilities: {}, processId: null, rootUri: null });

export function readWishes({ capabilities, initializationOptions }: InitializeParams): ClientWishes {
  const { workspace, textDocument, window } = capabilities;
  const edit = workspace?.workspaceEdit;
  return {
    derivationLinks: given(initializationOptions, 'derivationLinks'),
    referenceLinks: given(initializationOptions, 'referenceLinks'),
    watchesFiles: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    changesFolders: workspace?.workspaceFolders === true,
    showsProgress: window?.workDoneProgress === true,
    locationLinks: textDocument?.definition?.linkSupport === true,
    refreshesTokens: workspace?.semanticTokens?.refreshSupport === true,
    refreshesLenses: workspace?.codeLens?.refreshSupport === true,
    refreshesInlays: workspace?.inlayHint?.refreshSupport === true,
    edits: {
      versions: edit?.documentChanges === true,
      annotations: edit?.documentChanges === true && edit.changeAnnotationSupport !== undefined,
      snippets: edit?.documentChanges === true && edit.snippetEditSupport === true,
      creates: edit?.documentChanges === true && edit.resourceOperations?.includes('create') === true,
    },
  };
}

function given(options: unknown, key: string): boolean {
  return typeof options === 'object' && options !== null && Reflect.get(options, key) === true;
}
