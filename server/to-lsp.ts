// The only place where our findings, places and edits become those of the language server protocol.
import {
  type CodeAction,
  CodeActionKind,
  type CompletionItem,
  CompletionItemKind,
  type Diagnostic,
  DiagnosticSeverity,
  type DocumentSymbol,
  InsertTextFormat,
  type Position,
  type Range,
  SymbolKind,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { OutlineEntry, WorkspacePath } from '../engine/analysis.ts';
import type { FileEdit, Finding, Fix, Place, Severity } from '../engine/finding.ts';
import type { Completion, CompletionType } from './features/completion.ts';
import { type LineIndex, offsetAt, positionAt } from './lines.ts';

/** What the conversion has to know of the files that places lie in. */
export interface FileLookup {
  linesOf(path: WorkspacePath): LineIndex | undefined;
  uriOf(path: WorkspacePath): string;
}

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  note: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

export function toRange(lines: LineIndex, start: number, end: number): Range {
  return { start: toPosition(lines, start), end: toPosition(lines, end) };
}

export function toPosition(lines: LineIndex, offset: number): Position {
  const { line, column } = positionAt(lines, offset);
  return { line, character: column };
}

export function fromPosition(lines: LineIndex, { line, character }: Position): number {
  return offsetAt(lines, { line, column: character });
}

export function toDiagnostic(finding: Finding, files: FileLookup): Diagnostic {
  return {
    range: rangeOf(finding.place, files),
    severity: severities[finding.severity],
    code: finding.code,
    source: 'wattwright',
    message: finding.hazard ? `Hazard: ${finding.message}` : finding.message,
    relatedInformation: finding.related.map(({ place, message }) => ({
      location: { uri: files.uriOf(place.path), range: rangeOf(place, files) },
      message,
    })),
  };
}

export function toCodeAction(
  fix: Fix,
  finding: Finding,
  diagnostic: Diagnostic | undefined,
  files: FileLookup,
): CodeAction {
  return {
    title: fix.title,
    kind: CodeActionKind.QuickFix,
    // One safe fix may be offered first; a choice never is.
    isPreferred: fix.safe && finding.fixes.length === 1,
    edit: toWorkspaceEdit(fix.edits, files),
    ...(diagnostic === undefined ? {} : { diagnostics: [diagnostic] }),
  };
}

const itemKinds: Readonly<Record<CompletionType, CompletionItemKind>> = {
  kind: CompletionItemKind.Class,
  keyword: CompletionItemKind.Keyword,
  snippet: CompletionItemKind.Snippet,
  property: CompletionItemKind.Property,
  unit: CompletionItemKind.Unit,
  choice: CompletionItemKind.EnumMember,
  component: CompletionItemKind.Variable,
  part: CompletionItemKind.Module,
  result: CompletionItemKind.Field,
  value: CompletionItemKind.Value,
  code: CompletionItemKind.Constant,
  file: CompletionItemKind.File,
  function: CompletionItemKind.Function,
};

/** Keeps the order in which the feature lists them: the editor would sort by label. */
export function toCompletionItem(item: Completion, index: number, lines: LineIndex): CompletionItem {
  return {
    label: item.label,
    kind: itemKinds[item.type],
    sortText: String(index).padStart(4, '0'),
    filterText: item.label,
    insertTextFormat: item.snippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    textEdit: { range: toRange(lines, item.start, item.end), newText: item.text },
    ...(item.detail === undefined ? {} : { detail: item.detail }),
    ...(item.markdown === undefined ? {} : { documentation: { kind: 'markdown', value: item.markdown } }),
  };
}

const symbolKinds: Readonly<Partial<Record<OutlineEntry['kind'], SymbolKind>>> = {
  plant: SymbolKind.Module,
  practice: SymbolKind.Namespace,
  duty: SymbolKind.Event,
  case: SymbolKind.Event,
  let: SymbolKind.Constant,
  part: SymbolKind.Class,
  catalogue: SymbolKind.Enum,
  require: SymbolKind.Boolean,
  accept: SymbolKind.Boolean,
  use: SymbolKind.File,
  connect: SymbolKind.Interface,
};

export function toSymbol({ name, kind, detail, place, nameplace }: OutlineEntry, lines: LineIndex): DocumentSymbol {
  return {
    // The protocol forbids an empty name.
    name: name.trim() === '' ? kind : name,
    detail,
    kind: symbolKinds[kind] ?? SymbolKind.Object,
    range: toRange(lines, place.start, place.end),
    selectionRange: toRange(lines, nameplace.start, nameplace.end),
  };
}

export function toWorkspaceEdit(edits: readonly FileEdit[], files: FileLookup): WorkspaceEdit {
  const changes: Record<string, TextEdit[]> = {};
  for (const { place, text } of edits) {
    const uri = files.uriOf(place.path);
    changes[uri] ??= [];
    changes[uri].push({ range: rangeOf(place, files), newText: text });
  }
  return { changes };
}

function rangeOf(place: Place, files: FileLookup): Range {
  const lines = files.linesOf(place.path);
  return lines === undefined ? toRange({ text: '', starts: [0] }, 0, 0) : toRange(lines, place.start, place.end);
}
