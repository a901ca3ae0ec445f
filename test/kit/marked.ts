// Texts with a mark where the cursor stands: `‸` is taken out of the text and its place is remembered.

export interface MarkedText {
  readonly text: string;
  /** In UTF-16 code units. */
  readonly offset: number;
  /** Lines and columns from 0. */
  readonly position: { readonly line: number; readonly character: number };
}

export const cursorMark = '‸';

export function readMarked(marked: string): MarkedText {
  const offset = marked.indexOf(cursorMark);
  if (offset === -1 || marked.indexOf(cursorMark, offset + 1) !== -1)
    throw new Error(`One ${cursorMark} is needed:\n${marked}`);
  const before = marked.slice(0, offset).split('\n');
  return {
    text: marked.slice(0, offset) + marked.slice(offset + 1),
    offset,
    position: { line: before.length - 1, character: before.at(-1)!.length },
  };
}
