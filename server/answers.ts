// Answers what the editor asks: finds the file, lets the feature work on offsets, converts what comes back.
import {
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  type CompletionItem,
  type CompletionParams,
  type DocumentFormattingParams,
  type DocumentOnTypeFormattingParams,
  type DocumentRangeFormattingParams,
  type Hover,
  type HoverParams,
  type TextEdit,
} from 'vscode-languageserver';
import type { Analysis } from '../engine/analysis.ts';
import { type DisplayAnswers, displayAnswers } from './answers-display.ts';
import { type NameAnswers, nameAnswers } from './answers-names.ts';
import { actionsAt, fixAll } from './features/actions.ts';
import { changesPage, type LastPage } from './features/changes.ts';
import { asksForResults, completion } from './features/completion.ts';
import { derivationPage } from './features/derivation.ts';
import { formatting, rangeFormatting } from './features/formatting.ts';
import { hover } from './features/hover.ts';
import { type ListedValue, listedValues } from './features/listed-values.ts';
import { onTypeFormatting } from './features/on-type-formatting.ts';
import { refactorings } from './features/refactorings.ts';
import { relativePaths } from './features/relative-paths.ts';
import { newLines } from './new-lines.ts';
import { type AnswersOptions, type Opened, type OpenFiles, openFiles, type Parsed } from './open-file.ts';
import { listReference, referencePage } from './render/reference.ts';
import { positionIn, stringIn } from './requests.ts';
import { fromPosition, toCompletionItem, toDiagnostic, toRange } from './to-lsp.ts';
import { refactoringKind, toCodeAction, toRefactoring, toTextEdit, toWorkspaceEdit } from './to-lsp-edits.ts';

export interface Answers extends NameAnswers, DisplayAnswers, WritingAnswers, OwnAnswers {
  hover(params: HoverParams): Promise<Hover | null>;
}

export interface WritingAnswers {
  completion(params: CompletionParams): Promise<CompletionItem[]>;
  formatting(params: DocumentFormattingParams): Promise<TextEdit[]>;
  rangeFormatting(params: DocumentRangeFormattingParams): Promise<TextEdit[]>;
  onTypeFormatting(params: DocumentOnTypeFormattingParams): Promise<TextEdit[]>;
  actions(params: CodeActionParams): Promise<CodeAction[]>;
}

/** Requests that only our own client knows. */
export interface OwnAnswers {
  derivation(params: unknown): Promise<string | null>;
  /** Markdown: what the working text does to the results of the last commit. */
  changes(params: unknown): Promise<string | null>;
  values(params: unknown): Promise<readonly ListedValue[]>;
  reference(params: unknown): Promise<string | null>;
  referencePages(): Promise<ReturnType<typeof listReference>>;
}

export function answers(options: AnswersOptions): Answers {
  const files = openFiles(options);
  return {
    hover: async ({ textDocument, position }) => {
      const file = await files.fresh(textDocument.uri);
      const found = file && hover(file.context, fromPosition(file.lines, position));
      if (file === undefined || found === undefined) return null;
      const range = toRange(file.lines, found.start, found.end);
      return { contents: { kind: 'markdown', value: found.markdown }, range };
    },
    ...writingAnswers(options, files),
    ...nameAnswers(options, files),
    ...displayAnswers(options, files),
    ...ownAnswers(options, files),
  };
}

function offers(file: Parsed, analysis: Analysis | undefined, offset: number): CompletionItem[] {
  const usable = relativePaths(file.context.path, file.room.workspace.partsFiles());
  const items = completion({ ...file.context, analysis, usable }, offset);
  return items.map((item, index) => toCompletionItem(item, index, file.lines));
}

function writingAnswers(options: AnswersOptions, files: OpenFiles): WritingAnswers {
  const isNewIn = newLines(options.documents);
  return {
    completion: async ({ textDocument, position }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return [];
      const offset = fromPosition(file.lines, position);
      if (!asksForResults(file.context.tree, offset)) return offers(file, undefined, offset);
      const checked = await files.fresh(textDocument.uri);
      return checked === undefined
        ? []
        : offers(checked, checked.context.analysis, fromPosition(checked.lines, position));
    },
    formatting: async ({ textDocument }) => {
      const file = options.documents.get(textDocument.uri);
      if (file === undefined) return [];
      return formatting(file.getText()).map(({ start, end, text }) => {
        return { range: { start: file.positionAt(start), end: file.positionAt(end) }, newText: text };
      });
    },
    rangeFormatting: async ({ textDocument, range }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return [];
      const [start, end] = [fromPosition(file.lines, range.start), fromPosition(file.lines, range.end)];
      return rangeFormatting(file.context.tree, start, end).map(edit => toTextEdit(edit, file.lines));
    },
    onTypeFormatting: async ({ textDocument, position, ch }) => {
      const file = await files.parsed(textDocument.uri);
      if (file === undefined) return [];
      const offset = fromPosition(file.lines, position);
      const edits = onTypeFormatting(file.context.tree, offset, ch, isNewIn(textDocument.uri));
      return edits.map(edit => toTextEdit(edit, file.lines));
    },
    actions: async params => {
      const file = await files.fresh(params.textDocument.uri);
      return file === undefined ? [] : actions(params, file, options);
    },
  };
}

function ownAnswers(options: AnswersOptions, files: OpenFiles): OwnAnswers {
  const lastPages = new Map<string, LastPage | undefined>();
  return {
    derivation: async params => {
      const name = stringIn(params, 'name');
      const file = await files.settled(stringIn(params, 'uri') ?? '');
      return (file && name && derivationPage(file.context, name)) || null;
    },
    changes: async params => {
      const uri = stringIn(params, 'uri') ?? '';
      const file = await files.parsed(uri);
      if (file === undefined) {
        lastPages.delete(uri);
        return null;
      }
      const { room, context } = file;
      const checked = await room.workspace.settled(context.path);
      const working = { sources: room.workspace.sources, latest: checked?.analysis };
      const committed = (path: string) => options.committed(room.uriOf(path));
      const settings = { today: options.today() };
      const { text, last } = await changesPage(context.path, working, committed, settings, lastPages.get(uri));
      lastPages.set(uri, last);
      return text;
    },
    values: async params => {
      const file = await files.fresh(stringIn(params, 'uri') ?? '');
      if (file === undefined) return [];
      const cursor = positionIn(params);
      return listedValues(file.context, cursor && fromPosition(file.lines, cursor));
    },
    reference: async params => referencePage(stringIn(params, 'page') ?? '') ?? null,
    referencePages: async () => listReference(),
  };
}

function actions(
  { range, context }: CodeActionParams,
  { context: file, lines, room }: Opened,
  options: AnswersOptions,
): CodeAction[] {
  const wanted = (kind: CodeActionKind) => context.only?.every(only => !`${kind}.`.startsWith(`${only}.`)) !== true;
  const edits = { files: room, wishes: options.wishes().edits, from: file.path };
  const [start, end] = [fromPosition(lines, range.start), fromPosition(lines, range.end)];
  const settings = { today: options.today() };
  const found: CodeAction[] = [];
  if (wanted(CodeActionKind.QuickFix)) {
    const at = actionsAt(file, start, end, settings);
    found.push(...at.map(({ fix, finding }) => toCodeAction(fix, finding, toDiagnostic(finding, room), edits)));
  }
  const known = { today: options.today(), files: room.workspace.files() };
  for (const refactoring of refactorings(file, start, end, known)) {
    if (!wanted(refactoringKind(refactoring))) continue;
    const { finding } = refactoring;
    const action = toRefactoring(refactoring, finding && toDiagnostic(finding, room), edits);
    if (action !== undefined) found.push(action);
  }
  const all = context.only !== undefined && wanted(CodeActionKind.SourceFixAll) ? fixAll(file, settings) : undefined;
  if (all !== undefined) {
    found.push({ title: all.title, kind: CodeActionKind.SourceFixAll, edit: toWorkspaceEdit(all.edits, edits) });
  }
  return found;
}
