// Answers that the editor shows unasked: colours, folds, links, values beside and above the lines.
import type {
  CodeLens,
  DocumentLink,
  DocumentSymbol,
  FoldingRange,
  InlayHint,
  Range,
  SelectionRange,
  SelectionRangeParams,
  SemanticTokens,
  SignatureHelp,
  TextDocumentIdentifier,
  TextDocumentPositionParams,
} from 'vscode-languageserver';
import { codeLenses } from './features/code-lens.ts';
import { documentLinks } from './features/document-links.ts';
import { folding } from './features/folding.ts';
import { inlayValues } from './features/inlay-values.ts';
import { outline } from './features/outline.ts';
import { selectionRanges } from './features/selection-ranges.ts';
import { dangerousNames, type SemanticToken, semanticTokens } from './features/semantic-tokens.ts';
import { signatureHelp } from './features/signature-help.ts';
import type { AnswersOptions, OpenFiles, Parsed } from './open-file.ts';
import {
  fromPosition,
  toCodeLens,
  toFoldingRange,
  toInlayHint,
  toLocation,
  toSelectionRange,
  toSemanticTokens,
  toSignatureHelp,
  toSymbol,
} from './to-lsp.ts';

interface Document {
  readonly textDocument: TextDocumentIdentifier;
}

export interface DisplayAnswers {
  outline(params: Document): Promise<DocumentSymbol[]>;
  folding(params: Document): Promise<FoldingRange[]>;
  selectionRanges(params: SelectionRangeParams): Promise<SelectionRange[]>;
  semanticTokens(params: Document): Promise<SemanticTokens>;
  semanticTokensIn(params: Document & { readonly range: Range }): Promise<SemanticTokens>;
  links(params: Document): Promise<DocumentLink[]>;
  inlayValues(params: Document & { readonly range: Range }): Promise<InlayHint[]>;
  codeLenses(params: Document): Promise<CodeLens[]>;
  signatureHelp(params: TextDocumentPositionParams): Promise<SignatureHelp | null>;
}

export function displayAnswers(options: AnswersOptions, files: OpenFiles): DisplayAnswers {
  return {
    outline: async ({ textDocument }) => {
      const file = await files.fresh(textDocument.uri);
      return file === undefined ? [] : outline(file.context).map(entry => toSymbol(entry, file.lines));
    },
    folding: async ({ textDocument }) => {
      const file = await files.parsed(textDocument.uri);
      return file === undefined ? [] : folding(file.context.tree).map(fold => toFoldingRange(fold, file.lines));
    },
    selectionRanges: async ({ textDocument, positions }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return [];
      return positions.map(position => {
        return toSelectionRange(selectionRanges(file.context.tree, fromPosition(file.lines, position)), file.lines);
      });
    },
    semanticTokens: async ({ textDocument }) => {
      const file = await files.parsed(textDocument.uri);
      return file === undefined ? { data: [] } : toSemanticTokens(tokensOf(file), file.lines);
    },
    semanticTokensIn: async ({ textDocument, range }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return { data: [] };
      const [start, end] = [fromPosition(file.lines, range.start), fromPosition(file.lines, range.end)];
      const inside = tokensOf(file).filter(token => token.start < end && start < token.end);
      return toSemanticTokens(inside, file.lines);
    },
    links: async ({ textDocument }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return [];
      return documentLinks(file.context).map(({ place, target }) => {
        return { range: toLocation(place, file.room).range, target: file.room.uriOf(target) };
      });
    },
    inlayValues: async ({ textDocument, range }) => {
      const file = options.settings().inlayValues ? await files.settled(textDocument.uri) : undefined;
      if (file === undefined) return [];
      const [start, end] = [fromPosition(file.lines, range.start), fromPosition(file.lines, range.end)];
      const uri = options.wishes().derivationLinks ? textDocument.uri : undefined;
      return inlayValues(file.context, start, end).map(value => toInlayHint(value, file.lines, uri));
    },
    codeLenses: async ({ textDocument }) => {
      const file = options.settings().codeLens ? await files.settled(textDocument.uri) : undefined;
      if (file === undefined) return [];
      const uri = options.wishes().derivationLinks ? textDocument.uri : undefined;
      return codeLenses(file.context).map(lens => toCodeLens(lens, file.lines, uri));
    },
    signatureHelp: async ({ textDocument, position }) => {
      const file = await files.parsed(textDocument.uri);
      const help = file && signatureHelp(file.context.tree, fromPosition(file.lines, position));
      return help === undefined ? null : toSignatureHelp(help);
    },
  };
}

/** Hazards are coloured by the last analysis: colours don't wait for a new one. */
function tokensOf({ context, room }: Parsed): readonly SemanticToken[] {
  return semanticTokens(context, dangerousNames(room.workspace.latest(context.path)?.analysis));
}
