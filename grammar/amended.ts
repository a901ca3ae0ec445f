// A chunk in which one number or one property was edited: of a number nothing is read again, else that property, and all
// others stay the objects that they are.
//
// Whoever remembers what he made of a property finds it again then, and typing in a long block reads little.
import type { Chunk, Property } from './ast.ts';
import { type Edit, withNewDigits } from './new-digits.ts';

/** What a property says may be a piece of the text that it was read in: of so many earlier texts at most. */
const mostTexts = 50;

/** How often a chunk, and those that it was made of, were amended. */
const times = new WeakMap<Chunk, number>();

/**
 * The chunk with this text, where it differs from the one before, which is without fault, in the digits of one number or
 * inside one property of a block, and is without fault itself; undefined where that is not so, or not certain. `read`:
 * parses a text as a chunk.
 */
export function amended(before: Chunk, text: string, read: (text: string) => Chunk): Chunk | undefined {
  const { declaration, problems } = before;
  if (declaration === undefined || problems.length > 0) return undefined;
  const earlier = times.get(before) ?? 0;
  const edit = difference(before.text, text);
  const known = withNewDigits(declaration, before.text, text, edit);
  if (known !== undefined) {
    const chunk: Chunk = { text, problems, declaration: known };
    times.set(chunk, earlier);
    return chunk;
  }
  const count = earlier + 1;
  if (count > mostTexts || (declaration.type !== 'entity' && declaration.type !== 'case')) return undefined;
  const { block, properties } = declaration;
  const index = properties.findIndex(({ start, end }) => start < edit.start && edit.end < end);
  const property = properties[index];
  if (block === undefined || property === undefined) return undefined;

  const end = property.end + edit.moved;
  const inner = block.start + 1;
  const ahead = text.slice(0, inner) + blank(text.slice(inner, property.start));
  // What stands behind stays in its place, or is read with it.
  const stays = edit.moved === 0;
  const behind = stays ? blank(text.slice(end, block.end - 1)) + text.slice(block.end - 1) : text.slice(end);
  const again = read(ahead + text.slice(property.start, end) + behind);
  if (again.problems.length > 0 || again.declaration?.type !== declaration.type) return undefined;
  const [first, ...others] = again.declaration.properties as readonly [Property?, ...Property[]];
  // Whatever begins in it and reaches beyond, or ends it sooner, moves its end.
  if (first?.end !== end) return undefined;
  const chunk: Chunk = {
    text,
    problems,
    declaration: {
      ...declaration,
      end: again.declaration.end,
      block: again.declaration.block,
      properties: [
        ...properties.slice(0, index),
        { ...first, doc: property.doc },
        ...(stays ? properties.slice(index + 1) : others),
      ],
    },
  };
  times.set(chunk, count);
  return chunk;
}

/** Between what two texts begin and end with alike: where that lies in the first, and by how much it is longer in the second. */
function difference(before: string, text: string): Edit {
  const moved = text.length - before.length;
  const shorter = Math.min(before.length, text.length);
  let start = 0;
  while (start < shorter && before.charCodeAt(start) === text.charCodeAt(start)) start++;
  let end = before.length;
  while (end > start && end + moved > start && before.charCodeAt(end - 1) === text.charCodeAt(end + moved - 1)) end--;
  return { start, end, moved };
}

/** As many blanks, with the line ends where they are. */
function blank(text: string): string {
  return text.replace(/[^\r\n]/g, ' ');
}
