// What the server can do, as it tells the editor when they meet.
import {
  CodeActionKind,
  type FileOperationRegistrationOptions,
  type ServerCapabilities,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import { tokenModifiers, tokenTypes } from './features/semantic-tokens.ts';

const renamed: FileOperationRegistrationOptions['filters'] = [
  { pattern: { glob: '**/*.plant', matches: 'file' } },
  { pattern: { glob: '**', matches: 'folder' } },
];

export const abilities: ServerCapabilities = {
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
  hoverProvider: true,
  completionProvider: { triggerCharacters: ['.', '"', '/'] },
  signatureHelpProvider: { triggerCharacters: ['(', ','], retriggerCharacters: [' ', '{'] },
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '}', moreTriggerCharacter: ['\n'] },
  documentSymbolProvider: true,
  workspaceSymbolProvider: true,
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  callHierarchyProvider: true,
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  documentLinkProvider: {},
  inlayHintProvider: true,
  codeLensProvider: {},
  semanticTokensProvider: {
    legend: { tokenTypes: [...tokenTypes], tokenModifiers: [...tokenModifiers] },
    full: true,
    range: true,
  },
  codeActionProvider: {
    codeActionKinds: [
      CodeActionKind.QuickFix,
      CodeActionKind.RefactorExtract,
      CodeActionKind.RefactorRewrite,
      CodeActionKind.SourceFixAll,
    ],
  },
  workspace: {
    workspaceFolders: { supported: true, changeNotifications: true },
    // Asked before for what has to follow, told afterwards: what is read in between is not there yet.
    fileOperations: { willRename: { filters: renamed }, didRename: { filters: renamed } },
  },
};
