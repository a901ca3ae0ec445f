// Text that is kept for longer than the file that it comes from.

/** JavaScript engines copy what is shorter than this, and cut longer pieces without copying. */
const copiedAnyway = 13;

/** The same text in memory of its own: a piece cut from a file keeps the whole file, one state of it after the other. */
export function detached(text: string): string {
  return text.length < copiedAnyway ? text : (JSON.parse(JSON.stringify(text)) as string);
}
