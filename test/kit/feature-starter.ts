// The starter's plants as the marked text of a feature's test.
import { starter } from './starter.ts';

/** One plant of the starter with the files that it uses; the mark stands before the first occurrence of `before`. */
export function starterText(first: string, before?: string, ...edits: readonly (readonly [string, string])[]): string {
  const [head, ...rest] = [...starter(first)];
  const text = edits.reduce((text, [from, to]) => {
    if (!text.includes(from)) throw new Error(`\`${from}\` does not stand in ${first}`);
    return text.replace(from, () => to);
  }, head?.[1] ?? '');
  const marked = before === undefined ? text : text.replace(before, found => `‸${found}`);
  return [marked, ...rest.map(([path, part]) => `--- ${path}\n${part}`)].join('\n');
}
