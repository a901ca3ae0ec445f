// Which lines the author has written since a document was opened.
import type { TextDocuments } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';

/** Gives for a document what tells of a line, by its text without blanks at the end, whether it was not there at first. */
export function newLines(documents: TextDocuments<TextDocument>): (uri: string) => (line: string) => boolean {
  /** As it was opened; cut into lines only once somebody asks: a renaming opens a thousand at once. */
  const opened = new Map<string, string | ReadonlySet<string>>();
  documents.onDidOpen(({ document }) => opened.set(document.uri, document.getText()));
  documents.onDidClose(({ document }) => opened.delete(document.uri));
  return uri => {
    const text = opened.get(uri);
    if (text === undefined) return () => false;
    const lines = typeof text === 'string' ? new Set(text.split('\n').map(line => line.trimEnd())) : text;
    opened.set(uri, lines);
    return line => !lines.has(line);
  };
}
