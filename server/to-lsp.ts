// The only place where our findings, places and edits become those of the language server protocol.
import {
  type CallHierarchyItem,
  type CodeLens,
  type Command,
  type CompletionItem,
  CompletionItemKind,
  type Diagnostic,
  DiagnosticSeverity,
  type DocumentHighlight,
  DocumentHighlightKind,
  type DocumentSymbol,
  type FoldingRange,
  FoldingRangeKind,
  type InlayHint,
  InsertTextFormat,
  type Location,
  type LocationLink,
  type Position,
  type Range,
  type SelectionRange,
  type SemanticTokens,
  SemanticTokensBuilder,
  type SignatureHelp,
  SymbolKind,
  type WorkspaceSymbol,
} from 'vscode-languageserver';
import type { OutlineEntry, WorkspacePath } from '../engine/analysis.ts';
import type { Finding, Place, Severity } from '../engine/finding.ts';
import type { Span } from '../grammar/ast.ts';
import type { Lens } from './features/code-lens.ts';
import type { Completion, CompletionType } from './features/completion.ts';
import type { Definition } from './features/definition.ts';
import type { Fold } from './features/folding.ts';
import type { ValueItem } from './features/hierarchy.ts';
import type { Highlight } from './features/highlights.ts';
import type { InlayValue } from './features/inlay-values.ts';
import type { Sort } from './features/occurrences.ts';
import { type SemanticToken, tokenModifiers, tokenTypes } from './features/semantic-tokens.ts';
import type { SignatureHelp as Signature } from './features/signature-help.ts';
import type { WorkspaceSymbol as NamedSymbol } from './features/workspace-symbols.ts';
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

/** `page` makes the address of the reference's page on a code, where the editor can show it. */
export function toDiagnostic(
  finding: Finding,
  files: FileLookup,
  page?: (code: Finding['code']) => string | undefined,
): Diagnostic {
  const href = page?.(finding.code);
  return {
    ...(href === undefined ? {} : { codeDescription: { href } }),
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

const workspaceSymbolKinds: Readonly<Record<Sort, SymbolKind>> = {
  plant: SymbolKind.Module,
  component: SymbolKind.Object,
  duty: SymbolKind.Event,
  practice: SymbolKind.Namespace,
  let: SymbolKind.Constant,
  part: SymbolKind.Class,
  catalogue: SymbolKind.Enum,
  row: SymbolKind.EnumMember,
  case: SymbolKind.Event,
  alias: SymbolKind.Namespace,
  property: SymbolKind.Property,
  result: SymbolKind.Field,
  file: SymbolKind.File,
};

export function toWorkspaceSymbol(symbol: NamedSymbol, files: FileLookup): WorkspaceSymbol {
  const { name, sort, container, occurrence } = symbol;
  return {
    name,
    kind: workspaceSymbolKinds[sort],
    ...(container === undefined ? {} : { containerName: container }),
    location: toLocation(occurrence.place, files),
  };
}

export function toLocation(place: Place, files: FileLookup): Location {
  return { uri: files.uriOf(place.path), range: rangeOf(place, files) };
}

export function toLocationLink({ origin, target }: Definition, files: FileLookup): LocationLink {
  const targetRange = rangeOf(target, files);
  return {
    originSelectionRange: rangeOf(origin, files),
    targetUri: files.uriOf(target.path),
    targetRange,
    targetSelectionRange: targetRange,
  };
}

export function toHighlight({ place, access }: Highlight, files: FileLookup): DocumentHighlight {
  const kind = access === 'write' ? DocumentHighlightKind.Write : DocumentHighlightKind.Read;
  return { range: rangeOf(place, files), kind };
}

const foldKinds: Readonly<Record<Fold['kind'], FoldingRangeKind | undefined>> = {
  block: undefined,
  comment: FoldingRangeKind.Comment,
  imports: FoldingRangeKind.Imports,
};

export function toFoldingRange({ start, end, kind }: Fold, lines: LineIndex): FoldingRange {
  const foldKind = foldKinds[kind];
  return {
    startLine: positionAt(lines, start).line,
    endLine: positionAt(lines, end).line,
    ...(foldKind === undefined ? {} : { kind: foldKind }),
  };
}

/** From the inside to the outside; the protocol wants each to hold the next larger one. */
export function toSelectionRange(spans: readonly Span[], lines: LineIndex): SelectionRange {
  const ranges = spans.map(({ start, end }) => toRange(lines, start, end));
  const made = ranges.reduceRight<SelectionRange | undefined>((parent, range) => {
    return parent === undefined ? { range } : { range, parent };
  }, undefined);
  return made ?? { range: toRange(lines, 0, 0) };
}

export function toSemanticTokens(tokens: readonly SemanticToken[], lines: LineIndex): SemanticTokens {
  const builder = new SemanticTokensBuilder();
  for (const { start, end, type, modifiers } of tokens) {
    const { line, column } = positionAt(lines, start);
    const bits = modifiers.reduce((sum, modifier) => sum | (1 << tokenModifiers.indexOf(modifier)), 0);
    builder.push(line, column, end - start, tokenTypes.indexOf(type), bits);
  }
  return builder.build();
}

/** Where the editor can show derivations, `uri` is the file's: then the value leads to its own. */
export function toInlayHint(value: InlayValue, lines: LineIndex, uri: string | undefined): InlayHint {
  const { offset, text, name, writes, tooltip } = value;
  const place = { position: toPosition(lines, offset), paddingLeft: true };
  if (writes !== undefined) {
    const textEdits = [{ range: toRange(lines, writes.start, writes.end), newText: writes.text }];
    return { ...place, label: text, tooltip, textEdits };
  }
  if (uri === undefined || name === undefined) return { ...place, label: text, tooltip };
  return { ...place, label: [{ value: text, tooltip, command: derivationCommand(text, uri, name) }] };
}

function derivationCommand(title: string, uri: string, name: string): Command {
  return { title, command: 'wattwright.showDerivation', arguments: [{ uri, name }] };
}

/** `command` shows a value's derivation; without one the lens only tells. */
export function toCodeLens({ start, end, text, name }: Lens, lines: LineIndex, uri: string | undefined): CodeLens {
  const shows = uri !== undefined && name !== undefined;
  const command = shows ? derivationCommand(text, uri, name) : { title: text, command: '' };
  return { range: toRange(lines, start, end), command };
}

export function toSignatureHelp({ label, markdown, parameters, active }: Signature): SignatureHelp {
  const documentation = (value: string) => ({ kind: 'markdown' as const, value });
  const listed = parameters.map(one => ({ label: one.label, documentation: documentation(one.markdown) }));
  return {
    signatures: [{ label, documentation: documentation(markdown), parameters: listed }],
    activeSignature: 0,
    activeParameter: active,
  };
}

export function toHierarchyItem({ name, display, is, place }: ValueItem, asked: string, files: FileLookup) {
  const range = rangeOf(place, files);
  const item: CallHierarchyItem = {
    name: display === '' ? name : `${name} = ${display}`,
    kind: is === 'fact' ? SymbolKind.Property : SymbolKind.Field,
    uri: files.uriOf(place.path),
    range,
    selectionRange: range,
    data: { uri: asked, name },
  };
  return item;
}

export function rangeOf(place: Place, files: FileLookup): Range {
  const lines = files.linesOf(place.path);
  return lines === undefined ? toRange({ text: '', starts: [0] }, 0, 0) : toRange(lines, place.start, place.end);
}
