// Which request gets which answer.
import type { Connection } from 'vscode-languageserver';
import type { Answers } from './answers.ts';

export type Guard = <Question, Answer>(
  name: string,
  answer: (question: Question) => Promise<Answer>,
) => (question: Question) => Promise<Answer | null>;

export function answerRequests(connection: Connection, guarded: Guard, table: Answers): void {
  const { languages } = connection;
  connection.onHover(guarded('hover', table.hover));
  connection.onCompletion(guarded('completion', table.completion));
  connection.onSignatureHelp(guarded('signature help', table.signatureHelp));
  connection.onDocumentFormatting(guarded('formatting', table.formatting));
  connection.onDocumentRangeFormatting(guarded('range formatting', table.rangeFormatting));
  connection.onDocumentOnTypeFormatting(guarded('formatting while typing', table.onTypeFormatting));
  connection.onDocumentSymbol(guarded('outline', table.outline));
  connection.onWorkspaceSymbol(guarded('workspace symbols', table.workspaceSymbols));
  connection.onDefinition(guarded('definition', table.definition));
  connection.onReferences(guarded('references', table.references));
  connection.onDocumentHighlight(guarded('highlights', table.highlights));
  connection.onPrepareRename(guarded('rename', table.prepareRename));
  connection.onRenameRequest(guarded('rename', table.rename));
  connection.workspace.onWillRenameFiles(guarded('renaming files', table.renameFiles));
  connection.onFoldingRanges(guarded('folding', table.folding));
  connection.onSelectionRanges(guarded('selection ranges', table.selectionRanges));
  connection.onDocumentLinks(guarded('links', table.links));
  connection.onCodeLens(guarded('code lens', table.codeLenses));
  connection.onCodeAction(guarded('code actions', table.actions));
  languages.inlayHint.on(guarded('inlay values', table.inlayValues));
  languages.callHierarchy.onPrepare(guarded('hierarchy', table.hierarchy));
  languages.callHierarchy.onIncomingCalls(guarded('hierarchy', table.hierarchyUsers));
  languages.callHierarchy.onOutgoingCalls(guarded('hierarchy', table.hierarchyInputs));
  const nothing = { data: [] };
  const tokens = guarded('colours', table.semanticTokens);
  const tokensIn = guarded('colours', table.semanticTokensIn);
  languages.semanticTokens.on(async params => (await tokens(params)) ?? nothing);
  languages.semanticTokens.onRange(async params => (await tokensIn(params)) ?? nothing);
  connection.onRequest('wattwright/derivation', guarded('derivation', table.derivation));
  connection.onRequest('wattwright/changes', guarded('changes', table.changes));
  connection.onRequest('wattwright/values', guarded('values', table.values));
  connection.onRequest('wattwright/reference', guarded('reference', table.reference));
  connection.onRequest('wattwright/referencePages', guarded('reference', table.referencePages));
}
