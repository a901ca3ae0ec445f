// Our edits, fixes and refactorings as those of the language server protocol, as far as the editor knows them.
import {
  type AnnotatedTextEdit,
  type CodeAction,
  CodeActionKind,
  CreateFile,
  type Diagnostic,
  type SnippetTextEdit,
  type TextDocumentEdit,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { WorkspacePath } from '../engine/analysis.ts';
import type { FileEdit, Finding, Fix } from '../engine/finding.ts';
import type { OffsetEdit } from './features/formatting.ts';
import type { Refactoring } from './features/refactorings.ts';
import type { LineIndex } from './lines.ts';
import { type FileLookup, rangeOf, toRange } from './to-lsp.ts';
import type { EditWishes } from './wishes.ts';

/** What editing has to know beyond places. */
export interface EditLookup extends FileLookup {
  /** The editor's number for the text; null for one that it has not opened. */
  versionOf(path: WorkspacePath): number | null;
}

export interface EditOptions {
  readonly files: EditLookup;
  readonly wishes: EditWishes;
  /** The file that the author looks at: changes elsewhere are shown before they are made. */
  readonly from: WorkspacePath;
}

/** A choice says what it decides; a safe change says nothing. */
export interface Choice {
  readonly label: string;
  readonly description?: string;
}

export function toWorkspaceEdit(
  edits: readonly FileEdit[],
  options: EditOptions,
  { choice, snippet = false, create }: { choice?: Choice; snippet?: boolean; create?: Refactoring['create'] } = {},
): WorkspaceEdit {
  const { files, wishes, from } = options;
  if (!wishes.versions) return { changes: plainChanges(edits, files, snippet) };
  const elsewhere = create !== undefined || edits.some(({ place }) => place.path !== from);
  const annotated = choice !== undefined && wishes.annotations;
  const changeAnnotations = annotated ? { choice: { ...choice, needsConfirmation: elsewhere } } : undefined;
  const make = (edit: FileEdit): TextEdit | AnnotatedTextEdit | SnippetTextEdit => {
    const range = rangeOf(edit.place, files);
    if (snippet && wishes.snippets) return { range, snippet: { kind: 'snippet', value: edit.text } };
    const newText = snippet ? withoutPlaceholders(edit.text) : edit.text;
    return annotated ? { range, newText, annotationId: 'choice' } : { range, newText };
  };
  const documentChanges = [...byFile(edits)].map(([path, own]): TextDocumentEdit => {
    return { textDocument: { uri: files.uriOf(path), version: files.versionOf(path) }, edits: own.map(make) };
  });
  const made = create === undefined ? [] : createFile(create, files, annotated);
  return {
    documentChanges: [...made, ...documentChanges],
    ...(changeAnnotations === undefined ? {} : { changeAnnotations }),
  };
}

function createFile({ path, text }: { path: WorkspacePath; text: string }, files: EditLookup, annotated: boolean) {
  const uri = files.uriOf(path);
  const start = { line: 0, character: 0 };
  const fill: TextDocumentEdit = {
    textDocument: { uri, version: null },
    edits: [{ range: { start, end: start }, newText: text, ...(annotated ? { annotationId: 'choice' } : {}) }],
  };
  return [CreateFile.create(uri, { overwrite: false, ignoreIfExists: false }), fill];
}

function plainChanges(edits: readonly FileEdit[], files: FileLookup, snippet: boolean): Record<string, TextEdit[]> {
  const changes: Record<string, TextEdit[]> = {};
  for (const [path, own] of byFile(edits)) {
    changes[files.uriOf(path)] = own.map(({ place, text }) => {
      return { range: rangeOf(place, files), newText: snippet ? withoutPlaceholders(text) : text };
    });
  }
  return changes;
}

function byFile(edits: readonly FileEdit[]): ReadonlyMap<WorkspacePath, readonly FileEdit[]> {
  const found = new Map<WorkspacePath, FileEdit[]>();
  for (const edit of edits) {
    const own = found.get(edit.place.path);
    if (own === undefined) found.set(edit.place.path, [edit]);
    else own.push(edit);
  }
  return found;
}

function withoutPlaceholders(text: string): string {
  return text.replace(/\$\{\d+:([^}]*)\}/g, '$1');
}

export function toTextEdit({ start, end, text }: OffsetEdit, lines: LineIndex): TextEdit {
  return { range: toRange(lines, start, end), newText: text };
}

export function toCodeAction(
  fix: Fix,
  finding: Finding,
  diagnostic: Diagnostic | undefined,
  options: EditOptions,
): CodeAction {
  return {
    title: fix.title,
    kind: CodeActionKind.QuickFix,
    // One safe fix may be offered first; a choice never is.
    isPreferred: fix.safe && finding.fixes.length === 1,
    edit: toWorkspaceEdit(fix.edits, options, fix.safe ? {} : { choice: { label: fix.title } }),
    ...(diagnostic === undefined ? {} : { diagnostics: [diagnostic] }),
  };
}

const refactoringKinds: Readonly<Record<Refactoring['kind'], string>> = {
  rewrite: CodeActionKind.RefactorRewrite,
  extract: CodeActionKind.RefactorExtract,
  quickfix: CodeActionKind.QuickFix,
};

/** Undefined where the editor can't do it: it could not make the file that it needs. */
export function toRefactoring(
  { title, kind, edits, snippet, create, decides }: Refactoring,
  diagnostic: Diagnostic | undefined,
  options: EditOptions,
): CodeAction | undefined {
  if (create !== undefined && !options.wishes.creates) return undefined;
  const choice = { label: title, description: decides };
  return {
    title,
    kind: refactoringKinds[kind],
    edit: toWorkspaceEdit(edits, options, { choice, snippet, ...(create === undefined ? {} : { create }) }),
    ...(diagnostic === undefined ? {} : { diagnostics: [diagnostic] }),
  };
}

export function refactoringKind({ kind }: Refactoring): string {
  return refactoringKinds[kind];
}
