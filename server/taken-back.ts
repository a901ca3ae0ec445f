// Questions that the editor takes back while they still wait: each is refused at once and costs no work.
import { type ConnectionStrategy, LSPErrorCodes } from 'vscode-languageserver';

export const takenBack: ConnectionStrategy = {
  cancelUndispatched: () => ({
    jsonrpc: '2.0',
    // Filled in by whoever sends it.
    id: null,
    error: { code: LSPErrorCodes.RequestCancelled, message: 'taken back' },
  }),
};
